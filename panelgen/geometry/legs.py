"""Straight lengths of runs as arrays, round or rectangular, against convex blocks and against one another.

A round leg is a rod. A rectangular one is a hexahedron, mitred where the run bends, and keeps a rod too:
its axis, with the circle around its section.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import overlap_depths, point_distances
from panelgen.geometry.rod_distances import axis_distances, ways_out
from panelgen.geometry.rods import Bools, Rods, nearest_points, rods_meet

__all__ = ["Legs", "leg_depths", "legs_meet"]


@dataclass(frozen=True, slots=True, eq=False)
class Legs:
    """n legs: `rods`, and for those that are `square` (n,) their `corners` (n, 8, 3); mm."""

    rods: Rods
    square: Bools
    corners: Floats

    def __len__(self) -> int:
        return len(self.rods)

    def take(self, rows: Ints | Bools) -> Legs:
        """The legs of these rows, in that order."""
        return Legs(self.rods.take(rows), self.square[rows], self.corners[rows])

    def moved(self, rotation: Floats, shift: Floats) -> Legs:
        """Each leg in other coordinates, as `Rods.moved`."""
        corners = np.einsum("nvi,nij->nvj", self.corners, rotation) + shift[:, None]
        return Legs(self.rods.moved(rotation, shift), self.square, corners)

    def boxes(self, shaved: float) -> Boxes:
        """The box around each leg once `shaved` mm are taken off it."""
        around = self.rods.shaved(shaved).boxes()
        if not self.square.any():
            return around
        square = Boxes.around(self.corners).grown(-shaved)
        pick = self.square[:, None]
        return Boxes(np.where(pick, square.low, around.low), np.where(pick, square.high, around.high))

    def meet_blocks(self, blocks: Floats, shaved: float) -> Bools:
        """(n,) whether leg k, once `shaved` mm are taken off it, meets hexahedron k of `blocks` (n, 8, 3).

        The balls at round ends are not looked at.
        """
        result = np.zeros(len(self), dtype=bool)
        if not len(self):
            return result
        pipe, duct = np.flatnonzero(~self.square), np.flatnonzero(self.square)
        rods = self.rods.take(pipe).shaved(shaved)
        result[pipe] = axis_distances(rods, blocks[pipe]) <= rods.radius
        result[duct] = overlap_depths(self.corners[duct], blocks[duct]) > shaved
        return result

    def ways_out(self, blocks: Floats) -> Floats:
        """(n,) how far leg k must move to leave hexahedron k, for pairs that meet, mm."""
        result = np.empty(len(self))
        if not len(self):
            return result
        pipe, duct = np.flatnonzero(~self.square), np.flatnonzero(self.square)
        result[pipe] = ways_out(self.rods.take(pipe), blocks[pipe])
        result[duct] = overlap_depths(self.corners[duct], blocks[duct])
        return result


def legs_meet(a: Legs, b: Legs, shaved: float) -> Bools:
    """(n,) whether leg k of `a` and leg k of `b` share more than a touch: half of `shaved` is taken off each, mm."""
    result = np.zeros(len(a), dtype=bool)
    if not len(a):
        return result
    round_both = np.flatnonzero(~a.square & ~b.square)
    result[round_both] = rods_meet(
        a.rods.take(round_both).shaved(shaved / 2), b.rods.take(round_both).shaved(shaved / 2)
    )
    square_both = np.flatnonzero(a.square & b.square)
    result[square_both] = overlap_depths(a.corners[square_both], b.corners[square_both]) > shaved
    for pipes, ducts in ((a, b), (b, a)):
        mixed = np.flatnonzero(~pipes.square & ducts.square)
        result[mixed] = _rod_meets_block(pipes.rods.take(mixed).shaved(shaved), ducts.corners[mixed])
    return result


def _rod_meets_block(rods: Rods, blocks: Floats) -> Bools:
    """(n,) whether rods, with the balls at their round ends, meet hexahedra."""
    meet: Bools = axis_distances(rods, blocks) <= rods.radius
    for center, bend in ((rods.start, rods.bend_start), (rods.end, rods.bend_end)):
        rows = np.flatnonzero(bend & ~meet)
        meet[rows] = point_distances(center[rows], blocks[rows]) <= rods.radius[rows]
    return meet


def leg_depths(a: Legs, b: Legs) -> tuple[Floats, Floats]:
    """How deep legs of `a` and `b` that meet overlap (n,), mm, and where (n, 3), near the middle of the overlap."""
    if not len(a):
        return np.empty(0), np.empty((0, 3))
    s, t, distance = nearest_points(a.rods, b.rods)
    point = (a.rods.start + s[:, None] * a.rods.direction + b.rods.start + t[:, None] * b.rods.direction) / 2
    depth = a.rods.radius + b.rods.radius - distance
    square_both = np.flatnonzero(a.square & b.square)
    depth[square_both] = overlap_depths(a.corners[square_both], b.corners[square_both])
    for pipes, ducts in ((a, b), (b, a)):
        mixed = np.flatnonzero(~pipes.square & ducts.square)
        depth[mixed] = ways_out(pipes.rods.take(mixed), ducts.corners[mixed])
    return depth, point
