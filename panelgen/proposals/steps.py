"""How far things are moved: lengths that a person would write, from the least that can help upward."""

from __future__ import annotations

import math
from collections.abc import Iterator

from panelgen.units import MM_PER_INCH

__all__ = ["DEEPEST", "Grid", "distances", "grid_of"]

DEEPEST = 200.0
"""mm. Farther than this nothing is moved through the depth of a wall: it would come out of it."""

_FARTHEST = 1829.0
_BANDS = ((100.0, 4), (300.0, 8), (_FARTHEST, 32))
"""Up to this distance, mm, steps of so many grid steps: fine where little is asked, coarse where much is."""

_SLACK = 1e-6

Grid = float
"""The least length in which things are moved, mm."""


def grid_of(unit: str) -> Grid:
    """1/16 in for a spec in inches or feet, 1 mm for a metric one."""
    return MM_PER_INCH / 16 if unit in ("in", "ft") else 1.0


def distances(grid: Grid, least: float, most: float) -> Iterator[float]:
    """Distances from `least` (rounded up to the grid) to `most`, mm, rising."""
    first = max(math.ceil(least / grid - _SLACK), 1)
    if first * grid <= most:
        yield first * grid
    done = first
    for limit, stride in _BANDS:
        at = (done // stride + 1) * stride
        while at * grid <= min(limit, most):
            yield at * grid
            done, at = at, at + stride
