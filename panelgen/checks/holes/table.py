"""Bores as holes in the wide face: how much of the width each takes, and what wood it leaves around it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.timber import Timber
from panelgen.geometry.boxes import Boxes, Ints, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.geometry.vectors import lengths

__all__ = ["HoleTable"]


@dataclass(frozen=True, slots=True, eq=False)
class HoleTable:
    """k holes, (k,) each, mm; a hole at a slant is an ellipse on either face, and both faces count.

    `member` is the index of the stick, `across` whether the hole goes through its wide face rather than
    an edge or the end. `size` is what it takes of the width. `edge` and `end` are the least wood left to
    a long edge and to an end, negative where the hole breaks out. `x0`, `x1`, `y0`, `y1` bound it;
    `centers` (2, k, 2) are its centres on the near and the far face, `half` its longer half width there.
    """

    member: Ints
    across: Bools
    size: Floats
    edge: Floats
    end: Floats
    x0: Floats
    x1: Floats
    y0: Floats
    y1: Floats
    centers: Floats
    half: Floats

    @classmethod
    def of(cls, timber: Timber) -> HoleTable:
        """The bores of the timber, in its order."""
        bores = timber.bores
        point, axis, radius = bores.local[:, :3], bores.local[:, 3:], bores.radius
        _, width, thickness = timber.sizes[bores.member].T
        across = np.abs(axis[:, 2]) >= np.abs(axis).max(axis=1) - 1e-9
        down = np.where(across, axis[:, 2], 1.0)
        lean_x, lean_y = (np.where(across, axis[:, k] / down, 0.0) for k in (0, 1))
        xs, ys = (
            np.stack((point[:, k] - lean * point[:, 2], point[:, k] + lean * (thickness - point[:, 2])))
            for k, lean in ((0, lean_x), (1, lean_y))
        )
        half_x, half_y = radius * np.hypot(1.0, lean_x), radius * np.hypot(1.0, lean_y)
        zs = np.stack((np.zeros_like(thickness), thickness))
        ends = []
        for sign, plane in zip((1.0, -1.0), _end_planes(timber, bores.member), strict=True):
            constant, slope_y, slope_z = plane.T
            ahead = sign * (xs - constant - slope_y * ys - slope_z * zs)
            half = radius * np.sqrt(1.0 + slope_y**2 + (lean_x - slope_y * lean_y) ** 2)
            ends.append((ahead.min(axis=0) - half) / np.hypot(1.0, slope_y))
        y0, y1 = ys.min(axis=0) - half_y, ys.max(axis=0) + half_y
        return cls(
            bores.member,
            across,
            2 * half_y,
            np.minimum(y0, width - y1),
            np.minimum(*ends),
            xs.min(axis=0) - half_x,
            xs.max(axis=0) + half_x,
            y0,
            y1,
            np.stack((xs, ys), axis=2),
            np.maximum(half_x, half_y),
        )

    def that_meet(self) -> tuple[Ints, Ints]:
        """Pairs i < j of holes of one stick that share a point on a face.

        Exact where both are square to it, else on the safe side.
        """
        flat = np.zeros_like(self.x0)
        boxes = Boxes(np.stack((self.x0, self.y0, flat), axis=1), np.stack((self.x1, self.y1, flat + 1.0), axis=1))
        rows = np.flatnonzero(self.across)
        i, j = overlapping(boxes.take(rows), boxes.take(rows), self.member[rows], self.member[rows])
        i, j = rows[i[i < j]], rows[j[i < j]]
        apart = lengths(self.centers[:, i] - self.centers[:, j]).min(axis=0)
        meet = apart < self.half[i] + self.half[j]
        return i[meet], j[meet]


def _end_planes(timber: Timber, member: Ints) -> tuple[Floats, Floats]:
    """Start and end plane ``x = c + a y + b z`` of each member in the list, as rows (c, a, b)."""
    start, end = np.zeros((len(member), 3)), np.zeros((len(member), 3))
    end[:, 0] = timber.sizes[member, 0]
    for k, index in enumerate(member.tolist()):
        one = timber.members[index]
        if not one.has_square_ends:
            start[k] = one.end_x(one.start, False, 0.0, 0.0), one.start.across_width, one.start.across_thickness
            end[k] = one.end_x(one.end, True, 0.0, 0.0), one.end.across_width, one.end.across_thickness
    return start, end
