"""The rectangles of a rectilinear outline that joists can span: columns side by side, as wide as they can be."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from panelgen.geometry.frames import Point2
from panelgen.geometry.rectangles import Rect

__all__ = ["fields"]

_Stretch = tuple[float, float]


def fields(ring: Sequence[Point2]) -> tuple[Rect, ...]:
    """Rectangles that make up the outline, each from edge to edge along y, left to right, then up.

    Neighbouring columns of the same stretch of y are one rectangle.
    """
    found: list[Rect] = []
    begun: dict[_Stretch, float] = {}
    places = sorted({x for x, _ in ring})
    for x0, x1 in pairwise(places):
        now = _stretches(ring, x0, x1)
        found += [(since, low, x0, high) for (low, high), since in begun.items() if (low, high) not in now]
        begun = {stretch: begun.get(stretch, x0) for stretch in now}
    found += [(since, low, places[-1], high) for (low, high), since in begun.items()]
    return tuple(sorted(found))


def _stretches(ring: Sequence[Point2], x0: float, x1: float) -> list[_Stretch]:
    """What the outline takes of y between two neighbouring corners in x."""
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    crossed = sorted(ya for (xa, ya), (xb, yb) in sides if ya == yb and min(xa, xb) <= x0 and max(xa, xb) >= x1)
    return list(zip(crossed[::2], crossed[1::2], strict=True))
