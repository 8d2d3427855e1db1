"""Rough openings as boxes through the whole panel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners
from panelgen.model import Opening, Panel

__all__ = ["Openings"]


@dataclass(frozen=True, slots=True, eq=False)
class Openings:
    """n openings of some panels: `panel` (n,) is the index of the panel; `boxes` and `corners` (n, 8, 3) are mm."""

    openings: tuple[Opening, ...]
    panel: Ints
    boxes: Boxes
    corners: Floats

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> Openings:
        """The rough openings of panels, in order."""
        owner = [index for index, panel in enumerate(panels) for _ in panel.openings]
        rows = [
            (one.x0, one.y0, panel.depth[0], one.x1, one.y1, panel.depth[1])
            for panel in panels
            for one in panel.openings
        ]
        table = np.array(rows, dtype=float).reshape(-1, 6)
        boxes = Boxes(table[:, :3], table[:, 3:])
        openings = tuple(one for panel in panels for one in panel.openings)
        return cls(openings, np.array(owner, dtype=np.int64), boxes, box_corners(boxes.low, boxes.high))

    def closed_to_runs(self) -> Openings:
        """Those that no run may lead through: all but shafts."""
        rows = np.flatnonzero([not one.is_shaft for one in self.openings])
        kept = tuple(self.openings[row] for row in rows.tolist())
        return Openings(kept, self.panel[rows], self.boxes.take(rows), self.corners[rows])
