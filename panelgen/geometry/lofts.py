"""Bodies of sticks and sheets: lofts between two parallel planes, and what must still be cut from them.

A loft lies between z = 0 (near) and z = height (far). Each ring of the near plane has its twin on the
far plane, point by point and with parallel sides, so every side face is flat. It is told apart from
what only a boolean operation can cut: bores that break out of a side or meet one another, and ends
whose slope runs into a bore or a notch.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from panelgen.geometry.frames import Point2, Vec3

__all__ = ["Body", "Cylinder", "HalfSpace", "Hole", "Loft", "Ring", "ring_area"]

Ring = tuple[Point2, ...]


@dataclass(frozen=True, slots=True)
class HalfSpace:
    """The points p with ``normal · p <= offset``; the normal need not be a unit vector."""

    normal: Vec3
    offset: float


@dataclass(frozen=True, slots=True, order=True)
class Cylinder:
    """An endless round hole: `point` is on its axis, `axis` a unit vector, mm."""

    point: Vec3
    axis: Vec3
    radius: float


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole through a loft, with its centre on the near and on the far plane, mm.

    `radius` is measured across the axis, so an oblique hole meets the planes in ellipses.
    """

    near: Point2
    far: Point2
    radius: float


@dataclass(frozen=True, slots=True)
class Loft:
    """A solid between two planes: the first ring of each is its outline (counter-clockwise), the others
    are cut-outs (clockwise); `holes` keep clear of the rings and of one another.
    """

    near: tuple[Ring, ...]
    far: tuple[Ring, ...]
    height: float
    holes: tuple[Hole, ...] = ()

    @property
    def is_upright(self) -> bool:
        """True where the far plane repeats the near one: a prism."""
        return self.near == self.far and all(hole.near == hole.far for hole in self.holes)

    @property
    def volume(self) -> float:
        """Exact volume, mm3: between parallel sides that lean along x, area grows evenly from near to far."""
        area = sum(map(ring_area, self.near)) + sum(map(ring_area, self.far))
        bored = sum(
            math.pi * hole.radius**2 * math.hypot(self.height, math.dist(hole.near, hole.far)) for hole in self.holes
        )
        return area / 2 * self.height - bored


@dataclass(frozen=True, slots=True)
class Body:
    """`lofts`, apart from one another, less `bores`, kept to the inside of `trims`.

    Each group in `bores` overlaps no other group and no hole of a loft. Lofts run on beyond the trims.
    """

    lofts: tuple[Loft, ...]
    bores: tuple[tuple[Cylinder, ...], ...] = ()
    trims: tuple[HalfSpace, ...] = ()

    @property
    def is_plain(self) -> bool:
        """True where nothing is left to cut from the lofts."""
        return not self.bores and not self.trims


def ring_area(ring: Ring) -> float:
    """Area inside a closed ring, mm2: positive counter-clockwise, negative clockwise."""
    x0, y0 = ring[0]
    total = 0.0
    for (xa, ya), (xb, yb) in pairwise(ring):
        total += (xa - x0) * (yb - y0) - (xb - x0) * (ya - y0)
    return total / 2
