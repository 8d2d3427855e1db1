"""Rings of plan corners that share sides: one place for each corner, and no corner that is none."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from panelgen.geometry.frames import Point2

__all__ = ["bends", "segments", "with_shared_corners"]

_SAME = 1e-4
"""Corners nearer than this (mm) are one."""


def with_shared_corners(rings: Sequence[Sequence[Point2]]) -> list[list[Point2]]:
    """Rings that meet, with one place for each corner, and with the corners of others that lie on their sides.

    So a side that two of them share has the same two ends in both.
    """
    plain = [bends(ring) for ring in rings]
    places: list[Point2] = []
    for ring in plain:
        places += [point for point in ring if not any(_are_near(point, place) for place in places)]
    return [_threaded(ring, places) for ring in plain]


def segments(ring: Sequence[Point2]) -> list[tuple[Point2, Point2]]:
    """The sides of a closed ring, as start and end."""
    return list(pairwise((*ring, ring[0])))


def bends(ring: Sequence[Point2]) -> tuple[Point2, ...]:
    """A ring without the points that repeat or where it goes straight on."""
    apart = [b for a, b in zip((ring[-1], *ring[:-1]), ring, strict=True) if not _are_near(a, b)]
    triples = zip((apart[-1], *apart[:-1]), apart, (*apart[1:], apart[0]), strict=True)
    return tuple(b for a, b, c in triples if abs(_aside(b, a, c)) > _SAME)


def _threaded(ring: Sequence[Point2], places: Sequence[Point2]) -> list[Point2]:
    own = [next(place for place in places if _are_near(point, place)) for point in ring]
    threaded = []
    for a, b in segments(own):
        length = math.dist(a, b)
        on_it = [
            (along, place)
            for place in places
            if abs(_aside(place, a, b)) < _SAME and _SAME < (along := _along(place, a, b)) < length - _SAME
        ]
        threaded += [a, *(place for _, place in sorted(on_it))]
    return threaded


def _along(point: Point2, a: Point2, b: Point2) -> float:
    """How far a point is from a in the direction of b."""
    return ((point[0] - a[0]) * (b[0] - a[0]) + (point[1] - a[1]) * (b[1] - a[1])) / math.dist(a, b)


def _aside(point: Point2, a: Point2, b: Point2) -> float:
    """How far a point is to the left of the line from a to b."""
    return ((point[1] - a[1]) * (b[0] - a[0]) - (point[0] - a[0]) * (b[1] - a[1])) / math.dist(a, b)


def _are_near(a: Point2, b: Point2) -> bool:
    return abs(a[0] - b[0]) < _SAME and abs(a[1] - b[1]) < _SAME
