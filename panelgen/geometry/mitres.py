"""Round runs along a polyline: lengths of tube, mitred where they bend.

At a mitre the plane between two lengths halves the angle, so both meet it in the same ellipse and the
volume is the section times the path. Where a bend is too sharp for its neighbours' length the run is
parted there into two tubes with flat ends, which leaves the volume as it is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from panelgen.geometry.fibres import Across
from panelgen.geometry.frames import Vec3, add, dot, scaled

__all__ = ["Tube", "corner_points", "tubes_along"]

_SHORTEST = 1e-6
_STRAIGHT = 1.0 - 1e-12
_SHARPEST = math.cos(math.radians(135.0))
_SPARE = 0.98


@dataclass(frozen=True, slots=True)
class Tube:
    """One length of `radius`: n points, n - 1 unit directions, n unit normals of the planes at the points.

    `seams` are n points on its surface, one at each plane, joined by lines along the directions. End
    planes are square to the axis; the others halve the bend.
    """

    radius: float
    points: tuple[Vec3, ...]
    directions: tuple[Vec3, ...]
    normals: tuple[Vec3, ...]
    seams: tuple[Vec3, ...]

    def carried(self, first: Vec3) -> tuple[Vec3, ...]:
        """A point of the first plane carried along the directions: its place on every plane."""
        places = [first]
        for direction, normal, point in zip(self.directions, self.normals[1:], self.points[1:], strict=True):
            here = places[-1]
            ahead = dot(add(point, scaled(here, -1.0)), normal) / dot(direction, normal)
            places.append(add(here, scaled(direction, ahead)))
        return tuple(places)


def tubes_along(path: Sequence[Vec3], radius: float) -> tuple[Tube, ...]:
    """Tubes of `radius` along `path`, mm, end to end. Repeated and straight-through points are left out."""
    points = corner_points(path)
    if len(points) < 2:
        return ()
    directions = [_unit(a, b) for a, b in pairwise(points)]
    cuts = [0, *_unmitrable(points, directions, radius), len(points) - 1]
    return tuple(_tube(radius, points[low : high + 1], directions[low:high]) for low, high in pairwise(cuts))


def _unit(a: Vec3, b: Vec3) -> Vec3:
    return scaled(add(b, scaled(a, -1.0)), 1.0 / math.dist(a, b))


def corner_points(path: Sequence[Vec3]) -> list[Vec3]:
    """The ends of a path and the points where it turns: repeated and straight-through points are left out."""
    kept: list[Vec3] = []
    for point in path:
        if kept and math.dist(kept[-1], point) < _SHORTEST:
            continue
        if len(kept) > 1 and dot(_unit(kept[-2], kept[-1]), _unit(kept[-1], point)) > _STRAIGHT:
            kept.pop()
        kept.append(point)
    return kept


def _unmitrable(points: list[Vec3], directions: list[Vec3], radius: float) -> list[int]:
    """Indices of the bends that must be parted: too sharp, or their mitre longer than the tube beside it."""
    setback = [0.0] * len(points)
    parted = []
    for k in range(1, len(points) - 1):
        cosine = dot(directions[k - 1], directions[k])
        if cosine < _SHARPEST:
            parted.append(k)
        else:
            setback[k] = radius * math.sqrt((1.0 - cosine) / (1.0 + cosine))
    for k in range(len(points) - 1):
        if setback[k] + setback[k + 1] > _SPARE * math.dist(points[k], points[k + 1]):
            worst = k if setback[k] > setback[k + 1] else k + 1
            setback[worst] = 0.0
            parted.append(worst)
            other = 2 * k + 1 - worst
            if setback[other] > _SPARE * math.dist(points[k], points[k + 1]):
                setback[other] = 0.0
                parted.append(other)
    return sorted(parted)


def _tube(radius: float, points: list[Vec3], directions: list[Vec3]) -> Tube:
    between = (scaled(both, 1.0 / math.sqrt(dot(both, both))) for both in (add(a, b) for a, b in pairwise(directions)))
    normals = (directions[0], *between, directions[-1])
    seam = add(points[0], scaled(Across.to(directions[0]).u, radius))
    bare = Tube(radius, tuple(points), tuple(directions), normals, ())
    return Tube(radius, bare.points, bare.directions, normals, bare.carried(seam))
