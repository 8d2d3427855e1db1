"""Axis-aligned boxes as arrays, and the broad phase: which boxes of two lots overlap."""

from __future__ import annotations

from dataclasses import dataclass
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from panelgen.geometry.frames import Floats

__all__ = ["Boxes", "Ints", "overlapping", "spread"]

Ints = NDArray[np.int64]

_FLAT = 1e-12
_FEW = 30_000
"""Pairs that are sooner looked at one by one than swept."""


@dataclass(frozen=True, slots=True, eq=False)
class Boxes:
    """`low` and `high` corners, (n, 3) float each, mm."""

    low: Floats
    high: Floats

    @classmethod
    def around(cls, points: Floats) -> Boxes:
        """The boxes around n clouds of k points, (n, k, 3)."""
        columns = [points[:, k] for k in range(points.shape[1])]
        return cls(reduce(np.minimum, columns), reduce(np.maximum, columns))

    def __len__(self) -> int:
        return len(self.low)

    def around_groups(self, group: Ints, groups: int) -> Boxes:
        """The boxes around the boxes of each group, by index (n,); inside out for a group of none."""
        low, high = np.full((groups, 3), np.inf), np.full((groups, 3), -np.inf)
        if len(group):
            order = np.argsort(group, kind="stable")
            group = group[order]
            first = np.flatnonzero(np.diff(group, prepend=-1))
            low[group[first]] = np.minimum.reduceat(self.low[order], first)
            high[group[first]] = np.maximum.reduceat(self.high[order], first)
        return Boxes(low, high)

    def take(self, rows: Ints) -> Boxes:
        """The boxes of these rows, in that order."""
        return Boxes(self.low[rows], self.high[rows])

    def grown(self, by: float) -> Boxes:
        """Each box with `by` mm added on every side; negative shrinks."""
        return Boxes(self.low - by, self.high + by)

    def shifted(self, by: Floats) -> Boxes:
        """Each box moved by its row of `by`, (n, 3)."""
        return Boxes(self.low + by, self.high + by)


def overlapping(a: Boxes, b: Boxes, a_group: Ints | None = None, b_group: Ints | None = None) -> tuple[Ints, Ints]:
    """Index pairs (i, j) of boxes of `a` and `b` that overlap, ordered by i, then j. Touching is not overlapping.

    With groups, (n,) int, only boxes of equal group are paired: the groups are set apart in space, so
    that many panels, each in its own coordinates, are swept at once. Every box of `a` is swept along
    the axis of which it takes up the least share, so long thin boxes of any direction cost little.
    """
    if not len(a) or not len(b):
        return _NONE, _NONE
    if len(a) * len(b) <= _FEW:
        return _paired(a, b, a_group, b_group)
    if a_group is None or b_group is None:
        a_group, b_group = np.zeros(len(a), dtype=np.int64), np.zeros(len(b), dtype=np.int64)
    near = _near_group(a, b, a_group, b_group)
    if not len(near):
        return _NONE, _NONE
    b, b_group = b.take(near), b_group[near]
    along = np.argmin((a.high - a.low) / np.maximum(b.high.max(axis=0) - b.low.min(axis=0), _FLAT), axis=1)
    found = [_swept(a, b, a_group, b_group, axis, np.flatnonzero(along == axis)) for axis in range(3)]
    i = np.concatenate([pair[0] for pair in found])
    j = near[np.concatenate([pair[1] for pair in found])]
    order = np.lexsort((j, i))
    return i[order], j[order]


def _paired(a: Boxes, b: Boxes, a_group: Ints | None, b_group: Ints | None) -> tuple[Ints, Ints]:
    """Every box of `a` against every one of `b`."""
    low, high = a.low[:, :, None], a.high[:, :, None]
    meet = (low[:, 0] < b.high[:, 0]) & (b.low[:, 0] < high[:, 0])
    for axis in (1, 2):
        meet &= low[:, axis] < b.high[:, axis]
        meet &= b.low[:, axis] < high[:, axis]
    if a_group is not None and b_group is not None:
        meet &= a_group[:, None] == b_group
    i, j = meet.nonzero()
    return i, j


def _near_group(a: Boxes, b: Boxes, a_group: Ints, b_group: Ints) -> Ints:
    """The boxes of `b` that overlap the box around all boxes of `a` of their own group."""
    around = a.around_groups(a_group, int(max(a_group.max(), b_group.max())) + 1)
    low, high = around.low[b_group], around.high[b_group]
    kept: Ints = np.flatnonzero(((b.low < high) & (b.high > low)).all(axis=1))
    return kept


def spread(starts: Ints, counts: Ints) -> tuple[Ints, Ints]:
    """Writes out n index ranges: which range each entry is of, and the index: ``starts[k] … + counts[k]``."""
    owner = np.repeat(np.arange(len(counts)), counts)
    first = np.cumsum(counts) - counts
    return owner, np.arange(len(owner)) + np.repeat(starts - first, counts)


_NONE: Ints = np.empty(0, dtype=np.int64)


def _swept(a: Boxes, b: Boxes, a_group: Ints, b_group: Ints, axis: int, rows: Ints) -> tuple[Ints, Ints]:
    """Pairs for these rows of `a`. Two intervals overlap where one starts in the other: two range look-ups.

    Groups are set apart along the axis, each box of `b` cut to where boxes of `a` are.
    """
    if not len(rows):
        return _NONE, _NONE
    low, high = a.low[:, axis].min(), a.high[:, axis].max()
    a_shift, b_shift = a_group[rows] * (high - low + 1.0), b_group * (high - low + 1.0)
    a_low, a_high = a.low[rows, axis] + a_shift, a.high[rows, axis] + a_shift
    b_low, b_high = np.maximum(b.low[:, axis], low) + b_shift, np.minimum(b.high[:, axis], high) + b_shift
    a_order, b_order = np.argsort(a_low, kind="stable"), np.argsort(b_low, kind="stable")
    a_sorted, b_sorted = a_low[a_order], b_low[b_order]
    first = np.searchsorted(b_sorted, a_low, "left")
    last = np.searchsorted(b_sorted, a_high, "left")
    i1, at = spread(first, np.maximum(last - first, 0))
    j1 = b_order[at]
    first = np.searchsorted(a_sorted, b_low, "right")
    last = np.searchsorted(a_sorted, b_high, "left")
    j2, at = spread(first, np.maximum(last - first, 0))
    i2 = a_order[at]
    i, j = rows[np.concatenate((i1, i2))], np.concatenate((j1, j2))
    for other in range(3):
        if other != axis:
            keep = (a.low[i, other] < b.high[j, other]) & (b.low[j, other] < a.high[i, other])
            i, j = i[keep], j[keep]
    return i, j
