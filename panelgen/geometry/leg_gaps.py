"""How far apart straight lengths of runs are, from outside to outside."""

from __future__ import annotations

import numpy as np

from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import overlap_depths, point_distances
from panelgen.geometry.legs import Legs
from panelgen.geometry.rod_distances import axis_distances
from panelgen.geometry.rods import Rods, nearest_points, projected
from panelgen.geometry.vectors import lengths

__all__ = ["leg_gaps"]

_TURNS = 400
_STILL = 1e-4
"""mm. A gap that shrinks by less in one turn is measured."""


def leg_gaps(a: Legs, b: Legs) -> Floats:
    """(n,) distance between the outsides of leg k of `a` and leg k of `b`, mm; 0 or less where they meet.

    Exact for round legs, within `_TURNS` steps to a flat end. Beside a rectangular leg the rim of a round
    leg's flat end is not looked at, and two rectangular legs are at least so far apart.
    """
    result = np.empty(len(a))
    pipes = np.flatnonzero(~a.square & ~b.square)
    result[pipes] = _rod_gaps(a.rods.take(pipes), b.rods.take(pipes))
    ducts = np.flatnonzero(a.square & b.square)
    result[ducts] = -overlap_depths(a.corners[ducts], b.corners[ducts])
    for rods, blocks in ((a, b), (b, a)):
        mixed = np.flatnonzero(~rods.square & blocks.square)
        result[mixed] = _block_gaps(rods.rods.take(mixed), blocks.corners[mixed])
    return result


def _rod_gaps(a: Rods, b: Rods) -> Floats:
    s, t, distance = nearest_points(a, b)
    gap = distance - a.radius - b.radius
    at_flat_end = (
        (~a.bend_start & (s <= 0.0))
        | (~a.bend_end & (s >= a.length))
        | (~b.bend_start & (t <= 0.0))
        | (~b.bend_end & (t >= b.length))
    )
    rows = np.flatnonzero(at_flat_end)
    gap[rows] = _flat_end_gaps(a.take(rows), b.take(rows))
    return gap


def _flat_end_gaps(a: Rods, b: Rods) -> Floats:
    """Carries a point to and fro between two bodies: for convex ones it ends in the nearest points of both."""
    gap = np.full(len(a), np.inf)
    if not len(a):
        return gap
    on_a = a.start + a.direction * (a.length / 2)[:, None]
    for _ in range(_TURNS):
        on_b = projected(b, on_a)
        on_a = projected(a, on_b)
        nearer = lengths(on_b - on_a)
        still = bool((gap - nearer < _STILL).all())
        gap = nearer
        if still:
            break
    return gap


def _block_gaps(rods: Rods, blocks: Floats) -> Floats:
    gap: Floats = axis_distances(rods, blocks) - rods.radius
    for center, bend in ((rods.start, rods.bend_start), (rods.end, rods.bend_end)):
        np.minimum(gap, point_distances(center, blocks) - np.where(bend, rods.radius, 0.0), out=gap)
    return gap
