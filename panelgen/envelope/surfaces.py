"""The barrier sheets of panels in the house: as solids, and by their edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from panelgen.envelope.bodies import frames_of
from panelgen.geometry.boxes import Ints
from panelgen.geometry.convex import Convex, hull_ring
from panelgen.geometry.frames import Floats, Point2
from panelgen.model import Barrier, Layer, Panel, Sheet

__all__ = ["Edges", "Surface", "barrier_layers", "sealed_face"]


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """e edges of sheets, on the face where the barrier is sealed: both ends (e, 3) in the house, mm.

    `inward` (e, 3) is the unit vector from the edge into its sheet, `facing` (e, 3) the one out of the sealed
    face. `panel` and `sheet` (e,) number the panel and the sheet; `local` (e, 2, 2) are the ends in panel (x, y).
    """

    panel: Ints
    sheet: Ints
    start: Floats
    end: Floats
    inward: Floats
    facing: Floats
    local: Floats

    def __len__(self) -> int:
        return len(self.panel)

    @property
    def length(self) -> Floats:
        """(e,) mm."""
        result: Floats = np.linalg.norm(self.end - self.start, axis=1)
        return result


@dataclass(frozen=True, slots=True, eq=False)
class Surface:
    """One barrier of some panels: its sheets as solids, the panel and thickness (mm) of each (s,), the edges of all."""

    sheets: Convex
    panel: Ints
    thickness: Floats
    edges: Edges

    @classmethod
    def of(cls, panels: Sequence[Panel], barrier: Barrier) -> Surface:
        """The sheets of the layers that are this barrier; sheets lie as their panel does."""
        placed = [
            (number, layer, sheet)
            for number, panel in enumerate(panels)
            for layer in barrier_layers(panel, barrier)
            for sheet in panel.sheets
            if sheet.layer == layer.name
        ]
        origins, axes = frames_of(panels)
        panel = np.array([number for number, _, _ in placed], dtype=np.int64)
        depths = np.array([(layer.z0, layer.z1) for _, layer, _ in placed]).reshape(-1, 2)
        hulls = [_hull(sheet) for _, _, sheet in placed]
        solids = Convex.prisms(hulls, depths, origins[panel], axes[panel])
        return cls(solids, panel, depths[:, 1] - depths[:, 0], _edges(placed, panel, barrier, origins, axes))


def barrier_layers(panel: Panel, barrier: Barrier) -> Iterator[Layer]:
    """The layers of a panel that are a barrier."""
    return (layer for layer in panel.layers if layer.barrier is barrier)


def sealed_face(layer: Layer, barrier: Barrier) -> tuple[float, float]:
    """Panel z of the face on which a barrier layer is sealed, and the sense in which it looks along z.

    The weather barrier is sealed from outside; the air barrier on its face away from the framing, which is the
    upper one of a floor deck.
    """
    outward = barrier is Barrier.WEATHER or layer.z0 > 0.0
    return (layer.z1, 1.0) if outward else (layer.z0, -1.0)


def _placed_ring(sheet: Sheet, ring: Sequence[Point2]) -> list[Point2]:
    x0, y0, _ = sheet.frame.origin
    return [(x0 + x, y0 + y) for x, y in ring]


def _hull(sheet: Sheet) -> Sequence[Point2]:
    ring = _placed_ring(sheet, sheet.outline)
    if len(ring) == 4 and len({x for x, _ in ring}) == len({y for _, y in ring}) == 2:
        return ring
    return hull_ring(ring)


def _edges(
    placed: Sequence[tuple[int, Layer, Sheet]], panel: Ints, barrier: Barrier, origins: Floats, axes: Floats
) -> Edges:
    faces = np.array([sealed_face(layer, barrier) for _, layer, _ in placed]).reshape(-1, 2)
    corners_at = np.array([sheet.frame.origin[:2] for _, _, sheet in placed]).reshape(-1, 2)
    rings = [(number, ring) for number, (_, _, one) in enumerate(placed) for ring in (one.outline, *one.cutouts)]
    counts = np.array([len(ring) for _, ring in rings], dtype=np.int64)
    sheet_number = np.array([number for number, _ in rings], dtype=np.int64).repeat(counts)
    corners = np.array(list(chain.from_iterable(ring for _, ring in rings))).reshape(-1, 2) + corners_at[sheet_number]
    following = np.arange(1, len(corners) + 1)
    following[counts.cumsum() - 1] -= counts
    local = np.stack((corners, corners[following]), axis=1)
    owner = panel[sheet_number]
    z, sense = faces[sheet_number].T
    along = local[:, 1] - local[:, 0]
    along /= np.linalg.norm(along, axis=1)[:, None]
    flat = np.zeros(len(local))
    inward = np.stack((-along[:, 1], along[:, 0], flat), axis=1)  # rings keep their sheet on the left
    facing = np.stack((flat, flat, sense), axis=1)

    def in_house(vectors: Floats) -> Floats:
        result: Floats = np.einsum("ei,eij->ej", vectors, axes[owner])
        return result

    start, end = (in_house(np.concatenate((local[:, side], z[:, None]), axis=1)) + origins[owner] for side in (0, 1))
    return Edges(owner, sheet_number, start, end, in_house(inward), in_house(facing), local)
