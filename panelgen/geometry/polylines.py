"""Ways of straight stretches, by the distance along them."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from panelgen.errors import GeometryError
from panelgen.geometry.frames import Vec3, add, dot, scaled
from panelgen.geometry.mitres import corner_points

__all__ = ["Polyline"]


@dataclass(frozen=True, slots=True)
class Polyline:
    """The corners of a way, how far along it each is (mm), and the unit vector of each stretch between two.

    Distances are held at the ends of the way.
    """

    points: tuple[Vec3, ...]
    along: tuple[float, ...]
    directions: tuple[Vec3, ...]

    @classmethod
    def through(cls, path: Sequence[Vec3]) -> Polyline:
        """The way through `path`; points where it does not turn are left out.

        Raises GeometryError where all points are one.
        """
        points = tuple(corner_points(path))
        if len(points) < 2:
            raise GeometryError(f"a way needs two points apart: {path}")
        lengths = [math.dist(a, b) for a, b in pairwise(points)]
        ways = ((add(b, scaled(a, -1.0)), length) for (a, b), length in zip(pairwise(points), lengths, strict=True))
        directions = tuple(scaled(way, 1.0 / length) for way, length in ways)
        return cls(points, tuple(accumulate(lengths, initial=0.0)), directions)

    @property
    def length(self) -> float:
        """From end to end, mm."""
        return self.along[-1]

    @property
    def bends(self) -> range:
        """Indices of the corners between the ends."""
        return range(1, len(self.points) - 1)

    def turn(self, corner: int) -> float:
        """How far the way turns at a corner between its ends, degrees."""
        cosine = dot(self.directions[corner - 1], self.directions[corner])
        return math.degrees(math.acos(min(1.0, max(-1.0, cosine))))

    def stretch_at(self, distance: float) -> int:
        """The stretch on which a distance along the way lies; at a corner the one that starts there."""
        return min(max(bisect_right(self.along, distance) - 1, 0), len(self.points) - 2)

    def point_at(self, distance: float) -> Vec3:
        """The point at a distance along the way."""
        stretch = self.stretch_at(distance)
        beyond = min(max(distance, 0.0), self.length) - self.along[stretch]
        return add(self.points[stretch], scaled(self.directions[stretch], beyond))

    def nearest(self, point: Vec3) -> float:
        """How far along the way it comes nearest to a point; of several such places the first."""
        best, place = math.inf, 0.0
        for start, direction, (low, high) in zip(self.points, self.directions, pairwise(self.along), strict=False):
            offset = add(point, scaled(start, -1.0))
            ahead = min(max(dot(offset, direction), 0.0), high - low)
            away = math.dist(offset, scaled(direction, ahead))
            if away < best:
                best, place = away, low + ahead
        return place
