"""Tubes as closed meshes: one ring of points carried along the run, and a lid on each end."""

from __future__ import annotations

import math

import numpy as np

from panelgen.geometry.frames import Floats, cross
from panelgen.geometry.mitres import Tube
from panelgen.meshes.mesh import Mesh
from panelgen.meshes.triangles import chords

__all__ = ["tube_mesh"]


def tube_mesh(tube: Tube) -> Mesh:
    """The closed mesh of a tube, in the coordinates of its points."""
    count, planes = chords(tube.radius), len(tube.points)
    rings = np.empty((planes, count, 3))
    rings[0] = _first_ring(tube, count)
    for k, direction in enumerate(np.array(tube.directions)):
        normal, point = np.array(tube.normals[k + 1]), np.array(tube.points[k + 1])
        ahead = (point - rings[k]) @ normal / (direction @ normal)
        rings[k + 1] = rings[k] + ahead[:, None] * direction
    here = np.arange(count, dtype=np.int32)
    around = np.roll(here, -1)
    faces = []
    for low in range(0, (planes - 1) * count, count):
        high = low + count
        faces.append(np.column_stack((here + low, around + low, around + high)))
        faces.append(np.column_stack((here + low, around + high, here + high)))
    fan = np.column_stack((np.zeros(count - 2, dtype=np.int32), here[1:-1], here[2:]))
    faces += [fan[:, ::-1], fan + (planes - 1) * count]
    return Mesh(rings.reshape(-1, 3), np.concatenate(faces).astype(np.int32))


def _first_ring(tube: Tube, count: int) -> Floats:
    """(count, 3) points around the start, counter-clockwise about the direction, from the seam."""
    centre = np.array(tube.points[0])
    spoke = np.array(tube.seams[0]) - centre
    x, y, z = map(float, spoke)
    aside = np.array(cross(tube.directions[0], (x, y, z)))
    angles = np.arange(count)[:, None] * (2 * math.pi / count)
    ring: Floats = centre + np.cos(angles) * spoke + np.sin(angles) * aside
    return ring
