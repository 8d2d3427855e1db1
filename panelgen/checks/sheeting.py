"""Sheets as arrays of boxes, and their faces as areas."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats, Frame
from panelgen.geometry.vectors import triads
from panelgen.model import Layer, Panel, Sheet

__all__ = ["Sheeting", "face_area", "face_in", "layer_of"]


@dataclass(frozen=True, slots=True, eq=False)
class Sheeting:
    """n sheets of some panels: `panel` (n,) is the index of the panel, `boxes` are around each in its coordinates.

    `origins` (n, 3) and `axes` (n, 3, 3) place their frames. `corners` (m, 2) are the corners of all
    outlines in sheet coordinates, one sheet after the other, and `owner` (m,) the sheet of each.
    """

    sheets: tuple[Sheet, ...]
    panel: Ints
    boxes: Boxes
    origins: Floats
    axes: Floats
    corners: Floats
    owner: Ints

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> Sheeting:
        """The sheets of panels, in order."""
        sheets = tuple(sheet for panel in panels for sheet in panel.sheets)
        frames = np.array([(*s.frame.origin, *s.frame.x, *s.frame.y) for s in sheets], dtype=float).reshape(-1, 9)
        origins = frames[:, :3]
        axes = triads(frames[:, 3:6], frames[:, 6:9])
        counts = np.array([len(sheet.outline) for sheet in sheets], dtype=np.int64)
        owner = np.repeat(np.arange(len(sheets)), counts)
        corners = np.array([point for sheet in sheets for point in sheet.outline], dtype=float).reshape(-1, 2)
        first = np.cumsum(counts) - counts
        flat = np.minimum.reduceat(corners, first) if len(sheets) else corners
        wide = np.maximum.reduceat(corners, first) if len(sheets) else corners
        thickness = np.array([sheet.thickness for sheet in sheets])
        low = np.column_stack((flat, np.zeros(len(sheets))))[..., None] * axes
        high = np.column_stack((wide, thickness))[..., None] * axes
        return cls(
            sheets,
            np.repeat(np.arange(len(panels)), [len(one.sheets) for one in panels]),
            Boxes(origins + np.minimum(low, high).sum(axis=1), origins + np.maximum(low, high).sum(axis=1)),
            origins,
            axes,
            corners,
            owner,
        )

    def outline_points(self) -> tuple[Floats, Ints]:
        """The corners of both faces of every sheet, (2 m, 3) in panel coordinates, and the sheet of each (2 m,)."""
        near = np.einsum("mi,mij->mj", self.corners, self.axes[self.owner, :2]) + self.origins[self.owner]
        through = np.array([sheet.thickness for sheet in self.sheets])[self.owner, None] * self.axes[self.owner, 2]
        order = np.argsort(np.tile(self.owner, 2), kind="stable")
        return np.concatenate((near, near + through))[order], np.tile(self.owner, 2)[order]


def face_area(sheet: Sheet) -> Any:
    """The face of a sheet less its cut-outs, but with its round holes still filled: a shapely area, mm."""
    return shapely.Polygon(sheet.outline, sheet.cutouts)


def face_in(sheet: Sheet, frame: Frame) -> Any:
    """The face of a sheet as `face_area`, in the coordinates of another frame whose plane is parallel to the sheet."""

    def moved(points: Floats) -> Floats:
        flat = np.column_stack((points, np.zeros(len(points))))
        return frame.to_local(sheet.frame.to_parent(flat))[:, :2]

    return shapely.transform(face_area(sheet), moved)


def layer_of(panel: Panel, name: str) -> Layer | None:
    """The layer of that name; None where the panel has none."""
    return next((layer for layer in panel.layers if layer.name == name), None)
