"""Straight lines through convex bodies: the interval of the line parameter that lies inside."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from panelgen.geometry.frames import Floats
from panelgen.geometry.vectors import crosses, lengths

__all__ = ["covered", "in_cylinder", "in_planes", "perpendiculars"]

_FLAT = 1e-12


def perpendiculars(directions: Floats) -> tuple[Floats, Floats]:
    """Two unit vectors, (n, 3) each, that make a right-handed frame with each unit direction (n, 3)."""
    rows = np.arange(len(directions))
    least = np.argmin(np.abs(directions), axis=1)
    helper = np.zeros_like(directions)
    helper[rows, least] = 1.0
    first = crosses(helper, directions)
    first /= lengths(first)[:, None]
    return first, crosses(directions, first)


def in_planes(points: Floats, directions: Floats, normals: Floats, offsets: Floats) -> tuple[Floats, Floats]:
    """Where lines ``point + t · direction`` are inside every half-space ``normal · x <= offset``.

    `points` and `directions` are (..., 3), `normals` (..., k, 3), `offsets` (..., k). Gives (low, high),
    (...) each; low > high where the line misses.
    """
    speed = np.einsum("...kc,...c->...k", normals, directions)
    room = offsets - np.einsum("...kc,...c->...k", normals, points)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = room / speed
    level = np.abs(speed) < _FLAT
    low = np.where(~level & (speed < 0), at, -np.inf).max(axis=-1)
    high = np.where(~level & (speed > 0), at, np.inf).min(axis=-1)
    outside = (level & (room < 0)).any(axis=-1)
    return np.where(outside, np.inf, low), np.where(outside, -np.inf, high)


def in_cylinder(
    points: Floats, directions: Floats, axis_points: Floats, axes: Floats, radii: Floats
) -> tuple[Floats, Floats]:
    """Where lines are inside endless round cylinders about unit `axes`. Shapes (..., 3) and (...) for `radii`.

    Gives (low, high); low > high where the line misses.
    """
    offset = points - axis_points
    across = directions - _along(directions, axes)
    away = offset - _along(offset, axes)
    a = np.einsum("...c,...c->...", across, across)
    b = np.einsum("...c,...c->...", across, away)
    c = np.einsum("...c,...c->...", away, away) - radii**2
    level = a < _FLAT
    root = b * b - a * c
    with np.errstate(divide="ignore", invalid="ignore"):
        half = np.sqrt(np.maximum(root, 0.0)) / a
        middle = -b / a
    inside = np.where(level, c <= 0, root >= 0)
    low = np.where(level, -np.inf, middle - half)
    high = np.where(level, np.inf, middle + half)
    return np.where(inside, low, np.inf), np.where(inside, high, -np.inf)


def _along(vectors: Floats, axes: Floats) -> Floats:
    result: Floats = np.einsum("...c,...c->...", vectors, axes)[..., None] * axes
    return result


def covered(low: Floats, high: Floats, starts: Floats, ends: Floats, slack: float) -> NDArray[np.bool_]:
    """Whether [low, high] lies in the union of k intervals, gaps up to `slack` apart.

    `low` and `high` are (...), `starts` and `ends` (..., k). An empty interval (low >= high) is covered.
    """
    order = np.argsort(starts, axis=-1)
    starts = np.take_along_axis(starts, order, axis=-1)
    ends = np.maximum.accumulate(np.take_along_axis(ends, order, axis=-1), axis=-1)
    reached = np.concatenate((np.full((*low.shape, 1), -np.inf), ends), axis=-1)
    reached = np.maximum(reached, low[..., None])
    following = np.concatenate((starts, np.full((*low.shape, 1), np.inf)), axis=-1)
    result: NDArray[np.bool_] = np.all(np.minimum(following, high[..., None]) <= reached + slack, axis=-1)
    return result
