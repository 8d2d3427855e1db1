"""Sticks as convex bodies of eight corners: their planes, distances to points, overlap of two of them.

A lot of n hexahedra is its corners, (n, 8, 3) float, mm. The bits of a corner's index say where it is:
4 at the end (x), 2 at the far width (y), 1 at the far thickness (z). The four edges along the length are
parallel. Most bodies are sections of a stick between two planes, with one edge direction each way at either
end; those of any other section are skew.
"""

from __future__ import annotations

import numpy as np

from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.geometry.vectors import crosses, lengths

__all__ = [
    "EDGES",
    "FACE_CORNERS",
    "FACE_EDGES",
    "are_parted",
    "box_corners",
    "hexahedra_planes",
    "overlap_depths",
    "point_distances",
]

EDGES = np.array(
    [(0, 4), (1, 5), (2, 6), (3, 7), (0, 2), (1, 3), (4, 6), (5, 7), (0, 1), (2, 3), (4, 5), (6, 7)], dtype=np.int64
)
"""(12, 2) corner indices of each edge: along x, along y, along z."""

_FACES = ((0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3))
_EDGE_AT = {frozenset(pair): number for number, pair in enumerate(EDGES.tolist())}

FACE_EDGES = np.array(
    [[_EDGE_AT[frozenset((a, b))] for a, b in zip(face, face[1:] + face[:1], strict=True)] for face in _FACES],
    dtype=np.int64,
)
"""(6, 4) edge indices around each face: start, end, near and far width, near and far thickness."""

FACE_CORNERS = np.array(_FACES, dtype=np.int64)
"""(6, 4) corner indices around each face, in the order of `FACE_EDGES`."""

_UNIT_CORNERS = np.array([(k >> 2 & 1, k >> 1 & 1, k & 1) for k in range(8)], dtype=float)
_FLAT = 1e-12
_TWIST = 1e-6


def box_corners(low: Floats, high: Floats) -> Floats:
    """(n, 8, 3) corners of the boxes between `low` and `high`, (n, 3) each."""
    result: Floats = low[:, None] + _UNIT_CORNERS * (high - low)[:, None]
    return result


def hexahedra_planes(corners: Floats) -> tuple[Floats, Floats]:
    """Outward unit normals (n, 6, 3) and offsets (n, 6): a point x is inside where normal · x <= offset.

    A face that has shrunk to a line gets a zero normal, which bounds nothing.
    """
    faces = corners[:, FACE_CORNERS]
    normals = crosses(faces[:, :, 2] - faces[:, :, 0], faces[:, :, 3] - faces[:, :, 1])
    normals = _unit(normals)
    outward = np.einsum("nfc,nfc->nf", normals, faces.mean(axis=2) - corners.mean(axis=1)[:, None])
    normals *= np.where(outward < 0, -1.0, 1.0)[..., None]
    return normals, np.einsum("nfc,nfc->nf", normals, faces[:, :, 0])


def _unit(vectors: Floats) -> Floats:
    size = lengths(vectors)[..., None]
    result: Floats = np.where(size > _FLAT, vectors / np.maximum(size, _FLAT), 0.0)
    return result


def point_distances(points: Floats, corners: Floats) -> Floats:
    """(n,) distance from each point (n, 3) to its hexahedron, 0 inside it, mm."""
    if not len(points):
        return np.empty(0)
    normals, offsets = hexahedra_planes(corners)
    height = np.einsum("nfc,nc->nf", normals, points) - offsets
    foot = points[:, None] - height[..., None] * normals
    beyond = np.einsum("nfc,ngc->ngf", normals, foot) - offsets[:, None]
    on_face = (beyond <= 1e-9).all(axis=-1) & (height > 0)
    to_face = np.where(on_face, height, np.inf).min(axis=1)
    a, b = corners[:, EDGES[:, 0]], corners[:, EDGES[:, 1]]
    along, offset = b - a, points[:, None] - a
    size = np.maximum(np.einsum("nec,nec->ne", along, along), _FLAT)
    at = np.clip(np.einsum("nec,nec->ne", offset, along) / size, 0.0, 1.0)
    to_edge = lengths(offset - at[..., None] * along).min(axis=1)
    result: Floats = np.where((height <= 0).all(axis=1), 0.0, np.minimum(to_face, to_edge))
    return result


