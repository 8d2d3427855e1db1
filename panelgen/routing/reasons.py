"""Why there is no route: what would have to give way along the way that breaks through the least."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.routing.bodies import Cause
from panelgen.routing.guide import step_graph
from panelgen.routing.maps import RouteMap
from panelgen.routing.pipe import Pipe

__all__ = ["what_bars"]

_BREACH = 1000.0
"""How much farther a barred mm counts than a free one."""

_MOST = 6
"""Of more things in the way, the first so many are named."""


def what_bars(drawn: RouteMap, pipe: Pipe) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What is in the way of a pipe, from its start to its end, in words and as ids of parts.

    Where nothing is in the way it is the pipe's turns that find no room.
    """
    found = _breaches(drawn, _seen_square(drawn))
    if not found and not _is_open(drawn):
        found = _breaches(drawn, drawn.grid.barred)
    if not found:
        needs = [f"its turns take {pipe.turn_reach:.0f} mm of each leg"] if pipe.turn_reach else []
        needs += ["a vent may not sag"] if pipe.system == "vent" else []
        words = f"nothing closes the way, but it finds no room to turn{': ' if needs else ''}{' and '.join(needs)}"
        return (words,), ()
    listed = list(found.values())
    more = len(listed) - _MOST
    parts = dict.fromkeys(cause.part for cause in found if cause.part)
    return (*listed[:_MOST], *((f"and {more} more things in the way",) if more > 0 else ())), tuple(parts)


def _is_open(drawn: RouteMap) -> bool:
    """Whether a way from start to end is free for a pipe that turns anywhere."""
    from scipy.sparse.csgraph import connected_components

    _, part = connected_components(step_graph(drawn.grid.lines, drawn.grid.barred), directed=False)
    return not set(part[list(drawn.starts)].tolist()).isdisjoint(part[list(drawn.goals)].tolist())


def _seen_square(drawn: RouteMap) -> tuple[Ints, ...]:
    """Which steps are barred at every depth at which the route may start, with the cause at the first of them."""
    depths = [start % drawn.grid.shape[2] for start in drawn.starts]
    taken = [barred[:, :, depths] for barred in drawn.grid.barred]
    return tuple(np.where((steps > 0).all(axis=2), steps[:, :, 0], 0)[:, :, None] for steps in taken)


def _breaches(drawn: RouteMap, barred: Sequence[Ints]) -> dict[Cause, str]:
    """What bars the way that goes least through what is barred, from its start, and words that tell where."""
    from scipy.sparse.csgraph import dijkstra

    _, ny, nz = barred[0].shape
    deep = drawn.grid.shape[2] // nz  # all depths are one where the wall is seen square
    lines = (drawn.grid.lines[0], drawn.grid.lines[1], drawn.grid.lines[2][:nz])
    starts, goals = (sorted({crossing // deep for crossing in ends}) for ends in (drawn.starts, drawn.goals))
    graph = step_graph(lines, barred, _BREACH)
    left, before, _ = dijkstra(graph, directed=False, indices=starts, return_predecessors=True, min_only=True)
    here = min(goals, key=lambda goal: float(left[goal]))
    found: dict[Cause, str] = {}
    while (there := int(before[here])) >= 0:
        step, low = abs(here - there), min(here, there)
        axis = 0 if step >= ny * nz else 1 if step >= nz else 2
        number = int(barred[axis].reshape(-1)[low])
        if number:
            cause = drawn.barred.causes[number - 1]
            x, y, _ = drawn.grid.point(low * deep)
            found[cause] = f"at {x:.0f} along and {y:.0f} up: {cause.words}"
        here = there
    return dict(reversed(found.items()))
