"""Ways to move a line of points: a segment aside with its neighbours, a detour around, an end along itself.

All points are (x, y, z) in one frame, mm. A move that would fold the line, or leave two points in one
place, is None.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from panelgen.geometry.frames import Vec3, add, dot, scaled

__all__ = ["Points", "deepened", "detoured", "end_moved", "nearest_point", "nearest_segment", "shifted"]

Points = tuple[Vec3, ...]

_EPS = 1e-6
_SHORTEST = 6.0
"""mm. A shorter piece of a run is a slip, not a piece."""


def nearest_segment(points: Sequence[Vec3], at: Vec3) -> tuple[int, float]:
    """The segment nearest to a place, and how far along it that is, mm."""
    best = (math.inf, 0, 0.0)
    for k, (a, b) in enumerate(pairwise(points)):
        length = math.dist(a, b)
        u = scaled(_between(a, b), 1.0 / length)
        along = min(max(dot(_between(a, at), u), 0.0), length)
        best = min(best, (math.dist(add(a, scaled(u, along)), at), k, along))
    return best[1], best[2]


def nearest_point(points: Sequence[Vec3], at: Vec3) -> Vec3:
    """The point of the line nearest to a place."""
    k, along = nearest_segment(points, at)
    a, b = points[k], points[k + 1]
    return add(a, scaled(_between(a, b), along / math.dist(a, b)))


def shifted(points: Points, k: int, step: Vec3, held: tuple[bool, bool] = (False, False)) -> Points | None:
    """Segment `k` moved by `step`, and before and after it as much as keeps the other segments' directions.

    None where that moves an end that is `held` (first, last).
    """
    i, j, last = k, k + 1, len(points) - 1
    while i > 0 and not _are_parallel(_between(points[i - 1], points[i]), step):
        i -= 1
    while j < last and not _are_parallel(_between(points[j], points[j + 1]), step):
        j += 1
    if (i == 0 and held[0]) or (j == last and held[1]):
        return None
    moved = tuple(add(point, step) if i <= m <= j else point for m, point in enumerate(points))
    return moved if _keeps_directions(points, moved) else None


def detoured(points: Points, k: int, span: tuple[float, float], step: Vec3) -> Points | None:
    """Segment `k` led around by `step` over the part `span` of it, mm from its start; its ends stay."""
    a, b = points[k], points[k + 1]
    length = math.dist(a, b)
    u = scaled(_between(a, b), 1.0 / length)
    low, high = max(span[0], 0.0), min(span[1], length)
    if high - low < _SHORTEST:
        return None
    p = a if low < _SHORTEST else add(a, scaled(u, low))
    q = b if length - high < _SHORTEST else add(a, scaled(u, high))
    way = (*points[: k + 1], p, add(p, step), add(q, step), q, *points[k + 1 :])
    line = tuple(point for m, point in enumerate(way) if m == 0 or math.dist(way[m - 1], point) > _EPS)
    return line if _is_unfolded(line) else None


def deepened(points: Points, normal: Vec3, depth: float) -> Points | None:
    """All points brought to one `depth` along a unit `normal`; points that come together are one."""
    flat = [add(point, scaled(normal, depth - dot(point, normal))) for point in points]
    line = tuple(point for m, point in enumerate(flat) if m == 0 or math.dist(flat[m - 1], point) > _EPS)
    return line if len(line) > 1 and _is_unfolded(line) else None


def end_moved(points: Points, last: bool, distance: float) -> Points | None:
    """The first or last point moved along its own segment, outward where `distance` is positive."""
    end, inner = (points[-1], points[-2]) if last else (points[0], points[1])
    length = math.dist(end, inner)
    if length + distance < _SHORTEST:
        return None
    moved = add(end, scaled(_between(inner, end), distance / length))
    return (*points[:-1], moved) if last else (moved, *points[1:])


def _between(a: Vec3, b: Vec3) -> Vec3:
    return (b[0] - a[0], b[1] - a[1], b[2] - a[2])


def _are_parallel(a: Vec3, b: Vec3) -> bool:
    return abs(dot(a, b)) >= (1 - 1e-9) * math.sqrt(dot(a, a) * dot(b, b))


def _keeps_directions(points: Points, moved: Points) -> bool:
    pairs = zip(pairwise(points), pairwise(moved), strict=True)
    return all(dot(_between(*old), _between(*new)) > _EPS and math.dist(*new) >= _SHORTEST for old, new in pairs)


def _is_unfolded(points: Points) -> bool:
    """Whether no piece is a slip and none goes back over the one before."""
    pieces = [_between(a, b) for a, b in pairwise(points)]
    folded = any(_are_parallel(a, b) and dot(a, b) < 0 for a, b in pairwise(pieces))
    return not folded and all(dot(piece, piece) >= _SHORTEST**2 for piece in pieces)
