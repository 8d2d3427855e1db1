"""What a route keeps clear of, as boxes in wall coordinates, each with what there is to say about it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from panelgen.geometry.frames import Vec3, add, scaled
from panelgen.model import Member

__all__ = ["ACROSS", "FAR", "Body", "Cause", "Obstacle", "Slab", "bars_all_but", "stairs", "steps"]

ACROSS = ((1, 2), (0, 2), (0, 1))
"""The two axes across each axis."""

FAR = 1e6
"""mm. Farther than any wall reaches."""

_STEP = 100.0
"""What slopes is taken as a stair with steps no higher than this, mm."""


@dataclass(frozen=True, slots=True)
class Cause:
    """What is in the way of a route: the id of a part, if it is one, its name, and why it is in the way."""

    part: str
    name: str
    why: str = ""

    @property
    def words(self) -> str:
        """Name and reason as one phrase."""
        return f"{self.name}{self.why}"


@dataclass(frozen=True, slots=True)
class Body:
    """A box from `low` to `high` that the outside of a run keeps `margin` away from, mm.

    `bars` says whether legs along x, y and z are kept out; turns always are. `guides` says whether its
    sides across x, y and z are worth leading a route along. The ends of legs are taken to be round where
    `is_round_to_ends` says so: they keep as far from the body as the legs do.
    """

    low: Vec3
    high: Vec3
    cause: Cause
    margin: float = 0.0
    bars: tuple[bool, bool, bool] = (True, True, True)
    guides: tuple[bool, bool, bool] = (True, True, True)
    is_round_to_ends: bool = False


@dataclass(frozen=True, slots=True)
class Slab:
    """An open box, `low` to `high`, that the axis of a leg along `axis` (0 for x, 1 for y, 2 for z) keeps out of."""

    axis: int
    low: Vec3
    high: Vec3
    cause: Cause


Obstacle = Body | Slab


def bars_all_but(axis: int) -> tuple[bool, bool, bool]:
    """What a body bars that only legs along `axis` may enter."""
    return (axis != 0, axis != 1, axis != 2)


def steps(start: Vec3, end: Vec3) -> Iterator[tuple[Vec3, Vec3]]:
    """The boxes, low and high, around short pieces of the line between two points; one box where it follows an axis.

    No piece goes aside by more than a step.
    """
    moved = sorted(abs(b - a) for a, b in zip(start, end, strict=True))
    count = max(1, math.ceil(moved[1] / _STEP - 1e-9))
    points = np.linspace(start, end, count + 1).tolist()
    for a, b in pairwise(points):
        (x0, x1), (y0, y1), (z0, z1) = (sorted(pair) for pair in zip(a, b, strict=True))
        yield (x0, y0, z0), (x1, y1, z1)


def stairs(member: Member, shift: Vec3, cause: Cause) -> Iterator[Body]:
    """A sloping stick, moved by `shift`, as a stair of boxes."""
    frame = member.frame
    sides = [
        (min(y, 0.0) + min(z, 0.0), max(y, 0.0) + max(z, 0.0))
        for y, z in zip(scaled(frame.y, member.width), scaled(frame.z, member.thickness), strict=True)
    ]
    back, ahead = ((sides[0][end], sides[1][end], sides[2][end]) for end in (0, 1))
    for low, high in steps(add(frame.origin, shift), add(frame.point(member.length, 0.0, 0.0), shift)):
        yield Body(add(low, back), add(high, ahead), cause)
