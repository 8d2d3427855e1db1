"""What is left to go at the least when every turn takes its room: a guide that leads a search straight on.

A way turns only at few of the crossings of a grid. Between them it goes straight, so what is left from a turn
follows from what is left at the turns ahead of it that are far enough away: a running minimum along each free
stretch. Rounds of that, each allowing for one turn more, end when nothing grows shorter.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.routing.grid import Grid
from panelgen.routing.guide import BENDS, Left
from panelgen.routing.manner import Manner
from panelgen.routing.turn_places import Passing, TurnPlaces

__all__ = ["left_with_turns"]

_NO_WAY = 1 << 42
_APART = 1 << 44


def left_with_turns(grid: Grid, starts: Sequence[int], goals: Sequence[int], manner: Manner) -> Left:
    """What is left from each crossing, by the direction in which it is reached.

    Exact but for turns near a start, which are taken to be on the first leg.
    """
    places = TurnPlaces.of(grid, starts, goals, manner)
    ahead = [_Ahead.of(one, places, manner) for axis in range(3) for one in Passing.both(grid, places, axis)]
    bend = manner.bend_cost * BENDS + 1
    set_out = np.full((3, len(places.crossing)), _NO_WAY)
    steady = axis = 0
    while steady < 3:
        before = set_out[axis].copy()
        after = np.minimum(np.minimum(set_out[axis - 1], set_out[axis - 2]) + bend, _NO_WAY)
        set_out[axis] = np.minimum(*(one.set_out(after) for one in ahead[2 * axis : 2 * axis + 2]))
        steady = 0 if (before != set_out[axis]).any() else steady + 1
        axis = (axis + 1) % 3
    looks = [
        one.look_up(np.minimum(set_out[axis - 1], set_out[axis - 2]) + bend)
        for axis in range(3)
        for one in ahead[2 * axis : 2 * axis + 2]
    ]

    def left(crossing: int, direction: int) -> float:
        return looks[direction](crossing)

    return left


@dataclass(frozen=True, slots=True, eq=False)
class _Ahead:
    """What is left where legs of one direction pass the places of a grid.

    `apart` is how far along the places are, times `BENDS`, with free stretches set apart, in the order in which
    they are passed. To one who sets out from a place the next turn is at number `leap` or beyond, and what is
    left is what is there less `off`; `goal` is what is left to the nearest goal on the leg; `shut` is `_NO_WAY`
    where no way turns that comes in this direction. These four are in the places' own order. `to_goal` is
    what is left to the nearest goal ahead, by `apart`.
    """

    passing: Passing
    apart: Ints
    leap: Ints
    off: Ints
    goal: Ints
    shut: Ints
    to_goal: Ints

    @classmethod
    def of(cls, passing: Passing, places: TurnPlaces, manner: Manner) -> _Ahead:
        direction, place, own = passing.direction, passing.place, passing.own
        is_open, arms = direction not in manner.closed, places.arms[direction]
        apart = passing.at * BENDS + passing.stretch * _APART
        to_goal = _least_ahead(np.where(places.is_goal[place], apart, apart + _NO_WAY))
        first, is_free = passing.first_beyond(max(1, manner.end_reach))
        goal = np.where(is_free, to_goal[first] - apart, _NO_WAY)[own]
        goal = np.where(is_open & (arms | (goal < manner.reach * BENDS)), goal, _NO_WAY)
        first, is_free = passing.first_beyond(max(1, 2 * manner.reach))
        leads_on = is_open & arms & is_free[own]
        leap, off = np.where(leads_on, first[own], own), apart[own] - np.where(leads_on, 0, _NO_WAY)
        return cls(passing, apart, leap, off, goal, np.where(places.turns[direction], 0, _NO_WAY), to_goal)

    def set_out(self, after: Ints) -> Ints:
        """(n,) what is left to one who sets out from each place, where `after` (n,) is left where the next turn is."""
        result: Ints = np.minimum(self._left(after)[self.leap] - self.off, self.goal)
        return result

    def _left(self, after: Ints) -> Ints:
        """(n,) what is left to one who comes to each place, as they are passed, by `apart`."""
        return _least_ahead((after + self.shut)[self.passing.place] + self.apart)

    def look_up(self, after: Ints) -> Callable[[int], float]:
        """What is left from any crossing that is reached in this direction; infinite where there is no way."""
        passing, grid = self.passing, self.passing.grid
        axis, is_back = passing.direction >> 1, passing.direction & 1
        rest = np.minimum(self._left(after), self.to_goal) - passing.stretch * _APART
        turned = slice(None, None, -1 if is_back else 1)
        keys, rests, counts = passing.key[turned].data, rest[turned].data, passing.count[turned].data
        line, count = (grid.lines[axis] * (-BENDS if is_back else BENDS)).tolist(), grid.count[axis].ravel().data
        size, stride = len(line), math.prod(grid.shape[axis + 1 :])

        def left(crossing: int) -> float:
            row, at = divmod(crossing // stride, size)
            key = (row * stride + crossing % stride) * size + at
            place = bisect_right(keys, key) - 1 if is_back else bisect_left(keys, key)
            if not 0 <= place < len(keys) or keys[place] // size != key // size or counts[place] != count[crossing]:
                return math.inf
            found: int = rests[place] - line[at]
            return math.inf if found >= _NO_WAY else found

        return left


def _least_ahead(values: Ints) -> Ints:
    """(n,) the least of the values from each on."""
    result: Ints = np.minimum.accumulate(values[::-1])[::-1]
    return result