def are_parted(a: Floats, b: Floats, slack: float) -> Bools:
    """(n,) whether a face of a or of b has the other body beyond it, or no more than `slack` mm of it behind.

    Much cheaper than `overlap_depths`, and enough for most bodies that are apart.
    """
    parted = np.zeros(len(a), dtype=bool)
    for one, other in ((a, b), (b, a)):
        normals, offsets = hexahedra_planes(one)
        behind = offsets - (normals @ np.swapaxes(other, 1, 2)).min(axis=2)
        parted |= ((behind <= slack) & normals.any(axis=2)).any(axis=1)
    return parted


def overlap_depths(a: Floats, b: Floats) -> Floats:
    """(n,) how far hexahedron b must move to leave hexahedron a, mm; negative where a plane parts them.

    Separating axis theorem: two convex polyhedra are parted along a face normal of either, or along
    the cross product of an edge of each, and the same axes give the least way out.
    """
    if not len(a):
        return np.empty(0)
    along_a, along_b = _edge_directions(a), _edge_directions(b)
    crossed = crosses(along_a[:, :, None], along_b[:, None]).reshape(len(a), 25, 3)
    depth = _least_way(a, b, np.concatenate((_face_normals(along_a), _face_normals(along_b), crossed), axis=1))
    skew = np.flatnonzero(_is_skew(a) | _is_skew(b))
    if len(skew):
        a, b = a[skew], b[skew]
        all_a, all_b = _all_directions(a, along_a[skew]), _all_directions(b, along_b[skew])
        crossed = crosses(all_a[:, :, None], all_b[:, None]).reshape(len(a), 81, 3)
        normals = [hexahedra_planes(one)[0] for one in (a, b)]
        depth[skew] = _least_way(a, b, np.concatenate((*normals, crossed), axis=1))
    return depth


def _least_way(a: Floats, b: Floats, axes: Floats) -> Floats:
    """(n,) the least way out of each pair of bodies along its axes (n, k, 3); those near zero are left out."""
    axes = _unit(axes)
    shadow_a = np.einsum("nkc,nvc->nkv", axes, a)
    shadow_b = np.einsum("nkc,nvc->nkv", axes, b)
    depth = np.minimum(shadow_a.max(axis=2) - shadow_b.min(axis=2), shadow_b.max(axis=2) - shadow_a.min(axis=2))
    drawn = np.abs(axes).max(axis=2) > 0.5 * 3**-0.5
    result: Floats = np.where(drawn, depth, np.inf).min(axis=1)
    return result


def _all_directions(corners: Floats, along: Floats) -> Floats:
    """(n, 9, 3) unit: along the length, and every edge of both ends."""
    ends = corners[:, EDGES[4:, 1]] - corners[:, EDGES[4:, 0]]
    return np.concatenate((along[:, :1], _unit(ends)), axis=1)


def _is_skew(corners: Floats) -> Bools:
    """(n,) whether an end of a body is no parallelogram."""
    twist = corners[:, 3::4] - corners[:, 1::4] - corners[:, 2::4] + corners[:, 0::4]
    result: Bools = np.abs(twist).max(axis=(1, 2)) > _TWIST
    return result


_DIRECTIONS = np.array([(0, 4), (0, 2), (0, 1), (4, 6), (4, 5)], dtype=np.int64)


def _edge_directions(corners: Floats) -> Floats:
    """(n, 5, 3) unit: along the length, across the width and thickness at the start, the same at the end."""
    edges = corners[:, _DIRECTIONS[:, 1]] - corners[:, _DIRECTIONS[:, 0]]
    longest = lengths(corners[:, 4:] - corners[:, :4]).argmax(axis=1)
    rows = np.arange(len(corners))
    edges[:, 0] = corners[rows, longest + 4] - corners[rows, longest]
    return _unit(edges)


def _face_normals(along: Floats) -> Floats:
    """(n, 4, 3) normals of the sides and of both ends."""
    return crosses(along[:, [0, 0, 1, 3]], along[:, [1, 2, 2, 4]])
