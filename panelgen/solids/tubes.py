"""Tubes as solids: straight ones as cylinders, bent ones mitred wall by wall."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

from panelgen.geometry.frames import scaled
from panelgen.geometry.mitres import Tube
from panelgen.solids.edges import direction, planar_face, point, solid_of
from panelgen.solids.round_faces import round_end, wall

__all__ = ["tube_solid"]


def tube_solid(tube: Tube) -> Any:
    """The solid of a tube, in the coordinates of its points."""
    if len(tube.points) == 2:
        return _straight(tube)
    axes = (*tube.directions, tube.directions[-1])
    ends = [
        round_end(centre, normal, axis, tube.radius, seam)
        for centre, normal, axis, seam in zip(tube.points, tube.normals, axes, tube.seams, strict=True)
    ]
    walls = [
        wall(low, high, axis, tube.radius) for (low, high), axis in zip(pairwise(ends), tube.directions, strict=True)
    ]
    start = planar_face(tube.points[0], scaled(tube.normals[0], -1.0), ends[0].backward())
    end = planar_face(tube.points[-1], tube.normals[-1], ends[-1].forward())
    return solid_of([*walls, start, end])


def _straight(tube: Tube) -> Any:
    from OCP.BRepPrimAPI import BRepPrimAPI_MakeCylinder
    from OCP.gp import gp_Ax2

    start, end = tube.points
    place = gp_Ax2(point(start), direction(tube.directions[0]))
    return BRepPrimAPI_MakeCylinder(place, tube.radius, math.dist(start, end)).Shape()
