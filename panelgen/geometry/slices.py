"""Volumes by slices, for bores that cross one another or a notch at an angle, where no fibre is straight.

The area that cylinders take from a plane section is integrated over z by Gauss-Legendre quadrature.
Between the places where an outline starts or ends to touch a line of the section the area is smooth,
but it may leave them like a square root; a cosine substitution makes it smooth there too.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import shapely

from panelgen.geometry.fibres import Across, disc
from panelgen.geometry.frames import add, scaled
from panelgen.geometry.lofts import Cylinder, HalfSpace

__all__ = ["meeting_heights", "sliced_volume", "touching_heights"]

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(10)
_ANGLES = (_NODES + 1) * (math.pi / 2)
_SIDES = 512
_LEVEL = 1e-9
_DEEPEST = 8
_CLOSE = 1e-8  # of the section's area: the volume is then good to that of the whole


def sliced_volume(
    section: Callable[[float], Any], cylinders: Sequence[Cylinder], breaks: Sequence[float], height: float, reach: float
) -> float:
    """Volume, mm3, that the cylinders share with the solid whose section at z is ``section(z)``.

    Sections are shapely areas within `reach` mm of the origin. `breaks` are heights between 0 and
    `height` where the area is not smooth, from `touching_heights` and `meeting_heights`; they may hold
    others. Stretches between them are halved until halving changes nothing that matters.
    """
    outlines = [_Outline(cylinder, reach) for cylinder in cylinders]

    def between(low: float, high: float) -> float:
        heights = (low + high) / 2 - (high - low) / 2 * np.cos(_ANGLES)
        weights = _WEIGHTS * (math.pi / 4) * (high - low) * np.sin(_ANGLES)
        taken = [outlines[0].at(z) for z in heights]
        for outline in outlines[1:]:
            taken = shapely.union(taken, [outline.at(z) for z in heights])
        areas = shapely.area(shapely.intersection(taken, [section(z) for z in heights]))
        return float(np.dot(weights, areas))

    def refined(low: float, high: float, whole: float, depth: int) -> float:
        middle = (low + high) / 2
        near, far = between(low, middle), between(middle, high)
        if abs(near + far - whole) <= close * (high - low) or depth == 0:
            return near + far
        return refined(low, middle, near, depth - 1) + refined(middle, high, far, depth - 1)

    close = _CLOSE * max(1.0, *(section(z).area for z in (0.0, height / 2, height)))
    stops = sorted({0.0, height, *(z for z in breaks if 0.0 < z < height)})
    stretches = [(low, high) for low, high in pairwise(stops) if high - low > _LEVEL]
    return sum(refined(low, high, between(low, high), _DEEPEST) for low, high in stretches)


def touching_heights(cylinder: Cylinder, planes: Sequence[HalfSpace]) -> list[float]:
    """Heights z where the cylinder's outline on the plane at z starts or ends to touch a plane, mm."""
    if _is_level(cylinder):
        return _strip_touches(cylinder, planes)
    (px, py, pz), r = cylinder.point, cylinder.radius
    sx, sy = _slope(cylinder)
    found = []
    for plane in planes:
        nx, ny, nz = plane.normal
        rate = nx * sx + ny * sy + nz
        if abs(rate) < _LEVEL:
            continue
        reach = r * math.sqrt(nx * nx + ny * ny + (nx * sx + ny * sy) ** 2)
        at_zero = nx * (px - sx * pz) + ny * (py - sy * pz) - plane.offset
        found += [(side * reach - at_zero) / rate for side in (-1.0, 1.0)]
    return found


def meeting_heights(a: Cylinder, b: Cylinder) -> list[float]:
    """Heights z where the outlines of two cylinders, at least one of them level, start or end to touch, mm."""
    if _is_level(a) and _is_level(b):
        return _parallel_crossings(a, b)
    if not _is_level(a) and not _is_level(b):
        return []
    level, leaning = (a, b) if _is_level(a) else (b, a)
    nx, ny = -level.axis[1], level.axis[0]
    sx, sy = _slope(leaning)
    (ax, ay, _), (bx, by, bz) = level.point, leaning.point
    rate = nx * sx + ny * sy
    at_zero = nx * (bx - ax) + ny * (by - ay) - rate * bz
    reach = leaning.radius * math.hypot(1.0, rate)
    return [z for side in (-reach, reach) for z in _half_width_is(level, at_zero + side, rate)]


