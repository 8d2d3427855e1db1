"""The largest rectangles in a rectilinear outline: those inside it that none other inside it contains."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from panelgen.geometry.frames import Point2
from panelgen.geometry.rods import Bools

__all__ = ["Rect", "largest_rectangles"]

Rect = tuple[float, float, float, float]
"""x0, y0, x1, y1."""


def largest_rectangles(outline: Sequence[Point2]) -> tuple[Rect, ...]:
    """The largest rectangles in a closed outline whose sides run along x and y; together they are its area."""
    xs, ys = sorted({x for x, _ in outline}), sorted({y for _, y in outline})
    inside = _cells_inside(outline, xs, ys)
    return tuple(
        (xs[i], ys[k], xs[j], ys[m])
        for i in range(len(xs) - 1)
        for j in range(i + 1, len(xs))
        for k, m in _rows(np.logical_and.reduce(inside[i:j]))
        if (i == 0 or not inside[i - 1, k:m].all()) and (j == len(xs) - 1 or not inside[j, k:m].all())
    )


def _cells_inside(outline: Sequence[Point2], xs: Sequence[float], ys: Sequence[float]) -> Bools:
    """(columns, rows) which cells between neighbouring places are inside: an odd number of sides is to their left."""
    inside = np.zeros((len(xs) - 1, len(ys) - 1), dtype=bool)
    for (xa, ya), (xb, yb) in zip(outline, (*outline[1:], outline[0]), strict=True):
        if xa == xb:
            low, high = sorted((ys.index(ya), ys.index(yb)))
            inside[xs.index(xa) :, low:high] ^= True
    return inside


def _rows(free: Bools) -> Iterator[tuple[int, int]]:
    """The longest stretches of neighbouring free rows: first row, and the row after the last."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], free, [False]))))
    yield from ((low, high) for low, high in pairwise(edges.tolist()) if free[low])
