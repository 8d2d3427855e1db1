"""Volumes by fibres: the length of a convex body along one direction, integrated exactly.

Along a direction the body's chord is the least of its upper planes less the greatest of its lower
planes. Where one pair of planes decides, the chord is linear, so its integral over a polygon is area
times the value at the centroid. A disc is drawn as a polygon of the disc's true area; its outline then
leaves the circle by less than 2 parts in a million of the radius, in and out in turn.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
import shapely

from panelgen.geometry.frames import Floats, Point2, Vec3, add, cross, dot, scaled
from panelgen.geometry.lofts import Cylinder, HalfSpace

__all__ = ["Across", "chord_integral", "disc"]

_SIDES = 2048
_PARALLEL = 1e-12
_Form = tuple[float, float, float]


class Across(NamedTuple):
    """Two unit vectors that span the plane across a direction; u × v is the direction."""

    u: Vec3
    v: Vec3

    @classmethod
    def to(cls, direction: Vec3) -> Across:
        """For a unit `direction`; the same pair for equal directions, (x, y) for the z axis."""
        seed = (1.0, 0.0, 0.0) if abs(direction[0]) < 0.75 else (0.0, 1.0, 0.0)
        flat = add(seed, scaled(direction, -dot(seed, direction)))
        u = scaled(flat, 1 / math.sqrt(dot(flat, flat)))
        return cls(u, cross(direction, u))

    def place(self, point: Vec3) -> Point2:
        """Where a point is seen in the plane."""
        return dot(point, self.u), dot(point, self.v)


@lru_cache(maxsize=4)
def _unit_disc(sides: int) -> Floats:
    """(sides, 2) corners of a regular polygon of area π."""
    angles = np.arange(sides) * (2 * math.pi / sides)
    size = math.sqrt(2 * math.pi / (sides * math.sin(2 * math.pi / sides)))
    return size * np.column_stack((np.cos(angles), np.sin(angles)))


def disc(cylinder: Cylinder, across: Across, sides: int = _SIDES) -> Any:
    """The cylinder's section as a shapely polygon of its true area in the plane `across` its axis."""
    return shapely.Polygon(_unit_disc(sides) * cylinder.radius + across.place(cylinder.point))


def chord_integral(domain: Any, across: Across, body: Sequence[HalfSpace]) -> float:
    """Volume, mm3, of the part of a convex body that is seen inside `domain`, a shapely area in the plane.

    The body is what all half-spaces share; it must be bounded along the direction.
    """
    if domain.is_empty:
        return 0.0
    direction = cross(across.u, across.v)
    upper: list[_Form] = []
    lower: list[_Form] = []
    sides: list[_Form] = []
    for space in body:
        slope = dot(space.normal, direction)
        form = (-dot(space.normal, across.u), -dot(space.normal, across.v), space.offset)
        if abs(slope) <= _PARALLEL:
            sides.append(form)
        else:
            (upper if slope > 0 else lower).append((form[0] / slope, form[1] / slope, form[2] / slope))
    x0, y0, x1, y1 = domain.bounds
    window = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    total = 0.0
    for top in upper:
        for bottom in lower:
            chord = _less(top, bottom)
            rules = [*sides, chord]
            rules += [_less(other, top) for other in upper if other is not top]
            rules += [_less(bottom, other) for other in lower if other is not bottom]
            cell = _clipped(window, rules)
            if len(cell) > 2:
                total += _integral(chord, shapely.intersection(domain, shapely.Polygon(cell)))
    return total


def _less(a: _Form, b: _Form) -> _Form:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _value(form: _Form, point: Point2) -> float:
    return form[0] * point[0] + form[1] * point[1] + form[2]


def _integral(form: _Form, region: Any) -> float:
    area = float(region.area)
    if area == 0.0:
        return 0.0
    middle = region.centroid
    return area * _value(form, (middle.x, middle.y))


def _clipped(polygon: list[Point2], rules: list[_Form]) -> list[Point2]:
    """A convex polygon kept to where every linear form is at least 0."""
    for form in rules:
        kept: list[Point2] = []
        for a, b in zip(polygon, polygon[1:] + polygon[:1], strict=True):
            at_a, at_b = _value(form, a), _value(form, b)
            if at_a >= 0:
                kept.append(a)
            if (at_a > 0 > at_b) or (at_a < 0 < at_b):
                share = at_a / (at_a - at_b)
                kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
        polygon = kept
        if not polygon:
            break
    return polygon