def _parallel_crossings(a: Cylinder, b: Cylinder) -> list[float]:
    """Heights of the lines in which two parallel level cylinders cross; none for others."""
    nx, ny = -a.axis[1], a.axis[0]
    if abs(nx * b.axis[0] + ny * b.axis[1]) > _LEVEL:
        return []
    aside = nx * (b.point[0] - a.point[0]) + ny * (b.point[1] - a.point[1])
    up = b.point[2] - a.point[2]
    apart = math.hypot(aside, up)
    if not abs(a.radius - b.radius) < apart < a.radius + b.radius:
        return []
    along = (apart**2 + a.radius**2 - b.radius**2) / (2 * apart)
    half = math.sqrt(max(0.0, a.radius**2 - along**2))
    return [a.point[2] + (up * along + side * aside * half) / apart for side in (-1.0, 1.0)]


def _is_level(cylinder: Cylinder) -> bool:
    return abs(cylinder.axis[2]) < _LEVEL


def _slope(cylinder: Cylinder) -> tuple[float, float]:
    """How far the axis moves in x and in y per mm of z."""
    ax, ay, az = cylinder.axis
    return ax / az, ay / az


def _strip_touches(cylinder: Cylinder, planes: Sequence[HalfSpace]) -> list[float]:
    """The lowest and highest line of a level cylinder, and where its strip has an edge on a plane along it."""
    (px, py, pz), (ax, ay, _), r = cylinder.point, cylinder.axis, cylinder.radius
    found = [pz - r, pz + r]
    for plane in planes:
        nx, ny, nz = plane.normal
        size = math.hypot(nx, ny)
        if size > _LEVEL and abs(nx * ax + ny * ay) < _LEVEL * size:
            found += _half_width_is(cylinder, (plane.offset - nx * px - ny * py) / size, -nz / size)
    return found


def _half_width_is(level: Cylinder, at_zero: float, rate: float) -> list[float]:
    """Heights z where half the width of a level cylinder's strip is ``|at_zero + rate * z|``."""
    z0 = level.point[2]
    square = 1.0 + rate * rate
    half = at_zero * rate - z0
    rest = at_zero * at_zero + z0 * z0 - level.radius**2
    root = half * half - square * rest
    return [] if root < 0.0 else [(-half + side * math.sqrt(root)) / square for side in (-1.0, 1.0)]


class _Outline:
    """What a cylinder takes from the plane at any height: an ellipse, or a strip where it lies level."""

    def __init__(self, cylinder: Cylinder, reach: float) -> None:
        self._cylinder = cylinder
        self._length = 2 * reach + math.dist(cylinder.point, (0.0, 0.0, 0.0))
        self._ellipse = None
        if not _is_level(cylinder):
            across = Across.to(cylinder.axis)
            flat = np.array(disc(cylinder, across, _SIDES).exterior.coords)
            points = flat @ np.array((across.u, across.v))
            self._slope = np.array(_slope(cylinder))
            self._ellipse = points[:, :2] - points[:, 2:] * self._slope

    def at(self, z: float) -> Any:
        """The outline at height z, a shapely polygon."""
        if self._ellipse is not None:
            return shapely.Polygon(self._ellipse + z * self._slope)
        away = self._cylinder.radius**2 - (z - self._cylinder.point[2]) ** 2
        half = math.sqrt(max(0.0, away))
        ax, ay, _ = self._cylinder.axis
        side, along = (-ay * half, ax * half, 0.0), scaled((ax, ay, 0.0), self._length)
        ends = (add(self._cylinder.point, along), add(self._cylinder.point, scaled(along, -1.0)))
        corners = (
            add(ends[0], side),
            add(ends[1], side),
            add(ends[1], scaled(side, -1.0)),
            add(ends[0], scaled(side, -1.0)),
        )
        return shapely.Polygon([corner[:2] for corner in corners])
