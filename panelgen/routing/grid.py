"""The lines that a route may lead along, and which steps between their crossings are barred.

A shortest rectilinear way around boxes touches them or is in line with its ends: pushed aside, any leg of
it comes to such a place without growing longer. So it is enough to look along lines in the sides of the
boxes and through the ends, and, where turns take room, that much beyond what a leg goes through.

Lines lie on whole tenths of a millimetre outside the boxes they follow, and distances are whole numbers
of `UNIT`, so that lengths add up exactly.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, Vec3
from panelgen.geometry.rods import Bools
from panelgen.routing.barred import Barred, OpenBoxes

__all__ = ["UNIT", "Grid", "lines_through"]

UNIT = 1e-4
"""mm."""

_DEPTH = 2
_RASTER = 10.0
"""Lines for each mm."""


def lines_through(
    barred: Barred, points: Sequence[Vec3], reach: float, low: Vec3, high: Vec3
) -> tuple[Floats, Floats, Floats]:
    """Where lines cross x, y and z, ascending, within a box, mm: for turns that take `reach` of their legs.

    Turns into the depth of the wall have little room anyway, so no lines are drawn for them.
    """
    x, y, z = (_lines(axis, barred, points, reach, low[axis], high[axis]) for axis in range(3))
    return x, y, z


def _lines(axis: int, barred: Barred, points: Sequence[Vec3], reach: float, low: float, high: float) -> Floats:
    sides = [(barred.legs[other], 0.0) for other in range(2) if other != axis]
    reaches = [0.0]
    if axis != _DEPTH:
        sides.append((barred.turns, 0.0))
        if reach > 0.0:
            arms = barred.arms[axis]
            sides.append((arms.take(~arms.bars[:, axis]), reach))
            reaches += [reach, -reach, 2 * reach, -2 * reach]
    below = np.concatenate([boxes.low[boxes.guides[:, axis], axis] - off for boxes, off in sides])
    above = np.concatenate([boxes.high[boxes.guides[:, axis], axis] + off for boxes, off in sides])
    raster = np.concatenate((np.floor(below * _RASTER + UNIT), np.ceil(above * _RASTER - UNIT))) / _RASTER
    lines = np.unique(np.concatenate((raster, [point[axis] + off for point in points for off in reaches])))
    lines = lines[(lines >= low) & (lines <= high)]
    result: Floats = lines[np.diff(lines, prepend=-np.inf) > UNIT]
    return result


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """The crossings of lines, (nx, ny, nz), numbered in that order.

    `lines` are whole numbers of `UNIT`. `barred` are three (nx, ny, nz) int arrays: the step along x, y and
    z from each crossing to the next is barred by the box with this cause less one; 0 is free. `count`
    are the same shape: how many steps before a crossing are barred along its line. `turns` is True where
    a route may turn; `arms` (6, nx, ny, nz) where there is room for an arm of a turn: ahead and back
    along x, ahead and back along y, and so on.
    """

    lines: tuple[Ints, Ints, Ints]
    barred: tuple[Ints, Ints, Ints]
    count: tuple[Ints, Ints, Ints]
    turns: Bools
    arms: Bools

    @classmethod
    def of(cls, lines: Sequence[Floats], barred: Barred, reach: float) -> Grid:
        """The grid on these lines, mm, where a turn takes `reach` of each leg."""
        x, y, z = (_barred_steps(lines, barred.legs[axis], axis) for axis in range(3))
        shape = x.shape
        turns = np.ones(shape, dtype=bool)
        for _, place in _covered(lines, barred.turns, None):
            turns[place] = False
        arms = np.ones((6, *shape), dtype=bool)
        if reach > 0.0:
            for axis in range(3):
                count = _count(_barred_steps(lines, barred.arms[axis], axis), axis)
                arms[2 * axis], arms[2 * axis + 1] = _room(lines[axis], count, axis, reach)
        whole = [np.round(line / UNIT).astype(np.int64) for line in lines]
        return cls((whole[0], whole[1], whole[2]), (x, y, z), (_count(x, 0), _count(y, 1), _count(z, 2)), turns, arms)

    @property
    def shape(self) -> tuple[int, int, int]:
        """How many lines cross x, y and z."""
        return (len(self.lines[0]), len(self.lines[1]), len(self.lines[2]))

    def point(self, crossing: int) -> Vec3:
        """Where a crossing is, mm."""
        i, j, k = np.unravel_index(crossing, self.shape)
        x, y, z = (line[at] for line, at in zip(self.lines, (i, j, k), strict=True))
        return (float(x * UNIT), float(y * UNIT), float(z * UNIT))

    def crossing(self, point: Vec3) -> int:
        """The number of the crossing at a point that lines go through, mm."""
        places = [
            int(np.searchsorted(line, round(value / UNIT))) for line, value in zip(self.lines, point, strict=True)
        ]
        return int(np.ravel_multi_index(places, self.shape))


_Place = tuple[slice, slice, slice]


def _barred_steps(lines: Sequence[Floats], boxes: OpenBoxes, axis: int) -> Ints:
    """(nx, ny, nz) the cause, from 1, that bars the step along `axis` from each crossing; 0 where it is free."""
    barred = np.zeros([len(line) for line in lines], dtype=np.int64)
    for cause, place in _covered(lines, boxes, axis):
        barred[place] = cause + 1
    return barred


def _covered(lines: Sequence[Floats], boxes: OpenBoxes, axis: int | None) -> Iterator[tuple[int, _Place]]:
    """The crossings inside each box, with its cause; along `axis`, those from which a step meets it."""
    first, last = [], []
    for k, line in enumerate(lines):
        low, high = boxes.low[:, k] + UNIT, boxes.high[:, k] - UNIT
        start, stop = np.searchsorted(line, low, "right"), np.searchsorted(line, high, "left")
        if k == axis:
            start, stop = np.maximum(start - 1, 0), np.minimum(stop, len(line) - 1)
        first.append(start)
        last.append(stop)
    rows = np.flatnonzero(np.logical_and.reduce([a < b for a, b in zip(first, last, strict=True)]))
    sides = [side[rows].tolist() for pair in zip(first, last, strict=True) for side in pair]
    for cause, a, b, c, d, e, f in zip(boxes.cause[rows].tolist(), *sides, strict=True):
        yield cause, (slice(a, b), slice(c, d), slice(e, f))


def _count(barred: Ints, axis: int) -> Ints:
    """How many steps before each crossing are barred along `axis`."""
    count = np.zeros_like(barred)
    ahead: list[slice] = [slice(None)] * 3
    behind = ahead.copy()
    ahead[axis], behind[axis] = slice(1, None), slice(None, -1)
    np.cumsum(barred[tuple(behind)] > 0, axis=axis, out=count[tuple(ahead)])
    return count


def _room(line: Floats, count: Ints, axis: int, reach: float) -> tuple[Bools, Bools]:
    """Where the way is free for `reach` ahead along `axis`, and back."""
    ahead = np.searchsorted(line, line + reach - UNIT, "left")
    back = np.searchsorted(line, line - reach + UNIT, "right") - 1
    inside = np.minimum(ahead, len(line) - 1), np.maximum(back, 0)
    shape = [1, 1, 1]
    shape[axis] = -1
    known = (ahead < len(line)).reshape(shape), (back >= 0).reshape(shape)
    free_ahead: Bools = (np.take(count, inside[0], axis=axis) == count) & known[0]
    free_back: Bools = (np.take(count, inside[1], axis=axis) == count) & known[1]
    return free_ahead, free_back
