"""Services as straight round rods, for nails to keep off: runs over their insulation, and bores."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Vec3, add, scaled
from panelgen.geometry.rods import Rods
from panelgen.model import Bore, Member, RunPart

__all__ = ["bore_ends", "service_rods"]

_Rod = tuple[Vec3, Vec3, float]
"""Both ends of an axis, and the radius."""


def service_rods(panels: Sequence[tuple[Sequence[Member], Sequence[RunPart]]]) -> tuple[Rods, Ints]:
    """The straight stretches of runs over their insulation and the bores that are wider than one run, and their panel.

    A run is taken to be as wide all along as its widest bore, so its bores need no rods of their own. A
    rectangular stretch is a row of rods side by side that together cover it.
    """
    lots = [_rods_of(members, runs) for members, runs in panels]
    rows = np.array([(*a, *b, radius) for lot in lots for a, b, radius in lot]).reshape(-1, 7)
    flat = np.zeros(len(rows), dtype=bool)
    rods = Rods.between(rows[:, :3], rows[:, 3:6], rows[:, 6], flat, flat)
    return rods, np.arange(len(lots)).repeat([len(lot) for lot in lots])


def _rods_of(members: Sequence[Member], runs: Sequence[RunPart]) -> list[_Rod]:
    widest = {run.run: run.outside_diameter for run in runs}
    rows: list[_Rod] = []
    for member in members:
        for bore in member.bores:
            if bore.run in widest:
                widest[bore.run] = max(widest[bore.run], bore.diameter)
            else:
                rows.append((*bore_ends(member, bore), bore.diameter / 2))
    for run in runs:
        for a, b in pairwise(run.path):
            if a != b:
                rows.extend(_stretch(run, widest[run.run] / 2, a, b))
    return rows


def bore_ends(member: Member, bore: Bore) -> tuple[Vec3, Vec3]:
    """Where the axis of a bore comes through the two wide faces, in panel coordinates."""
    point, axis = bore.point, bore.axis
    near, far = (add(point, scaled(axis, (z - point[2]) / axis[2])) for z in (0.0, member.thickness))
    return member.frame.point(*near), member.frame.point(*far)


def _stretch(run: RunPart, radius: float, a: Vec3, b: Vec3) -> Iterator[_Rod]:
    """Ends and radius of the rods that cover one straight stretch of a run; `radius` is that of a round one."""
    if run.outside_section is None:
        yield a, b, radius
        return
    width, depth = run.outside_section
    x, y, z = (q - p for p, q in zip(a, b, strict=True))
    through = abs(z) > math.hypot(x, y)
    beside = (1.0, 0.0, 0.0) if through else (-y / math.hypot(x, y), x / math.hypot(x, y), 0.0)
    count = math.ceil(2 * width / depth)
    for number in range(count):
        off = scaled(beside, width * ((number + 0.5) / count - 0.5))
        yield add(a, off), add(b, off), math.hypot(width / count, depth) / 2
