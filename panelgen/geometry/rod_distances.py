"""Straight round rods against hexahedra, exactly and many at a time.

A point of a convex body is within `r` of a cylinder's axis, between its end planes, exactly where the
body cut by those planes and seen along the axis comes within `r` of the axis. Seen so, the cut body is
a convex polygon: its outline consists of cut edges of the body and of chords where the end planes cut
its faces. So the distance is the least distance from one point to a few segments of a plane.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import EDGES, FACE_EDGES, hexahedra_planes
from panelgen.geometry.lines import in_planes, perpendiculars
from panelgen.geometry.rods import Bools, Rods
from panelgen.geometry.vectors import lengths

__all__ = ["axis_distances", "ways_out"]

_FLAT = 1e-12
_SHORT = 1e-9


def axis_distances(rods: Rods, corners: Floats) -> Floats:
    """(n,) least distance from the axis of rod k to hexahedron k (n, 8, 3), between the rod's end planes.

    0 where the axis enters the body, infinite where the body lies wholly beyond an end plane, mm. The
    straight part of the rod meets the body exactly where this is at most its radius.
    """
    if not len(rods):
        return np.empty(0)
    cut = _Cut.of(rods, corners)
    nearest = np.where(cut.between, _squared(cut.seen, cut.along, cut.low, cut.high), np.inf).min(axis=1)
    for end in range(2):
        places = cut.seen + cut.at[:, end, :, None] * cut.along
        nearest = np.minimum(nearest, _chord_distances(cut.crossed[:, end], places))
    low, high = in_planes(rods.start, rods.direction, *hexahedra_planes(corners))
    enters = np.maximum(low, 0.0) <= np.minimum(high, rods.length)
    result: Floats = np.where(enters, 0.0, np.sqrt(nearest))
    return result


def ways_out(rods: Rods, corners: Floats) -> Floats:
    """(n,) how far each rod must move to leave its hexahedron: sideways, or back along itself from a flat end.

    For pairs that meet, mm. Sideways it is the least push along a normal of the outline of the cut body,
    or straight away from a corner of it.
    """
    if not len(rods):
        return np.empty(0)
    cut = _Cut.of(rods, corners)
    ends = [cut.seen + at[..., None] * cut.along for at in (cut.low, cut.high)]
    drawn = np.tile(cut.between, 2)
    some = np.where(drawn, np.arange(drawn.shape[1]), drawn.argmax(axis=1)[:, None])
    outline = np.take_along_axis(np.concatenate(ends, axis=1), some[..., None], axis=1)
    normals, _ = hexahedra_planes(corners)
    faces = np.stack([np.einsum("nfc,nc->nf", normals, side) for side in perpendiculars(rods.direction)], axis=2)
    turned = np.stack((-cut.along[..., 1], cut.along[..., 0]), axis=2)
    pushes = np.concatenate((turned, faces, outline), axis=1)
    size = lengths(pushes)[..., None]
    pushes = pushes / np.maximum(size, _FLAT)
    shadow = np.einsum("npc,noc->onp", pushes, outline)
    reach = np.minimum(shadow.max(axis=0), -shadow.min(axis=0))
    sideways = np.where(size[..., 0] > _SHORT, reach, np.inf).min(axis=1) + rods.radius
    from_start = np.where(rods.bend_start, np.inf, cut.height.max(axis=1))
    from_end = np.where(rods.bend_end, np.inf, rods.length - cut.height.min(axis=1))
    result: Floats = np.minimum(sideways, np.minimum(from_start, from_end))
    return result


@dataclass(frozen=True, slots=True, eq=False)
class _Cut:
    """Hexahedra seen along the axes of rods, their edges cut between the end planes.

    `height` (n, 8) of the corners along the axis; `seen` and `along` (n, 12, 2) are where each edge
    begins and its direction, seen along the axis; `low` and `high` (n, 12) the stretch of it between
    the end planes; `at` and `crossed` (n, 2, 12) where, and whether, each end plane crosses it.
    """

    height: Floats
    seen: Floats
    along: Floats
    low: Floats
    high: Floats
    between: Bools
    at: Floats
    crossed: Bools

    @classmethod
    def of(cls, rods: Rods, corners: Floats) -> _Cut:
        axes = np.stack((rods.direction, *perpendiculars(rods.direction)), axis=1)
        local = np.einsum("nvc,nac->nva", corners - rods.start[:, None], axes)
        begin, finish = local[:, EDGES[:, 0]], local[:, EDGES[:, 1]]
        a, b = begin[..., 0], finish[..., 0]
        ends = np.stack((np.zeros_like(rods.length), rods.length), axis=1)[:, :, None]
        level = np.abs(b - a) < _FLAT
        at = (ends - a[:, None]) / np.where(level, _FLAT, b - a)[:, None]
        return cls(
            local[..., 0],
            begin[..., 1:],
            finish[..., 1:] - begin[..., 1:],
            np.where(level, 0.0, np.clip(at.min(axis=1), 0.0, 1.0)),
            np.where(level, 1.0, np.clip(at.max(axis=1), 0.0, 1.0)),
            (np.maximum(a, b) >= 0) & (np.minimum(a, b) <= rods.length[:, None]),
            at,
            (a[:, None] < ends) != (b[:, None] < ends),
        )


def _chord_distances(crossed: Bools, places: Floats) -> Floats:
    """(n,) squared distance from the axis to the nearest chord that an end plane cuts in a face.

    `crossed` (n, 12) are the edges the plane crosses, at `places` (n, 12, 2). A plane that crosses a convex
    face crosses just two of its edges: the first and the last of them in the face's cycle.
    """
    around = crossed[:, FACE_EDGES]
    first = np.argmax(around, axis=2)
    last = 3 - np.argmax(around[:, :, ::-1], axis=2)
    face = np.arange(6)
    rows = np.arange(len(crossed))[:, None]
    begin = places[rows, FACE_EDGES[face, first]]
    along = places[rows, FACE_EDGES[face, last]] - begin
    squared = _squared(begin, along, np.zeros(first.shape), np.ones(first.shape))
    result: Floats = np.where(around.any(axis=2), squared, np.inf).min(axis=1)
    return result


def _squared(from_: Floats, along: Floats, low: Floats, high: Floats) -> Floats:
    """Squared distance from the origin to ``from_ + s · along`` for s in [low, high]; (..., 2) and (...)."""
    fx, fy, ax, ay = from_[..., 0], from_[..., 1], along[..., 0], along[..., 1]
    s = np.clip(-(fx * ax + fy * ay) / np.maximum(ax * ax + ay * ay, _FLAT), low, high)
    result: Floats = (fx + s * ax) ** 2 + (fy + s * ay) ** 2
    return result
