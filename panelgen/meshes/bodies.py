"""Bodies as closed meshes, straight from their outlines."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import combinations
from typing import Any

import numpy as np
import shapely

from panelgen.geometry.fibres import Across
from panelgen.geometry.frames import Floats
from panelgen.geometry.lofts import Body, Cylinder, Hole, Loft
from panelgen.meshes.mesh import Indices, Mesh, joined
from panelgen.meshes.triangles import chords, triangulated

__all__ = ["Tessellate", "body_mesh"]

Tessellate = Callable[[Body, float], tuple[Floats, Indices]]
"""Vertices and faces of a body that only a CAD kernel can cut, given its volume, mm3."""

_SAME = 1e-4
_GROWTHS = (0.0, 0.001, 0.003)


def body_mesh(body: Body, volume: Callable[[], float], tessellate: Tessellate) -> Mesh:
    """A closed mesh of a body in its own coordinates.

    Bores square to upright lofts are cut in the plane. Others go to `tessellate`, with the body's `volume`.
    """
    if body.is_plain:
        return joined([_between(_near_rings(loft), _far_rings(loft), loft.height) for loft in body.lofts])
    bores = [bore for group in body.bores for bore in group]
    is_plane = not body.trims and all(loft.is_upright for loft in body.lofts) and all(map(_is_square, bores))
    return (_cut_in_plane(body, bores) if is_plane else None) or Mesh(*tessellate(body, volume()))


def _is_square(bore: Cylinder) -> bool:
    return bore.axis == (0.0, 0.0, 1.0)


def _between(near: Sequence[Floats], far: Sequence[Floats], height: float) -> Mesh:
    """The mesh between rings at z = 0 and their twins at `height`."""
    low, high = np.concatenate(near), np.concatenate(far)
    count = len(low)
    vertices = np.empty((2 * count, 3))
    vertices[:count, :2], vertices[count:, :2] = low, high
    vertices[:count, 2], vertices[count:, 2] = 0.0, height
    bottom = triangulated(near)
    top = bottom if np.array_equal(low, high) else triangulated(far)
    here = np.arange(count, dtype=np.int32)
    ends = np.cumsum([len(ring) for ring in near])
    ahead = here + 1
    ahead[ends - 1] = np.concatenate(([0], ends[:-1]))
    sides = np.concatenate(
        (np.column_stack((here, ahead, ahead + count)), np.column_stack((here, ahead + count, here + count)))
    )
    return Mesh(vertices, np.concatenate((bottom[:, ::-1], top + count, sides)).astype(np.int32))


def _near_rings(loft: Loft) -> list[Floats]:
    return [*map(np.array, loft.near), *(_outline(hole, loft.height) + hole.near for hole in loft.holes)]


def _far_rings(loft: Loft) -> list[Floats]:
    return [*map(np.array, loft.far), *(_outline(hole, loft.height) + hole.far for hole in loft.holes)]


def _outline(hole: Hole, height: float) -> Floats:
    """(n, 2) clockwise outline of a hole on either plane, about its centre there."""
    dx, dy = hole.far[0] - hole.near[0], hole.far[1] - hole.near[1]
    size = math.hypot(dx, dy, height)
    across = Across.to((dx / size, dy / size, height / size))
    points = _circle(hole.radius) @ np.array((across.u, across.v))
    result: Floats = points[:, :2] - points[:, 2:] * (np.array((dx, dy)) / height)
    return result


def _circle(radius: float) -> Floats:
    """(n, 2) clockwise points on a circle about the origin."""
    count = chords(radius)
    angles = -np.arange(count) * (2 * math.pi / count)
    return radius * np.column_stack((np.cos(angles), np.sin(angles)))


def _cut_in_plane(body: Body, bores: Sequence[Cylinder]) -> Mesh | None:
    """What square bores leave of upright lofts; None where even bores a little larger only touch an edge."""
    for growth in _GROWTHS:
        cuts = shapely.union_all([shapely.Polygon(_circle(bore.radius + growth) + bore.point[:2]) for bore in bores])
        pieces = [
            (loft, shapely.remove_repeated_points(piece, _SAME))
            for loft in body.lofts
            for piece in shapely.get_parts(shapely.Polygon(loft.near[0], loft.near[1:]).difference(cuts))
        ]
        if pieces and _are_apart([piece for _, piece in pieces]):
            return joined([_piece(loft, piece) for loft, piece in pieces])
    return None


def _are_apart(pieces: Sequence[Any]) -> bool:
    """Whether no two rings touch, so that each edge of the mesh belongs to two faces and no more."""
    rings = [ring for piece in pieces for ring in (piece.exterior, *piece.interiors)]
    return all(a.distance(b) > _SAME for a, b in combinations(rings, 2))


def _piece(loft: Loft, piece: Any) -> Mesh:
    own = [hole for hole in loft.holes if piece.contains(shapely.Point(hole.near))]
    rings = [*_rings(piece), *(_outline(hole, loft.height) + hole.near for hole in own)]
    return _between(rings, rings, loft.height)


def _rings(polygon: Any) -> list[Floats]:
    turned = shapely.geometry.polygon.orient(polygon)
    return [np.array(ring.coords)[:-1] for ring in (turned.exterior, *turned.interiors)]
