"""What is left to go at the least from anywhere on a grid: what guides a search to its goals.

SciPy's graphs are imported where they are used: no other command waits for them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.routing.grid import Grid

__all__ = ["BENDS", "Left", "left_seen_square", "left_with_turns", "step_graph"]


Left = tuple[Floats, Floats, Floats]
"""(n,) from each crossing, reached along x, along y and along z, to the nearest goal, infinite where there is no way.

The length left, grid units, times `BENDS`, plus the number of bends on the straightest of the shortest ways.
"""

BENDS = 64
"""More bends than a route takes."""


def step_graph(lines: Sequence[Ints], barred: Sequence[Ints], breach: float = math.inf) -> Any:
    """The steps of a grid, each once, as an (n, n) sparse matrix of their lengths in grid units; see `Grid`.

    Barred steps count as `breach` times longer, and are left out where that is infinite.
    """
    from scipy.sparse import csr_matrix

    rows = [_steps(lines, barred, axis, breach) for axis in range(3)]
    starts, ends, weights = (np.concatenate([row[k] for row in rows]) for k in range(3))
    return csr_matrix((weights, (starts, ends)), shape=(barred[0].size,) * 2)


def _steps(lines: Sequence[Ints], barred: Sequence[Ints], axis: int, breach: float) -> tuple[Ints, Ints, Floats]:
    """The crossings before and after each step along an axis, and what it counts as."""
    shape = barred[axis].shape
    inside = tuple(slice(None, -1) if k == axis else slice(None) for k in range(3))
    length = np.diff(lines[axis]).astype(float).reshape([-1 if k == axis else 1 for k in range(3)])
    weight = np.where(barred[axis][inside] > 0, length * breach, length)
    kept = np.isfinite(weight)
    start = np.arange(barred[axis].size).reshape(shape)[inside][kept]
    return start, start + math.prod(shape[axis + 1 :]), weight[kept]


def left_seen_square(grid: Grid, goals: Sequence[int]) -> Left:
    """What is left if a step that is free at any depth is free at all, and turns take no room."""
    from scipy.sparse.csgraph import dijkstra

    nz = grid.shape[2]
    lines = (grid.lines[0], grid.lines[1], grid.lines[2][:1])
    graph = step_graph(lines, [step.min(axis=2, keepdims=True) for step in grid.barred])
    seen = dijkstra(graph, directed=False, indices=sorted({goal // nz for goal in goals}), min_only=True)
    ends = grid.lines[2][sorted({goal % nz for goal in goals})]
    deep = np.abs(grid.lines[2][:, None] - ends).min(axis=1)
    left: Floats = (seen[:, None] + deep).ravel() * BENDS
    return left, left, left


def left_with_turns(grid: Grid, starts: Sequence[int], goals: Sequence[int], reach: int, bend_cost: int) -> Left:
    """What is left if turns are made only where there is room for them, but however near one another."""
    from scipy.sparse import csr_matrix
    from scipy.sparse.csgraph import dijkstra

    size = grid.turns.size
    room = [grid.turns & (grid.arms[2 * axis] | grid.arms[2 * axis + 1]) for axis in range(3)]
    for axis in range(3):
        for near in _near(grid, (*starts, *goals), axis, reach):
            room[axis][near] |= grid.turns[near]
    rows = [_steps(grid.lines, grid.barred, axis, math.inf) for axis in range(3)]
    heads = [row[0] + size * axis for axis, row in enumerate(rows)]
    tails = [row[1] + size * axis for axis, row in enumerate(rows)]
    weights = [row[2] * BENDS for row in rows]
    for a, b in ((0, 1), (0, 2), (1, 2)):
        turning = np.flatnonzero(room[a] & room[b])
        heads.append(turning + size * a)
        tails.append(turning + size * b)
        weights.append(np.full(len(turning), bend_cost * BENDS + 1.0))
    pairs = np.concatenate(heads), np.concatenate(tails)
    graph = csr_matrix((np.concatenate(weights), pairs), shape=(3 * size, 3 * size))
    ends = sorted({goal + size * axis for goal in goals for axis in range(3)})
    left = dijkstra(graph, directed=False, indices=ends, min_only=True)
    return left[:size], left[size : 2 * size], left[2 * size :]


def _near(grid: Grid, ends: Sequence[int], axis: int, reach: int) -> Iterator[tuple[int | slice, ...]]:
    """The stretches of the grid along an axis that are no farther than `reach` from an end."""
    line = grid.lines[axis]
    for end in ends:
        place: list[int | slice] = [int(k) for k in np.unravel_index(end, grid.shape)]
        at = line[place[axis]]
        low, high = np.searchsorted(line, (at - reach, at + reach + 1)).tolist()
        place[axis] = slice(low, high)
        yield tuple(place)
