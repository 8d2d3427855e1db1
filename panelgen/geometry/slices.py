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

__all__ = ["sliced_volume", "touching_heights"]

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(12)
_PIECES = 24
_SIDES = 512
_LEVEL = 1e-9


def sliced_volume(
    section: Callable[[float], Any], cylinders: Sequence[Cylinder], breaks: Sequence[float], height: float, reach: float
) -> float:
    """Volume, mm3, that the cylinders share with the solid whose section at z is ``section(z)``.

    Sections are shapely areas within `reach` mm of the origin. `breaks` are heights between 0 and
    `height` where the area is not smooth, as from `touching_heights`; they may hold others.
    """
    inner = sorted(z for z in breaks if 0.0 < z < height)
    steps = [height * k / _PIECES for k in range(_PIECES + 1)]
    stops = sorted({0.0, height, *inner, *steps})
    outlines = [_Outline(cylinder, reach) for cylinder in cylinders]
    total = 0.0
    for low, high in pairwise(stops):
        if high - low < _LEVEL:
            continue
        angles = (_NODES + 1) * (math.pi / 2)
        heights = (low + high) / 2 - (high - low) / 2 * np.cos(angles)
        weights = _WEIGHTS * (math.pi / 2) * (high - low) / 2 * np.sin(angles)
        taken = [outlines[0].at(z) for z in heights]
        for outline in outlines[1:]:
            taken = shapely.union(taken, [outline.at(z) for z in heights])
        areas = shapely.area(shapely.intersection(taken, [section(z) for z in heights]))
        total += float(np.dot(weights, areas))
    return total


def touching_heights(cylinder: Cylinder, planes: Sequence[HalfSpace]) -> list[float]:
    """Heights z where the cylinder's outline on the plane at z starts or ends to touch a plane, mm."""
    (px, py, pz), (ax, ay, az), r = cylinder.point, cylinder.axis, cylinder.radius
    if abs(az) < _LEVEL:
        return [pz - r, pz + r]
    sx, sy = ax / az, ay / az
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


class _Outline:
    """What a cylinder takes from the plane at any height: an ellipse, or a strip where it lies level."""

    def __init__(self, cylinder: Cylinder, reach: float) -> None:
        self._cylinder = cylinder
        self._length = 2 * reach + math.dist(cylinder.point, (0.0, 0.0, 0.0))
        az = cylinder.axis[2]
        self._ellipse = None
        if abs(az) >= _LEVEL:
            across = Across.to(cylinder.axis)
            flat = np.array(disc(cylinder, across, _SIDES).exterior.coords)
            points = flat @ np.array((across.u, across.v))
            self._slope = np.array(cylinder.axis[:2]) / az
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
