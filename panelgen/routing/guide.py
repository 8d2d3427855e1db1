"""What is left to go at the least from anywhere on a grid: what guides a search to its goals.

SciPy's graphs are imported where they are used: no other command waits for them.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.routing.grid import Grid

__all__ = ["BENDS", "Left", "left_seen_square", "step_graph"]


Left = Callable[[int, int], float]
"""From a crossing, reached in a direction, to the nearest goal; infinite where there is no way.

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
    by_crossing = ((seen[:, None] + deep).ravel() * BENDS).data

    def left(crossing: int, _: int) -> float:
        result: float = by_crossing[crossing]
        return result

    return left
