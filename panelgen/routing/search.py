"""The shortest way over a grid, and of several shortest ones the one with the fewest bends.

Distances from the goals over the bare grid are found first. They are what is left to go at the least, so
a best-first search that also minds bends [1] looks at little more than the crossings on shortest ways.
What it remembers is the crossing and the direction in which it is reached: only that decides which
turns can follow. After a turn it leaps to the first crossing where the next turn has room.

.. [1] Hart, Nilsson, Raphael, "A formal basis for the heuristic determination of minimum cost paths",
   IEEE Trans. Systems Science and Cybernetics 4 (2), 1968.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.routing.grid import Grid
from panelgen.routing.guide import BENDS, Left, left_seen_square
from panelgen.routing.manner import Manner
from panelgen.routing.turns_left import left_with_turns

__all__ = ["shortest"]

_Cost = tuple[int, int, int]
"""Length with what the bends count for, number of bends, and which of the starts it is from."""


def shortest(grid: Grid, starts: Sequence[int], goals: Sequence[int], manner: Manner) -> tuple[int, ...] | None:
    """The crossings where the best way from one of `starts` to one of `goals` begins, turns and ends.

    Of equal ways one from an earlier start is taken. None where there is no way.
    """
    try:
        return _Search(grid, left_seen_square(grid, goals), goals, manner, _PATIENCE).run(starts)
    except _Lost:
        left = left_with_turns(grid, starts, goals, manner)
        return _Search(grid, left, goals, manner, None).run(starts)


_PATIENCE = 800
"""How many states are looked at before what is left to go is worked out with turns, which takes longer."""


class _Lost(Exception):  # noqa: N818 - not an error: the search asks for a better guide
    """The search has looked at too much."""


def _stride(shape: Sequence[int], axis: int) -> int:
    return math.prod(shape[axis + 1 :])


@dataclass(frozen=True, slots=True)
class _Line:
    """One axis of the grid: where its crossings are, and for each those ahead and back where a leg may turn first.

    `from_start` is for a leg from a start, `from_turn` for one from a turn.
    """

    places: list[int]
    stride: int
    count: memoryview
    from_start: tuple[list[int], list[int]]
    from_turn: tuple[list[int], list[int]]

    @classmethod
    def of(cls, grid: Grid, axis: int, manner: Manner) -> _Line:
        line = grid.lines[axis]
        return cls(
            line.tolist(),
            _stride(grid.shape, axis),
            grid.count[axis].ravel().data,
            _leaps(line, max(manner.end_reach, 1)),
            _leaps(line, max(2 * manner.reach, 1)),
        )


def _leaps(line: Ints, reach: int) -> tuple[list[int], list[int]]:
    """Ahead and back from each place, the nearest place at least `reach` away; out of range where there is none."""
    ahead = np.searchsorted(line, line + reach, "left")
    back = np.searchsorted(line, line - reach, "right") - 1
    return ahead.tolist(), back.tolist()


class _Search:
    """Best first over states, a crossing times six plus the direction in which it is reached.

    Directions are ahead and back along x, ahead and back along y, ahead and back along z. `_leg` tells for
    each state that of the turn where its leg begins; a leg from a start has minus one less its crossing.
    Without `patience` what is `left` minds turns, and the search goes on to its end.
    """

    def __init__(
        self,
        grid: Grid,
        left: Left,
        goals: Sequence[int],
        manner: Manner,
        patience: int | None,
    ) -> None:
        self._shape = grid.shape
        self._lines = tuple(_Line.of(grid, axis, manner) for axis in range(3))
        self._left = left
        self._minds_turns = patience is None
        self._patience = math.inf if patience is None else patience
        self._turns = grid.turns.ravel().tobytes()
        self._arms = [arm.ravel().tobytes() for arm in grid.arms]
        self._goals = frozenset(goals)
        self._target = divmod(goals[0] // grid.shape[2], grid.shape[1])
        self._depths = frozenset(goal % grid.shape[2] for goal in goals)
        self._on_line = tuple(self._goals_by_line(axis) for axis in range(3))
        self._manner = manner
        self._open = tuple(direction for direction in range(6) if direction not in manner.closed)
        self._heap: list[tuple[int, int, int, int, int]] = []
        self._best: dict[int, _Cost] = {}
        self._leg: dict[int, int] = {}

    def run(self, starts: Sequence[int]) -> tuple[int, ...] | None:
        """The corners of the best way, its ends included."""
        for rank, start in enumerate(starts):
            for direction in self._open:
                self._set_out(start, direction, (0, 0, rank), -1 - start, has_room=True)
        closed: set[int] = set()
        while self._heap:
            state = heapq.heappop(self._heap)[-1]
            if state in closed:
                continue
            closed.add(state)
            if len(closed) > self._patience:
                raise _Lost
            crossing, direction = divmod(state, 6)
            if crossing in self._goals:
                return self._corners(state)
            line = self._lines[direction >> 1]
            at = crossing // line.stride % len(line.places)
            onward = at - 1 if direction & 1 else at + 1
            self._arrive(crossing, direction, at, onward, self._best[state], self._leg[state])
            if self._turns[crossing] and (self._arms[direction ^ 1][crossing] or self._is_end(state, at)):
                length, bends, rank = self._best[state]
                cost = (length + self._manner.bend_cost, bends + 1, rank)
                for turned in self._open:
                    if turned >> 1 != direction >> 1:
                        self._set_out(crossing, turned, cost, state, bool(self._arms[turned][crossing]))
        return None

    def _is_end(self, state: int, at: int) -> bool:
        """Whether the leg to a state comes from a start too near for a whole arm, so that only part of one is there."""
        leg, manner = self._leg[state], self._manner
        if leg >= 0 or manner.end_reach >= manner.reach:
            return False
        line = self._lines[state % 6 >> 1]
        start = (-1 - leg) // line.stride % len(line.places)
        return abs(line.places[start] - line.places[at]) < manner.reach

    def _set_out(self, crossing: int, direction: int, cost: _Cost, leg: int, has_room: bool) -> None:
        """Begin a leg: to the goals that come before it may turn, and on to where it may, if it `has_room`.

        Without room for a whole arm it only reaches goals that are nearer than that.
        """
        axis, back = direction >> 1, direction & 1
        line, manner = self._lines[axis], self._manner
        at = crossing // line.stride % len(line.places)
        target = (line.from_start if leg < 0 else line.from_turn)[back][at]
        least = 1 if leg < 0 else max(1, manner.end_reach)
        for goal in self._on_line[axis].get(crossing - at * line.stride, ()):
            away = line.places[at] - line.places[goal] if back else line.places[goal] - line.places[at]
            is_before = goal > target if back else goal < target
            if away >= least and is_before and (has_room or away < manner.reach):
                self._arrive(crossing, direction, at, goal, cost, leg)
        if has_room:
            self._arrive(crossing, direction, at, target, cost, leg)

    def _arrive(self, crossing: int, direction: int, at: int, target: int, cost: _Cost, leg: int) -> None:
        """Go from a crossing, number `at` on its line, straight to number `target`, if the way there is free."""
        line = self._lines[direction >> 1]
        if not 0 <= target < len(line.places):
            return
        reached = crossing + (target - at) * line.stride
        left = self._left(reached, direction)
        if left == math.inf or line.count[reached] != line.count[crossing]:
            return
        state = reached * 6 + direction
        length, bends, rank = cost
        cost = (length + abs(line.places[target] - line.places[at]), bends, rank)
        if state in self._best and self._best[state] <= cost:
            return
        self._best[state] = cost
        self._leg[state] = leg
        ahead, turns = divmod(int(left), BENDS)
        more = max(turns, self._bends_left(reached, direction))
        total = cost[0] + ahead + (0 if self._minds_turns else more * self._manner.bend_cost)
        heapq.heappush(self._heap, (total, bends + more, rank, ahead, state))

    def _bends_left(self, crossing: int, direction: int) -> int:
        """The least number of bends on the way to the nearest goal: one for each axis along which it still must go.

        All goals are one place seen square to the wall, at one or more depths.
        """
        seen, deep = divmod(crossing, self._shape[2])
        x, y = divmod(seen, self._shape[1])
        axis, back = direction >> 1, direction & 1
        ahead_x, ahead_y = self._target[0] - x, self._target[1] - y
        count = 0
        if ahead_x and not (axis == 0 and (ahead_x < 0) == back):
            count += 1
        if ahead_y and not (axis == 1 and (ahead_y < 0) == back):
            count += 1
        if deep not in self._depths and axis != 2:
            count += 1
        return count

    def _goals_by_line(self, axis: int) -> dict[int, list[int]]:
        """Numbers of the goals on each line along `axis`, by the first crossing of the line."""
        line = self._lines[axis]
        found: dict[int, list[int]] = {}
        for goal in sorted(self._goals):
            at = goal // line.stride % len(line.places)
            found.setdefault(goal - at * line.stride, []).append(at)
        return found

    def _corners(self, state: int) -> tuple[int, ...]:
        corners = [state // 6]
        while True:
            state = self._leg[state]
            if state < 0:
                return (-1 - state, *reversed(corners))
            corners.append(state // 6)
