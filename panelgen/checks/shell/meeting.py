"""Every two faces of different panels that are near and face one another, of sticks and sheets as built."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.checks.shell.standing import Standing
from panelgen.geometry.boxes import Ints, spread
from panelgen.geometry.facing import Facing, facing
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.rods import Bools

__all__ = ["REACH", "SUNK", "Meeting", "meetings"]

REACH = 50.8
"""Faces farther apart than this (mm, 2 in., more than a plate is thick) are of no joint; common practice, no source."""

SUNK = 20.0
"""A part may stand this deep (mm) in what it bears on; that they share space is another matter."""

_GROUND = 100.0
"""The ground is drawn this thick, mm."""

_EDGE = 0.7
"""Faces of sheets whose normals are within 45 degrees of that of the panel are no edges; so near to level is level."""

_LEVEL = 1e-6
"""Corners this near to those of the box around a block (mm) are the same."""


@dataclass(frozen=True, slots=True, eq=False)
class Meeting:
    """k pairs of faces: the panels of each (k,), the first one's number less, and whether both are of sticks (k,).

    `carries` (k,) is whether one may bear on the other. Grounds are numbered after the panels.
    """

    faces: Facing
    one: Ints
    other: Ints
    framing: Bools
    carries: Bools

    def take(self, rows: Ints) -> Meeting:
        """The pairs of these rows."""
        return Meeting(self.faces.take(rows), self.one[rows], self.other[rows], self.framing[rows], self.carries[rows])


def meetings(standing: Standing, grounds: Sequence[tuple[int, float]]) -> Meeting:
    """The faces of two panels that face one another within `REACH`, at least one of them that of a stick.

    `grounds` are panels and the height, house z, mm, of the ground that each stands on.
    """
    panels = len(standing.scene.panels)
    i, j = standing.near_pairs(np.flatnonzero(standing.owner < panels), REACH / 2)
    sticks = standing.is_stick
    some = (sticks[i] | sticks[j]) & _may_face(standing, i, j)
    i, j = i[some], j[some]
    corners, first, count = standing.pieces(np.union1d(i, j))
    pair, place = spread(np.zeros_like(i), count[i] * count[j])
    a, b = first[i][pair] + place // count[j][pair], first[j][pair] + place % count[j][pair]
    low, block, ground = _on_grounds(standing, grounds)
    every = np.concatenate((corners, low))
    found = facing(every, np.concatenate((a, block)), np.concatenate((b, len(corners) + ground)), SUNK, REACH)
    one = np.concatenate((standing.owner[i][pair], standing.owner[block]))
    other = np.concatenate((standing.owner[j][pair], panels + ground))
    framing = np.concatenate(((sticks[i] & sticks[j])[pair], np.ones(len(block), dtype=bool)))
    carries = np.concatenate(((standing.carries[i] & standing.carries[j])[pair], standing.carries[block]))[found.row]
    near, far = (np.concatenate((blocks[pair], block))[found.row] for blocks in (i, j))
    for part in (near, far):
        carries &= ~_on_edge(standing, part, found.normal) & ~_on_strap(standing, part, found.normal)
    return Meeting(found, one[found.row], other[found.row], framing[found.row], carries)


def _on_edge(standing: Standing, block: Ints, normal: Floats) -> Bools:
    """(k,) whether a face with that normal is the edge of a sheet, on which nothing bears."""
    upright = np.abs(np.einsum("kc,kc->k", normal, standing.axes[standing.owner[block], 2]))
    edge: Bools = np.less(upright, _EDGE) & ~standing.is_stick[block]
    return edge


def _on_strap(standing: Standing, block: Ints, normal: Floats) -> Bools:
    """(k,) whether a face with that normal is the upper or lower one of a strap, which carries no roof or floor."""
    level: Bools = standing.strap[block] & (np.abs(normal[:, 2]) > _EDGE)
    return level


def _may_face(standing: Standing, i: Ints, j: Ints) -> Bools:
    """Whether faces of blocks i and j (n,) may face one another: those of two level boxes do along one axis only."""
    boxes, corners = standing.boxes, standing.corners
    off = np.minimum(np.abs(corners - boxes.low[:, None]), np.abs(boxes.high[:, None] - corners))
    level = off.max(axis=(1, 2), initial=0.0) < _LEVEL
    beside = (boxes.low[i] < boxes.high[j]) & (boxes.low[j] < boxes.high[i])
    may: Bools = (np.count_nonzero(beside, axis=1) >= 2) | ~level[i] | ~level[j]
    return may


def _on_grounds(standing: Standing, grounds: Sequence[tuple[int, float]]) -> tuple[Floats, Ints, Ints]:
    """The grounds as blocks (g, 8, 3), and which sticks (n,) are near to which of them (n,)."""
    panel = np.array([panel for panel, _ in grounds], dtype=np.int64)
    level = np.array([level for _, level in grounds])
    around = standing.boxes.around_groups(standing.owner, len(standing.origins)).take(panel)
    low, high = around.low.copy(), around.high.copy()
    low[:, 2], high[:, 2] = level - _GROUND, level
    near = standing.is_stick & (standing.boxes.low[:, 2] < np.max(level, initial=-np.inf) + REACH)
    block, ground = np.nonzero(near[:, None] & (standing.owner[:, None] == panel))
    reached = standing.boxes.low[block, 2] < level[ground] + REACH
    return box_corners(low, high), block[reached], ground[reached]
