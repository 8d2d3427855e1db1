"""The crossings of a grid where a way may turn or end, in the orders in which straight legs pass them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.rods import Bools
from panelgen.routing.grid import Grid
from panelgen.routing.manner import Manner

__all__ = ["Passing", "TurnPlaces"]


@dataclass(frozen=True, slots=True, eq=False)
class TurnPlaces:
    """n crossings, ascending, that are goals or where a way may turn; `turns` (6, n) when it comes in a direction.

    `is_goal` (n,) tells the goals, `arms` (6, n) where there is room for an arm; `taken` (nx, ny, nz) is True
    at these crossings.
    """

    taken: Bools
    crossing: Ints
    is_goal: Bools
    turns: Bools
    arms: Bools

    @classmethod
    def of(cls, grid: Grid, starts: Sequence[int], goals: Sequence[int], manner: Manner) -> TurnPlaces:
        """Those of a grid. A first leg too short for a whole arm is taken to be any that ends so near a start."""
        taken = grid.turns & grid.arms.any(axis=0)
        taken.ravel()[list(goals)] = True
        crossing = np.flatnonzero(taken)
        arms = grid.arms.reshape(6, -1)[:, crossing]
        behind = arms[[1, 0, 3, 2, 5, 4]]
        if manner.end_reach < manner.reach:
            near = np.stack([_near(grid, starts, axis, manner.reach) for axis in range(3)]).reshape(3, -1)
            behind |= near[:, crossing].repeat(2, axis=0)
        return cls(taken, crossing, np.isin(crossing, goals), behind & grid.turns.ravel()[crossing], arms)


def _near(grid: Grid, starts: Sequence[int], axis: int, reach: int) -> Bools:
    """(nx, ny, nz) True on the lines through starts along an axis, no farther than `reach` from them."""
    result = np.zeros(grid.shape, dtype=bool)
    line = grid.lines[axis]
    for start in starts:
        place: list[int | slice] = [int(k) for k in np.unravel_index(start, grid.shape)]
        at = line[place[axis]]
        low, high = np.searchsorted(line, (at - reach, at + reach + 1)).tolist()
        place[axis] = slice(low, high)
        result[tuple(place)] = True
    return result


@dataclass(frozen=True, slots=True, eq=False)
class Passing:
    """The places in the order in which legs of one direction pass them, one line of the grid after the other.

    `place` (n,) is the index of each, `own` (n,) the number in this order by index. `key` numbers the crossings
    of the grid in the order of the lines, ahead, `count` are the barred steps before a place, and `stretch`
    numbers the free stretches. `at` is how far along the direction it is.
    """

    grid: Grid
    direction: int
    place: Ints
    own: Ints
    key: Ints
    count: Ints
    stretch: Ints
    at: Ints
    upto: Ints

    @classmethod
    def both(cls, grid: Grid, places: TurnPlaces, axis: int) -> tuple[Passing, Passing]:
        """The places along the lines of an axis, ahead and back."""
        size, stride = grid.shape[axis], math.prod(grid.shape[axis + 1 :])
        taken = np.moveaxis(places.taken, axis, 2).ravel()
        upto = np.zeros(len(taken) + 1, dtype=np.int64)
        np.cumsum(taken, out=upto[1:])
        key = np.flatnonzero(taken)
        row, number = np.divmod(key, size)
        crossing = (row // stride * size + number) * stride + row % stride
        place = (np.cumsum(places.taken.ravel()) - 1)[crossing]
        own = np.empty_like(place)
        own[place] = np.arange(len(place))
        count, at = grid.count[axis].ravel()[crossing], grid.lines[axis][number]
        stretch = np.cumsum((np.diff(row, prepend=-1) > 0) | (np.diff(count, prepend=-1) != 0))
        last = len(place) - 1
        ahead = cls(grid, 2 * axis, place, own, key, count, stretch, at, upto)
        return ahead, cls(
            grid,
            2 * axis + 1,
            place[::-1],
            last - own,
            key[::-1],
            count[::-1],
            stretch[-1] - stretch[::-1],
            -at[::-1],
            upto,
        )

    def first_beyond(self, least: int) -> tuple[Ints, Bools]:
        """(n,) the first place at least so far ahead of each, and whether the way there is free."""
        line = self.grid.lines[self.direction >> 1]
        size, last = len(line), len(self.key) - 1
        row, number = np.divmod(self.key, size)
        if self.direction & 1:
            target = np.searchsorted(line, line - least, "right")[number]
            first, exists = last - (self.upto[row * size + target] - 1), target > 0
        else:
            target = np.searchsorted(line, line + least, "left")[number]
            first, exists = self.upto[row * size + target], target < size
        inside = np.minimum(first, last)
        return inside, exists & (first <= last) & (self.stretch[inside] == self.stretch)
