"""Why there is no route: what would have to give way along the way that breaks through the least."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from scipy.sparse.csgraph import dijkstra

from panelgen.routing.grid import Grid
from panelgen.routing.maps import RouteMap
from panelgen.routing.pipe import Pipe
from panelgen.routing.search import step_graph

__all__ = ["what_bars"]

_BREACH = 1000.0
"""How much farther a barred mm counts than a free one."""

_MOST = 6
"""Of more things in the way, the first so many are named."""


def what_bars(drawn: RouteMap, pipe: Pipe) -> tuple[str, ...]:
    """What is in the way of a pipe, in order from its start to its end; its turns where nothing else is."""
    grid = drawn.grid
    graph = step_graph(grid.lines, grid.barred, _BREACH)
    left, before, _ = dijkstra(
        graph, directed=False, indices=list(drawn.starts), return_predecessors=True, min_only=True
    )
    here = min(drawn.goals, key=lambda goal: float(left[goal]))
    way = [here]
    while before[here] >= 0:
        here = int(before[here])
        way.append(here)
    way.reverse()
    found: dict[str, str] = {}
    for a, b in pairwise(way):
        number = _cause(grid, a, b)
        if number:
            words = drawn.barred.causes[number - 1].words
            x, y, _ = grid.point(min(a, b))
            found.setdefault(words, f"at {x:.0f} along and {y:.0f} up: {words}")
    if not found:
        needs = [f"its turns take {pipe.turn_reach:.0f} mm of each leg"] if pipe.turn_reach else []
        needs += ["a vent may not sag"] if pipe.system == "vent" else []
        return (f"nothing closes the way, but it finds no room to turn{': ' if needs else ''}{' and '.join(needs)}",)
    listed = list(found.values())
    more = len(listed) - _MOST
    return (*listed[:_MOST], *((f"and {more} more things in the way",) if more > 0 else ()))


def _cause(grid: Grid, a: int, b: int) -> int:
    """The number of the cause that bars the step between two neighbours, 0 for none."""
    low, high = min(a, b), max(a, b)
    axis = (np.array(np.unravel_index(low, grid.shape)) != np.unravel_index(high, grid.shape)).argmax()
    return int(grid.barred[int(axis)].ravel()[low])
