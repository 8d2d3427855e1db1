"""Faces of convex blocks that face one another: how far apart they are, and along which stretch of a line.

Blocks are hexahedra, as in `geometry.hexahedra`. Two faces face one another where their normals are opposite and
one lies ahead of the other; how much of the two is opposite is told along a line of choice, exactly.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import FACE_CORNERS, hexahedra_planes
from panelgen.geometry.rods import Bools
from panelgen.geometry.vectors import crosses, lengths

__all__ = ["Facing", "Opposite", "facing", "opposite"]

_OPPOSITE = -0.7
"""Faces whose normals are opposite to about 45 degrees face one another."""

_FLAT = 1e-9
_EVEN = 1e-6
"""Corners as near to a line as this (mm) lie on it."""


@dataclass(frozen=True, slots=True, eq=False)
class Facing:
    """k pairs of faces: the `row` (k,) of their blocks, the unit `normal` (k, 3) of the one's, toward the other's.

    `near` and `far` (k, 4, 3) are the corners of the one's and the other's face, in order around each, and `gap` (k,)
    how far ahead of one the middle of the other is, mm, the less of both; below 0 where it is behind. `square` (k,) is
    the cosine of the angle between the two: 1 for parallel faces.
    """

    row: Ints
    normal: Floats
    near: Floats
    far: Floats
    gap: Floats
    square: Floats

    def take(self, rows: Ints | Bools) -> Facing:
        """The pairs of these rows."""
        return Facing(*(getattr(self, name)[rows] for name in Facing.__slots__))


def facing(corners: Floats, one: Ints, other: Ints, behind: float, ahead: float) -> Facing:
    """The faces of blocks `one` and `other` (n,), of `corners` (b, 8, 3), that face one another.

    Taken are those of which the middle of one is no farther `ahead` of the other than that, mm, nor `behind` by more.
    """
    used, place = np.unique(np.concatenate((one, other)), return_inverse=True)
    normals, offsets = hexahedra_planes(corners[used])
    middles = corners[used][:, FACE_CORNERS].sum(axis=2) / 4
    a, b = place.reshape(2, -1)
    # The middle of a block is behind all its faces, so what faces it is not as far ahead as that.
    pair, face = np.nonzero(_products(normals[a], middles[b].mean(axis=1)) - offsets[a] >= -behind)
    at, back = np.nonzero(_products(normals[b[pair]], normals[a[pair], face]) < _OPPOSITE)
    row, face = pair[at], face[at]
    normal, back_normal = normals[a[row], face], normals[b[row], back]
    apart = middles[b[row], back] - middles[a[row], face]
    gaps = np.einsum("kc,kc->k", apart, normal), -np.einsum("kc,kc->k", apart, back_normal)
    # Where the two lean toward one another, what is ahead of the middle of the longer one tells nothing.
    near = np.flatnonzero((np.maximum(*gaps) >= -behind) & (np.minimum(*gaps) <= ahead))
    row, face, back = row[near], face[near], back[near]
    return Facing(
        row,
        normal[near],
        corners[one[row, None], FACE_CORNERS[face]],
        corners[other[row, None], FACE_CORNERS[back]],
        np.minimum(*gaps)[near],
        -np.einsum("kc,kc->k", normal[near], back_normal[near]),
    )


def _products(vectors: Floats, one: Floats) -> Floats:
    """(n, 6) the scalar products of 6 vectors each, (n, 6, 3), with one, (n, 3)."""
    x, y, z = one.T[:, :, None]
    result: Floats = vectors[..., 0] * x + vectors[..., 1] * y + vectors[..., 2] * z
    return result


@dataclass(frozen=True, slots=True, eq=False)
class Opposite:
    """Where k pairs of faces are opposite, along a line each: from `low` to `high` (k,), as ``along @ point``, mm.

    `gap` (k, 2) is how far apart they are at both ends of that, where they are nearest, below 0 where one is behind
    the other. Where no part of the two is opposite, `low` is not below `high`.
    """

    low: Floats
    high: Floats
    gap: Floats


def opposite(pairs: Facing, along: Floats, least: float) -> Opposite:
    """Where faces are opposite over at least `least` (mm) across their lines, whose directions are `along` (k, 3)."""
    ahead = pairs.normal
    aside = crosses(ahead, along)
    aside /= np.maximum(lengths(aside), _FLAT)[:, None]
    near, far = (_along(face, (along, aside, ahead)) for face in (pairs.near, pairs.far))
    (low, left), (high, right) = (
        [outer(inner(near[axis], axis=0), inner(far[axis], axis=0)) for axis in (0, 1)]
        for outer, inner in ((np.maximum, np.min), (np.minimum, np.max))
    )
    high = np.where(right - left < least, low, high)
    slanting = np.flatnonzero((low < high) & ~(_are_upright(near) & _are_upright(far)))
    if len(slanting):
        low[slanting], high[slanting] = _shared(near[:2, :, slanting], far[:2, :, slanting], least)
    apart = [_height(far, s, t) - near[2].mean(axis=0) for s in (low, high) for t in (left, right)]
    gap = np.stack((np.minimum(*apart[:2]), np.minimum(*apart[2:])), axis=1)
    return Opposite(low, high, gap)


def _along(points: Floats, axes: tuple[Floats, Floats, Floats]) -> Floats:
    """(3, p, k) coordinates of points (k, p, 3) along three vectors (k, 3) each."""
    x, y, z = np.ascontiguousarray(points.transpose(2, 1, 0))
    return np.stack([x * axis[:, 0] + y * axis[:, 1] + z * axis[:, 2] for axis in axes])


def _are_upright(faces: Floats) -> Bools:
    """(k,) whether a face, (3, 4, k), is a rectangle with sides along the first two axes."""
    flat = faces[:2]
    low, high = flat.min(axis=1, keepdims=True), flat.max(axis=1, keepdims=True)
    result: Bools = (np.minimum(flat - low, high - flat) < _EVEN).all(axis=(0, 1))
    return result


def _height(faces: Floats, s: Floats, t: Floats) -> Floats:
    """(k,) the third coordinate of the planes of faces (3, 4, k) at `s` and `t` (k,)."""
    (a, b, c), (d, e, f) = faces[:, 2] - faces[:, 0], faces[:, 3] - faces[:, 1]
    normal = b * f - c * e, c * d - a * f, a * e - b * d
    steep = np.where(np.abs(normal[2]) > _FLAT, normal[2], 1.0)
    x, y, z = faces.mean(axis=1)
    result: Floats = z - ((s - x) * normal[0] + (t - y) * normal[1]) / steep
    return result


def _shared(a: Floats, b: Floats, least: float) -> tuple[Floats, Floats]:
    """From where to where (k,) along x two convex quadrangles (2, 4, k) overlap by `least` across it.

    Between two corners of either the sides are straight, and so are the widths: the ends follow from both ends.
    """
    places = np.sort(np.concatenate((a[0], b[0])), axis=0)
    (low_a, high_a), (low_b, high_b) = (_across(face, places) for face in (a, b))
    inside = np.isfinite(low_a) & np.isfinite(low_b)
    enter, leave = np.zeros_like(places[1:]), np.ones_like(places[1:])
    for high, low in ((high_a, low_b), (high_b, low_a)):
        width = np.where(inside, high - low - least, -1.0)
        start, stop = width[:-1], width[1:]
        slope = np.where(np.abs(stop - start) > _FLAT, stop - start, 1.0)
        cross = np.clip(-start / slope, 0.0, 1.0)
        enter = np.maximum(enter, np.where(start >= 0.0, 0.0, np.where(stop >= 0.0, cross, 1.0)))
        leave = np.minimum(leave, np.where(stop >= 0.0, 1.0, np.where(start >= 0.0, cross, 0.0)))
    wide = inside[:-1] & inside[1:] & (enter < leave)
    size = np.diff(places, axis=0)
    low = np.where(wide, places[:-1] + enter * size, np.inf).min(axis=0)
    high = np.where(wide, places[:-1] + leave * size, -np.inf).max(axis=0)
    empty = low >= high
    return np.where(empty, 0.0, low), np.where(empty, 0.0, high)


def _across(faces: Floats, places: Floats) -> tuple[Floats, Floats]:
    """The least and the greatest y (p, k) of convex faces (2, 4, k) at x of `places` (p, k); not finite beside them.

    Both are linear between the corners.
    """
    low, high = np.full_like(places, np.inf), np.full_like(places, -np.inf)
    for start, end in zip(np.moveaxis(faces, 1, 0), np.moveaxis(np.roll(faces, -1, axis=1), 1, 0), strict=True):
        size = end[0] - start[0]
        upright = np.abs(size) <= _FLAT
        share = np.where(upright, 0.0, (places - start[0]) / np.where(upright, 1.0, size))
        on = (share >= -_FLAT) & (share <= 1.0 + _FLAT) & (~upright | (np.abs(places - start[0]) <= _FLAT))
        y = start[1] + share * (end[1] - start[1])
        low, high = np.where(on, np.minimum(low, y), low), np.where(on, np.maximum(high, y), high)
    return low, high
