"""Sticks and sheets of one panel against those of every other: no two parts of the assembled house share space."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, Ints, overlapping, spread
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import are_parted, box_corners, overlap_depths
from panelgen.geometry.rods import Bools
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.geometry.trapezoids import trapezoids
from panelgen.model import Finding, Member, Panel, Sheet

__all__ = ["panel_panel"]


def panel_panel(scene: Scene) -> list[Finding]:
    """One finding for each two panels of which parts take the same space, at the deepest place; loose parts apart.

    Where sticks meet, sheets that do so too are of the same cause.
    """
    blocks = _Blocks.of(scene)
    i, j = blocks.near_pairs()
    near = ~are_parted(blocks.corners[i], blocks.corners[j], TOLERANCE)
    i, j = i[near], j[near]
    depth = _depths(*blocks.pieces(scene, np.union1d(i, j)), i, j)
    deep = depth > TOLERANCE
    i, j, depth = i[deep], j[deep], depth[deep]
    sheeted = blocks.is_sheet[i] | blocks.is_sheet[j]
    rows = worst_of_each(np.where(sheeted, -1.0 / depth, depth), blocks.panel[i], blocks.panel[j])
    return [_found(scene, blocks, i[k], j[k], depth[k]) for k in rows.tolist()]


@dataclass(frozen=True, slots=True, eq=False)
class _Blocks:
    """What stands in the house, b convex blocks: the wood of sticks, and then sheets as the boxes around them.

    `panel` (b,), `part` (b,) the number of the member or the sheet. `corners` (b, 8, 3) and `boxes` are house
    coordinates, `own` boxes those of the panel; `origins` (p, 3) and `axes` (p, 3, 3) place the panels.
    """

    panel: Ints
    part: Ints
    is_sheet: Bools
    corners: Floats
    boxes: Boxes
    own: Boxes
    origins: Floats
    axes: Floats

    @classmethod
    def of(cls, scene: Scene) -> _Blocks:
        """The blocks of all parts that are not loose."""
        timber, sheeting = scene.timber, scene.sheeting
        fixed = np.array([not member.loose for member in timber.members], dtype=bool)[timber.owner]
        sheets = np.flatnonzero(np.array([not sheet.loose for sheet in sheeting.sheets], dtype=bool))
        flat = box_corners(sheeting.boxes.low[sheets], sheeting.boxes.high[sheets])
        local = np.concatenate((timber.corners[fixed], flat))
        panel = np.concatenate((timber.block_panel[fixed], sheeting.panel[sheets]))
        origins, axes = scene.frames()
        corners = local @ axes[panel] + origins[panel, None]
        return cls(
            panel,
            np.concatenate((timber.owner[fixed], sheets)),
            np.arange(len(panel)) >= np.count_nonzero(fixed),
            corners,
            Boxes.around(corners).grown(-TOLERANCE / 2),
            Boxes.around(local).grown(-TOLERANCE / 2),
            origins,
            axes,
        )

    def near_pairs(self) -> tuple[Ints, Ints]:
        """Blocks of two panels, that of the earlier one first, whose boxes overlap along the axes of either."""
        guest, host = overlapping(self.boxes, self.boxes.around_groups(self.panel, len(self.origins)))
        near = np.unique(guest[self.panel[guest] != host])
        i, j = overlapping(self.boxes.take(near), self.boxes.take(near))
        i, j = near[i], near[j]
        ordered = self.panel[i] < self.panel[j]
        i, j = i[ordered], j[ordered]
        rows = self._meet(i, j)
        i, j = i[rows], j[rows]
        rows = self._meet(j, i)
        return i[rows], j[rows]

    def _meet(self, guest: Ints, host: Ints) -> Ints:
        """The rows in which boxes around the guests, along the axes of the hosts' panels, overlap the hosts'."""
        panel = self.panel[host]
        local = (self.corners[guest] - self.origins[panel, None]) @ np.swapaxes(self.axes[panel], 1, 2)
        boxes, own = Boxes.around(local).grown(-TOLERANCE / 2), self.own.take(host)
        rows: Ints = np.flatnonzero(((boxes.low < own.high) & (own.low < boxes.high)).all(axis=1))
        return rows

    def pieces(self, scene: Scene, used: Ints) -> tuple[Floats, Ints, Ints]:
        """House corners (m, 8, 3) of convex pieces of blocks, and the first piece (b,) and the count (b,) of each.

        A block is one piece, unless it is one of the `used` sheets and no rectangle; round holes are left filled.
        """
        first, count = np.arange(len(self.panel)), np.ones(len(self.panel), dtype=np.int64)
        corners, total = [self.corners], len(self.panel)
        for block in used[self.is_sheet[used]].tolist():
            sheet = scene.sheeting.sheets[self.part[block]]
            if not _is_rectangle(sheet):
                pieces = _prisms(sheet, scene.panels[self.panel[block]])
                first[block], count[block] = total, len(pieces)
                corners.append(pieces)
                total += len(pieces)
        return np.concatenate(corners), first, count


def _is_rectangle(sheet: Sheet) -> bool:
    xs, ys = ({point[axis] for point in sheet.outline} for axis in (0, 1))
    return len(sheet.outline) == 4 and not sheet.cutouts and len(xs) == len(ys) == 2


def _prisms(sheet: Sheet, panel: Panel) -> Floats:
    """(n, 8, 3) house corners of prisms that a sheet consists of."""
    face = trapezoids(sheet.outline, sheet.cutouts).reshape(-1, 1, 4, 2)
    corners = np.empty((len(face), 2, 4, 3))
    corners[..., :2] = face
    corners[..., 2] = np.array((0.0, sheet.thickness))[:, None]
    return panel.frame.to_parent(sheet.frame.to_parent(corners.reshape(-1, 3))).reshape(-1, 8, 3)


def _depths(corners: Floats, first: Ints, count: Ints, i: Ints, j: Ints) -> Floats:
    """(n,) how deep blocks i and j are in one another, mm, or 0; `_Blocks.pieces` tells of what they consist."""
    pair, place = spread(np.zeros_like(i), count[i] * count[j])
    a, b = first[i][pair] + place // count[j][pair], first[j][pair] + place % count[j][pair]
    meet = ~are_parted(corners[a], corners[b], TOLERANCE)
    depth = np.zeros(len(i))
    np.maximum.at(depth, pair[meet], overlap_depths(corners[a[meet]], corners[b[meet]]))
    return depth


def _found(scene: Scene, blocks: _Blocks, i: int, j: int, depth: float) -> Finding:
    home, other = scene.panels[blocks.panel[i]], scene.panels[blocks.panel[j]]
    first, second = (_part(scene, blocks, row) for row in (i, j))
    boxes = blocks.boxes
    middle = (np.maximum(boxes.low[i], boxes.low[j]) + np.minimum(boxes.high[i], boxes.high[j])) / 2
    return found(
        "sheet.panel" if blocks.is_sheet[i] or blocks.is_sheet[j] else "panel.panel",
        home,
        parts=(first.id, second.id),
        point=home.frame.to_local(middle),
        value=depth,
        limit=0.0,
        source="no two parts share space",
        neighbour=other.label,
        member=_called(first),
        other=_called(second),
    )


def _part(scene: Scene, blocks: _Blocks, row: int) -> Member | Sheet:
    number = int(blocks.part[row])
    return scene.sheeting.sheets[number] if blocks.is_sheet[row] else scene.timber.members[number]


def _called(part: Member | Sheet) -> str:
    return named(part) if isinstance(part, Member) else f"{part.layer} sheet {part.mark or part.id}"
