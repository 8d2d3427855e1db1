"""A convex part of a roof plane, seen in plan: how wide and how high it is where, and what stretches of it reach.

Its lower boundary is convex and its upper one concave along x, and so are its left and right one along the run.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from panelgen.geometry.frames import Floats, Point2
from panelgen.geometry.rings import segments

__all__ = ["Boundary", "Slab"]

_FLAT = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Boundary:
    """One side of a convex part: its corners (k,) in the order of `along`, and how far it is at each."""

    along: Floats
    far: Floats

    def at(self, places: Floats) -> Floats:
        """How far the side is at some places."""
        return np.interp(places, self.along, self.far)

    def least(self, start: Floats, end: Floats) -> Floats:
        """The least of a convex side between places of one shape: it is where the stretch is nearest to the bottom."""
        return self.at(np.clip(self.along[np.argmin(self.far)], start, np.maximum(start, end)))

    def most(self, start: Floats, end: Floats) -> Floats:
        """The greatest of a concave side between places of one shape."""
        return self.at(np.clip(self.along[np.argmax(self.far)], start, np.maximum(start, end)))

    def crossings(self, far: float) -> list[float]:
        """Where the side is just so far."""
        found = []
        corners = zip(self.along.tolist(), self.far.tolist(), strict=True)
        for (a, low), (b, high) in pairwise(corners):
            if min(low, high) < far < max(low, high):
                found.append(a + (b - a) * (far - low) / (high - low))
        return found


@dataclass(frozen=True, slots=True, eq=False)
class Slab:
    """A convex part: `low` and `high` by x are runs, `left` and `right` by run are x, all in mm."""

    low: Boundary
    high: Boundary
    left: Boundary
    right: Boundary

    @classmethod
    def of(cls, ring: Sequence[Point2]) -> Slab:
        """The part within a ring, counter-clockwise."""
        return cls(_side(ring, 0, 1.0), _side(ring, 0, -1.0), _side(ring, 1, -1.0), _side(ring, 1, 1.0))


def _side(ring: Sequence[Point2], axis: int, way: float) -> Boundary:
    """The sides of a ring that go one way along an axis, in its order."""
    ends = {point for a, b in segments(ring) if (b[axis] - a[axis]) * way > _FLAT for point in (a, b)}
    ordered = sorted(ends, key=lambda point: point[axis])
    return Boundary(np.array([point[axis] for point in ordered]), np.array([point[1 - axis] for point in ordered]))
