"""Plane areas in triangles, and circles in chords."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely

from panelgen.geometry.frames import Floats
from panelgen.meshes.mesh import Indices

__all__ = ["chords", "triangulated"]

_SAGITTA = 0.25
_FEWEST = 16
_QUAD: Indices = np.array([(0, 1, 2), (0, 2, 3)], dtype=np.int32)


def chords(radius: float) -> int:
    """How many chords stand for a circle, a multiple of four: none leaves it by more than 0.25 mm."""
    needed = math.pi / math.acos(max(0.0, 1.0 - _SAGITTA / radius))
    return max(_FEWEST, 4 * math.ceil(needed / 4))


def triangulated(rings: Sequence[Floats]) -> Indices:
    """(m, 3) counter-clockwise triangles over the rows of all rings together.

    Rings are (n, 2), the outline first; cut-outs keep clear of it and of one another. Every ring edge is
    a triangle edge and no point is added or left out, so faces that share a ring fit together.
    """
    points = np.concatenate(rings)
    if len(points) == 4:
        return _QUAD
    area = shapely.Polygon(rings[0], rings[1:])
    corners = shapely.get_coordinates(shapely.constrained_delaunay_triangles(area)).reshape(-1, 4, 2)[:, :3]
    at = {place: row for row, place in enumerate(map(tuple, points.tolist()))}
    found = [at[place] for place in map(tuple, corners.reshape(-1, 2).tolist())]
    triangles = np.array(found, dtype=np.int32).reshape(-1, 3)
    ab, ac = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    clockwise = ab[:, 0] * ac[:, 1] < ab[:, 1] * ac[:, 0]
    triangles[clockwise] = triangles[clockwise][:, ::-1]
    return triangles
