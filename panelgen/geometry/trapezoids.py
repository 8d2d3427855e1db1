"""Areas in a plane cut into trapezoids, which are convex."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain, pairwise

import numpy as np

from panelgen.geometry.frames import Floats, Point2

__all__ = ["trapezoids"]

_THIN = 1e-6
"""Corners nearer in x than this (mm) are at one x."""


def trapezoids(outline: Sequence[Point2], holes: Sequence[Sequence[Point2]] = ()) -> Floats:
    """(n, 2, 2, 2) corners of trapezoids that fill an outline less its holes and share no area.

    The first index is the left or right side, both upright, the second the lower or upper corner of it; a side
    of a triangle has no length. Rings do not cross, and may run either way.
    """
    sides = [(a, b) for ring in (outline, *holes) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True)]
    sides = [(min(side), max(side)) for side in sides]
    found = []
    for left, right in pairwise(_apart(sorted(x for x, _ in chain(outline, *holes)))):
        middle = (left + right) / 2
        across = [side for side in sides if side[0][0] < middle < side[1][0]]
        across.sort(key=lambda side: _height(side, middle))
        for low, high in zip(across[::2], across[1::2], strict=True):
            found.append([[(x, _height(side, x)) for side in (low, high)] for x in (left, right)])
    return np.array(found, dtype=float).reshape(-1, 2, 2, 2)


def _apart(places: Sequence[float]) -> list[float]:
    return [x for n, x in enumerate(places) if not n or x - places[n - 1] > _THIN]


def _height(side: tuple[Point2, Point2], x: float) -> float:
    """The y of a side at x, between its ends."""
    (xa, ya), (xb, yb) = side
    return ya + (yb - ya) * min(max((x - xa) / (xb - xa), 0.0), 1.0)
