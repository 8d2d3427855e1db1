"""A pitched slab between plumb planes: from places in plan to panel coordinates.

A place in plan is (x, run): x along the eave as in the panel, run level and square to it from the outer face
of the bearing wall's framing inward. A plumb line at a place meets every depth z of the slab.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from panelgen.geometry.frames import Point2, Vec3, cross, dot

__all__ = ["Pitch", "Plane", "plumb", "square"]

Plane = tuple[Vec3, float]
"""The panel points p with normal · p = offset."""


@dataclass(frozen=True, slots=True)
class Pitch:
    """The slope (rise per run) of a panel and the `depth` of its rafters, mm.

    `base` is how far up the slope the panel's y = 0 is from where the plumb line at run 0 meets z = 0.
    """

    tangent: float
    depth: float
    base: float = 0.0

    @property
    def secant(self) -> float:
        """Length up the slope for a run of 1."""
        return math.hypot(1.0, self.tangent)

    @property
    def sine(self) -> float:
        """Rise for a length of 1 up the slope."""
        return self.tangent / self.secant

    @property
    def cosine(self) -> float:
        """Run for a length of 1 up the slope."""
        return 1.0 / self.secant

    @property
    def up(self) -> Vec3:
        """The plumb unit vector in panel coordinates."""
        return (0.0, self.sine, self.cosine)

    def y_at(self, run: float, z: float = 0.0) -> float:
        """Panel y of the plumb line at a run, at depth z."""
        return run * self.secant + z * self.tangent - self.base

    def run_at(self, y: float, z: float = 0.0) -> float:
        """The run of a panel point."""
        return (y + self.base - z * self.tangent) * self.cosine

    def point(self, place: Point2, z: float = 0.0) -> Vec3:
        """The panel point at depth z of the plumb line at a place."""
        return (place[0], self.y_at(place[1], z), z)

    def height(self, point: Vec3) -> float:
        """Height of a panel point over where the plumb line at run 0 meets z = 0."""
        return (point[1] + self.base) * self.sine + point[2] * self.cosine

    def direction(self, plan: Point2) -> Vec3:
        """The unit vector in the slope over a direction in plan."""
        x, y = plan[0], plan[1] * self.secant
        size = math.hypot(x, y)
        return (x / size, y / size, 0.0)


def plumb(pitch: Pitch, a: Point2, b: Point2) -> Plane:
    """The plumb plane through two places."""
    ahead = pitch.direction((b[0] - a[0], b[1] - a[1]))
    normal = cross(ahead, pitch.up)
    return normal, dot(normal, pitch.point(a))


def square(y: float) -> Plane:
    """The plane across the panel at y, square to its faces."""
    return (0.0, 1.0, 0.0), y
