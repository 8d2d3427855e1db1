"""How far a nail must be moved to get clear of a straight service: the shifts that leave it too near.

Where a shank and a service's axis come near one another is a matter of their difference: as points run
along both, it sweeps a parallelogram, and moving the nail moves that past a fixed point along a line. The
shifts at which the point is nearer to the parallelogram than some distance are one interval, because the
places that near to a convex figure are convex. It reaches over what the face, the four sides and the four
corners take of the line.
"""

from __future__ import annotations

import numpy as np

from panelgen.geometry.frames import Floats

__all__ = ["blocked_shifts"]

_FLAT = 1e-12

_Interval = tuple[Floats, Floats]


def blocked_shifts(
    heads: Floats, shanks: Floats, slides: Floats, starts: Floats, axes: Floats, reach: Floats
) -> _Interval:
    """Shifts from `low` to `high` (n,) bring a shank nearer than `reach` (n,) to an axis; low > high if none do. mm.

    `shanks` and `axes` (n, 3) are vectors along the shank from `heads` and along the service's axis from
    `starts`, neither of them zero; nails are moved along the unit vectors `slides` (n, 3).
    """
    away = heads - starts
    back = -shanks
    corners = np.stack((np.zeros_like(axes), axes, back, axes + back))
    from_corners = away - corners
    sides = np.stack((axes, back, shanks, -axes))
    along = _dot(from_corners, slides)
    parts = (
        _over_face(away, slides, axes, back, reach),
        _by_corners(from_corners, along, reach),
        _by_sides(from_corners, along, slides, sides, reach),
    )
    low = np.minimum.reduce([np.where(lo < hi, lo, np.inf).min(axis=0) for lo, hi in parts])
    high = np.maximum.reduce([np.where(lo < hi, hi, -np.inf).max(axis=0) for lo, hi in parts])
    return low, high


def _dot(a: Floats, b: Floats) -> Floats:
    result: Floats = np.einsum("...c,...c->...", a, b)
    return result


def _over_face(away: Floats, slides: Floats, first: Floats, second: Floats, reach: Floats) -> _Interval:
    """Where the line is over the parallelogram of two vectors and near its plane, (1, n) each."""
    normal = np.cross(first, second)
    size = np.sqrt(_dot(normal, normal))
    aa, ab, bb = _dot(first, first), _dot(first, second), _dot(second, second)
    spread = size > 1e-9 * np.sqrt(aa * bb)  # else the two are parallel, and the sides take all there is
    area = np.where(spread, size, 1.0)
    low, high = _between(_dot(away, normal) / area, _dot(slides, normal) / area, -reach, reach)
    for one, other in (((aa, first), (bb, second)), ((bb, second), (aa, first))):
        (_, u), (square, v) = one, other
        at, rate = ((square * _dot(line, u) - ab * _dot(line, v)) / area**2 for line in (away, slides))
        lo, hi = _between(at, rate, np.zeros_like(at), np.ones_like(at))
        low, high = np.maximum(low, lo), np.minimum(high, hi)
    return np.where(spread, low, np.inf)[None], np.where(spread, high, -np.inf)[None]


def _by_corners(from_corners: Floats, along: Floats, reach: Floats) -> _Interval:
    """Where the line is inside balls about the corners, (4, n) each."""
    return _roots(np.ones_like(along), along, _dot(from_corners, from_corners) - reach**2)


def _by_sides(from_corners: Floats, along: Floats, slides: Floats, sides: Floats, reach: Floats) -> _Interval:
    """Where the line is inside cylinders about the sides, each from its corner on, (4, n) each."""
    size = np.sqrt(_dot(sides, sides))
    units = sides / size[..., None]
    at, rate = _dot(from_corners, units), _dot(units, slides)
    low, high = _roots(1.0 - rate**2, along - at * rate, _dot(from_corners, from_corners) - at**2 - reach**2)
    lo, hi = _between(at, rate, np.zeros_like(at), size)
    return np.maximum(low, lo), np.minimum(high, hi)


def _roots(a: Floats, b: Floats, c: Floats) -> _Interval:
    """Where ``a s² + 2 b s + c`` is negative, for ``a`` not negative."""
    level = a < _FLAT
    square = b * b - a * c
    half = np.sqrt(np.maximum(square, 0.0))
    size = np.where(level, 1.0, a)
    inside = np.where(level, c < 0.0, square > 0.0)
    low = np.where(level, -np.inf, (-b - half) / size)
    high = np.where(level, np.inf, (-b + half) / size)
    return np.where(inside, low, np.inf), np.where(inside, high, -np.inf)


def _between(at: Floats, rate: Floats, low: Floats, high: Floats) -> _Interval:
    """Where ``at + rate s`` is between two bounds."""
    level = np.abs(rate) < _FLAT
    step = np.where(level, 1.0, rate)
    a, b = (low - at) / step, (high - at) / step
    inside = (at > low) & (at < high)
    lo = np.where(level, np.where(inside, -np.inf, np.inf), np.minimum(a, b))
    hi = np.where(level, np.where(inside, np.inf, -np.inf), np.maximum(a, b))
    return lo, hi
