"""Keeps nails off services: a nail that would come near a run or a bore is moved along its line, or left out."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from panelgen.design.nail_lines import Nails
from panelgen.geometry.boxes import Boxes, Ints, overlapping
from panelgen.geometry.frames import Floats, Vec3, add, scaled
from panelgen.geometry.rods import Bools, Rods, nearest_points
from panelgen.model import Member, RunPart

__all__ = ["clear_of_services", "obstacles"]

_CLEAR = 3.0
"""Left between the shank and a run or bore (mm), besides both radii; common practice, no source."""

_STEP = 1.0
"""Nails are moved by whole steps of this (mm)."""


def obstacles(members: Sequence[Member], runs: Sequence[RunPart]) -> Rods:
    """The straight stretches of runs over their insulation, and the bores through sticks from face to face.

    A rectangular stretch is a row of rods side by side that together cover it.
    """
    rows: list[tuple[Vec3, Vec3, float]] = []
    for run in runs:
        for a, b in pairwise(run.path):
            if a != b:
                rows.extend(_stretch(run, a, b))
    for member in members:
        for bore in member.bores:
            low, high = (
                add(bore.point, scaled(bore.axis, (z - bore.point[2]) / bore.axis[2])) for z in (0.0, member.thickness)
            )
            rows.append((member.frame.point(*low), member.frame.point(*high), bore.diameter / 2))
    table = np.array([(*a, *b, radius) for a, b, radius in rows]).reshape(-1, 7)
    flat = np.zeros(len(rows), dtype=bool)
    return Rods.between(table[:, :3], table[:, 3:6], table[:, 6], flat, flat)


def _stretch(run: RunPart, a: Vec3, b: Vec3) -> Iterator[tuple[Vec3, Vec3, float]]:
    """Ends and radius of the rods that cover one straight stretch of a run."""
    if run.outside_section is None:
        yield a, b, run.outside_diameter / 2
        return
    width, depth = run.outside_section
    x, y, z = (q - p for p, q in zip(a, b, strict=True))
    through = abs(z) > math.hypot(x, y)
    beside = (1.0, 0.0, 0.0) if through else (-y / math.hypot(x, y), x / math.hypot(x, y), 0.0)
    count = math.ceil(2 * width / depth)
    for number in range(count):
        off = scaled(beside, width * ((number + 0.5) / count - 0.5))
        yield add(a, off), add(b, off), math.hypot(width / count, depth) / 2


def clear_of_services(nails: Nails, length: Floats, radius: Floats, services: Rods) -> tuple[Floats, Bools, Bools]:
    """The heads (n, 3) of nails that keep off services; which of them were moved, and which find no place, (n,) each.

    `length` and `radius` (n,) are the shanks'. A nail is moved by the least way that its line allows.
    """
    moved, lost = np.zeros(len(nails), dtype=bool), np.zeros(len(nails), dtype=bool)
    if not len(services):
        return nails.head, moved, lost
    nail, service = _near(nails, length, radius, services)
    least = radius[nail] + services.radius[service] + _CLEAR
    hit = _distances(nails, length, services, nail, service, np.zeros((len(nail), 1)))[:, 0] < least
    struck = np.unique(nail[hit])
    if not len(struck):
        return nails.head, moved, lost
    of_struck = np.isin(nail, struck)
    nail, service, least = nail[of_struck], service[of_struck], least[of_struck]
    steps = math.floor(max(nails.back[struck].max(), nails.ahead[struck].max()) / _STEP)
    size = np.repeat(np.arange(1, steps + 1) * _STEP, 2)
    shifts = np.where(np.arange(2 * steps) % 2, -size, size)
    blocked = _distances(nails, length, services, nail, service, np.tile(shifts, (len(nail), 1))) < least[:, None]
    first = np.flatnonzero(np.diff(nail, prepend=-1))
    free = ~np.logical_or.reduceat(blocked, first, axis=0)
    free &= (shifts >= -nails.back[struck, None]) & (shifts <= nails.ahead[struck, None])
    saved = free.any(axis=1)
    moved[struck[saved]] = True
    lost[struck[~saved]] = True
    head = nails.head.copy()
    if saved.any():
        shift = shifts[free[saved].argmax(axis=1)]
        head[struck[saved]] += shift[:, None] * nails.slide[struck[saved]]
    return head, moved, lost


def _near(nails: Nails, length: Floats, radius: Floats, services: Rods) -> tuple[Ints, Ints]:
    """Pairs of a nail and a service that could come near one another wherever the nail is moved; sorted by nail."""
    half = nails.drive * (length / 2)[:, None]
    middle = nails.head + half
    slid = np.abs(nails.slide) * np.maximum(nails.back, nails.ahead)[:, None]
    swept = np.abs(half) + slid + (radius + _CLEAR)[:, None]
    around = services.radius[:, None]
    low, high = np.minimum(services.start, services.end) - around, np.maximum(services.start, services.end) + around
    least, most = low.min(axis=0), high.max(axis=0)
    close = np.abs(middle - (least + most) / 2) < swept + (most - least) / 2
    nail = np.flatnonzero(np.logical_and.reduce(close, axis=1))
    middle, swept = middle.take(nail, axis=0), swept.take(nail, axis=0)
    row, service = overlapping(Boxes(middle - swept, middle + swept), Boxes(low, high))
    return nail[row], service


def _distances(nails: Nails, length: Floats, services: Rods, nail: Ints, service: Ints, shifts: Floats) -> Floats:
    """(p, s) distance of each pair's nail, moved by each of its shifts (p, s), from the axis of its service."""
    pairs, tries = shifts.shape
    row, other = np.repeat(nail, tries), np.repeat(service, tries)
    head = nails.head[row] + shifts.reshape(-1, 1) * nails.slide[row]
    flat = np.zeros(len(row), dtype=bool)
    shanks = Rods(head, nails.drive[row], length[row], flat, flat, flat)
    distance = nearest_points(shanks, services.take(other))[2]
    return distance.reshape(pairs, tries)
