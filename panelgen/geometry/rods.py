"""Runs and shanks as arrays of straight round rods, and whether two of them meet.

The end of a rod is flat where a run ends, and round (half a ball) at a bend, where the next rod of the
run begins.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.vectors import lengths

__all__ = ["Bools", "Rods", "nearest_points", "projected", "rods_meet"]

Bools = NDArray[np.bool_]

_FLAT = 1e-12
_CLOSE = 1e-3
_TURNS = 2000


@dataclass(frozen=True, slots=True, eq=False)
class Rods:
    """n rods: `start` (n, 3), unit `direction` (n, 3), `length` (n,), `radius` (n,), mm.

    `bend_start` and `bend_end` (n,) bool say which ends are round.
    """

    start: Floats
    direction: Floats
    length: Floats
    radius: Floats
    bend_start: Bools
    bend_end: Bools

    @classmethod
    def between(cls, start: Floats, end: Floats, radius: Floats, bend_start: Bools, bend_end: Bools) -> Rods:
        """Rods from point to point; no two points of a pair may be the same."""
        along = end - start
        length = lengths(along)
        return cls(start, along / length[:, None], length, radius, bend_start, bend_end)

    def __len__(self) -> int:
        return len(self.length)

    @property
    def end(self) -> Floats:
        """(n, 3) the far end of each axis."""
        return self.start + self.direction * self.length[:, None]

    def take(self, rows: Ints | Bools) -> Rods:
        """The rods of these rows, in that order."""
        return Rods(
            self.start[rows],
            self.direction[rows],
            self.length[rows],
            self.radius[rows],
            self.bend_start[rows],
            self.bend_end[rows],
        )

    def moved(self, rotation: Floats, shift: Floats) -> Rods:
        """Each rod in other coordinates: points x become ``x @ rotation + shift``, (n, 3, 3) and (n, 3)."""
        start = np.einsum("ni,nij->nj", self.start, rotation) + shift
        return replace(self, start=start, direction=np.einsum("ni,nij->nj", self.direction, rotation))

    def shaved(self, by: float) -> Rods:
        """The rods with `by` mm taken off all round and off flat ends; never less than nothing."""
        off_start = np.where(self.bend_start, 0.0, np.minimum(by, self.length / 2))
        off_end = np.where(self.bend_end, 0.0, np.minimum(by, self.length / 2))
        return Rods(
            self.start + self.direction * off_start[:, None],
            self.direction,
            self.length - off_start - off_end,
            np.maximum(self.radius - by, 0.0),
            self.bend_start,
            self.bend_end,
        )

    def boxes(self) -> Boxes:
        """The least box around each rod, round ends included."""
        flat = self.radius[:, None] * np.sqrt(np.maximum(1.0 - self.direction**2, 0.0))
        at_start = np.where(self.bend_start[:, None], self.radius[:, None], flat)
        at_end = np.where(self.bend_end[:, None], self.radius[:, None], flat)
        end = self.end
        return Boxes(
            np.minimum(self.start - at_start, end - at_end),
            np.maximum(self.start + at_start, end + at_end),
        )


def nearest_points(a: Rods, b: Rods) -> tuple[Floats, Floats, Floats]:
    """Where the axes of rods a and b come nearest: places (n,) along each, mm, and their distance (n,)."""
    offset = a.start - b.start
    cosine = np.einsum("nc,nc->n", a.direction, b.direction)
    on_a = np.einsum("nc,nc->n", a.direction, offset)
    on_b = np.einsum("nc,nc->n", b.direction, offset)
    sine = 1.0 - cosine**2
    s = np.where(sine > _FLAT, (cosine * on_b - on_a) / np.maximum(sine, _FLAT), 0.0)
    s = np.clip(s, 0.0, a.length)
    t = np.clip(on_b + s * cosine, 0.0, b.length)
    s = np.clip(t * cosine - on_a, 0.0, a.length)
    gap = offset + s[:, None] * a.direction - t[:, None] * b.direction
    return s, t, lengths(gap)


def rods_meet(a: Rods, b: Rods) -> Bools:
    """(n,) whether rod k of `a` and rod k of `b` share a point.

    Where the axes come nearest away from flat ends, two rods meet exactly if that distance is at most
    the sum of the radii. The rest, a flat end close to another rod, is settled by `_flat_ends_meet`.
    """
    if not len(a):
        return np.empty(0, dtype=bool)
    s, t, distance = nearest_points(a, b)
    near: Bools = distance <= a.radius + b.radius
    at_flat_end = (
        (~a.bend_start & (s <= 0.0))
        | (~a.bend_end & (s >= a.length))
        | (~b.bend_start & (t <= 0.0))
        | (~b.bend_end & (t >= b.length))
    )
    unsure = np.flatnonzero(near & at_flat_end)
    near[unsure] = _flat_ends_meet(a.take(unsure), b.take(unsure))
    return near


def _flat_ends_meet(a: Rods, b: Rods) -> Bools:
    """Carries a point to and fro between two bodies until they touch or a plane is seen to part them.

    Alternating projections on two convex sets end in a point of both, or in two points whose difference
    is normal to a plane between the sets. They are projected gradient steps on the squared distance, so
    momentum makes them fast where the bodies all but touch [1]. Pairs still open after the last turn,
    a hair apart at most, count as meeting.

    .. [1] Beck, Teboulle, "A fast iterative shrinkage-thresholding algorithm", SIAM J. Imaging Sci. 2, 2009.
    """
    meet = np.zeros(len(a), dtype=bool)
    if not len(a):
        return meet
    rows = np.arange(len(a))
    on_a = before = a.start + a.direction * (a.length / 2)[:, None]
    for turn in range(_TURNS):
        on_b = projected(b, on_a + (on_a - before) * (turn / (turn + 3)))
        on_a, before = projected(a, on_b), on_a
        gap = on_b - on_a
        touch = lengths(gap) < _CLOSE
        parted = _support(a, gap) + _support(b, -gap) < 0
        meet[rows[touch]] = True
        still = np.flatnonzero(~touch & ~parted)
        if not len(still):
            return meet
        rows, on_a, before, a, b = rows[still], on_a[still], before[still], a.take(still), b.take(still)
    meet[rows] = True
    return meet


def projected(rods: Rods, points: Floats) -> Floats:
    """The point of each rod nearest to each point."""
    offset = points - rods.start
    along = np.einsum("nc,nc->n", offset, rods.direction)
    kept = np.clip(along, 0.0, rods.length)
    across = offset - along[:, None] * rods.direction
    beyond = np.where((along < 0) & rods.bend_start | (along > rods.length) & rods.bend_end, along - kept, 0.0)
    rest = across + beyond[:, None] * rods.direction
    size = lengths(rest)
    scale = np.minimum(1.0, rods.radius / np.maximum(size, _FLAT))
    result: Floats = rods.start + kept[:, None] * rods.direction + scale[:, None] * rest
    return result


def _support(rods: Rods, directions: Floats) -> Floats:
    """(n,) greatest ``direction · x`` over each rod."""
    along = np.einsum("nc,nc->n", directions, rods.direction)
    size = lengths(directions)
    flat = np.sqrt(np.maximum(size**2 - along**2, 0.0))
    at_start = np.einsum("nc,nc->n", directions, rods.start) + rods.radius * np.where(rods.bend_start, size, flat)
    at_end = np.einsum("nc,nc->n", directions, rods.end) + rods.radius * np.where(rods.bend_end, size, flat)
    result: Floats = np.maximum(at_start, at_end)
    return result
