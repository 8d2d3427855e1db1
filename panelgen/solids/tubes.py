"""Tubes as solids: straight lengths as extruded circles, bent ones mitred wall by wall."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from panelgen.geometry.frames import scaled
from panelgen.geometry.mitres import Tube
from panelgen.solids.edges import planar_face, solid_of
from panelgen.solids.round_faces import round_end, wall

__all__ = ["tube_solid"]


def tube_solid(tube: Tube) -> Any:
    """The solid of a tube, in the coordinates of its points."""
    axes = (*tube.directions, tube.directions[-1])
    ends = [
        round_end(point, normal, axis, tube.radius, seam)
        for point, normal, axis, seam in zip(tube.points, tube.normals, axes, tube.seams, strict=True)
    ]
    walls = [
        wall(low, high, axis, tube.radius) for (low, high), axis in zip(pairwise(ends), tube.directions, strict=True)
    ]
    start = planar_face(tube.points[0], scaled(tube.normals[0], -1.0), ends[0].backward())
    end = planar_face(tube.points[-1], tube.normals[-1], ends[-1].forward())
    return solid_of([*walls, start, end])
