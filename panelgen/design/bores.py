"""Bores: a hole through each stick that a run goes straight through, and one hole for two that overlap.

A bore is made only where a run goes straight through the wide face of a stick with its hole wholly on that
face. Everything else is left for the checks to report: a rectangular duct through a stick too, since an
opening for it is a cut that an engineer decides, not a bore.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.geometry.frames import Floats
from panelgen.model import Bore, Member, Role, RunPart

__all__ = ["BoreRoom", "bore_room", "bored"]

_EPS = 1e-6
_LEAST_COSINE = 0.5
"""Flatter than 30 degrees to the face nobody drills."""

BoreRoom = Callable[[Member], tuple[float, float]]
"""The widest bore that a stick may have and the wood left to its edge, mm; (0, 0) where no rule gives any."""


def _no_room(_: Member) -> tuple[float, float]:
    return 0.0, 0.0


_UPRIGHTS = (Role.STUD, Role.POST, Role.KING, Role.JACK, Role.CRIPPLE)
_PLATES = (Role.BOTTOM_PLATE, Role.TOP_PLATE, Role.CAP_PLATE)


def bore_room(rules: RuleSet, bearing: bool) -> BoreRoom:
    """What a rule set lets overlapping holes be merged into: a stud's limit, and in plates one that needs no tie."""

    def room(member: Member) -> tuple[float, float]:
        if member.role in _UPRIGHTS:
            limit = rules.stud_bore(bearing)
            return limit.share * member.width, limit.edge_distance
        if member.role in _PLATES:
            return rules.plate_tie.share * member.width, 0.0
        return 0.0, 0.0

    return room


def bored(
    members: Sequence[Member], runs: Sequence[RunPart], clearance: Mapping[str, float], room: BoreRoom = _no_room
) -> tuple[Member, ...]:
    """The members with a bore wherever a run goes straight through one. `clearance` (mm) is by run id.

    Bores that overlap become the one hole that covers both, where that is within `room`; its `run` then
    names both. Others stay as they are.
    """
    straight = [run for run in runs if run.section is None]
    if not straight or not members:
        return tuple(members)
    origins = np.array([m.frame.origin for m in members])
    axes = np.array([(m.frame.x, m.frame.y, m.frame.z) for m in members])
    sizes = np.array([(m.length, m.width, m.thickness) for m in members])
    made: dict[int, list[Bore]] = {}
    for run in straight:
        for a, b in itertools.pairwise(run.path):
            start = np.einsum("mij,mj->mi", axes, np.array(a) - origins)
            end = np.einsum("mij,mj->mi", axes, np.array(b) - origins)
            for index in _through(start, end, sizes):
                bore = _bore(members[index], start[index], end[index], run, clearance[run.run])
                if bore is not None:
                    made.setdefault(index, []).append(bore)
    return tuple(
        replace(member, bores=_merged((*member.bores, *made[i]), member, *room(member))) if i in made else member
        for i, member in enumerate(members)
    )


def _through(start: Floats, end: Floats, sizes: Floats) -> list[int]:
    """Indices of the members whose wide faces a segment enters and leaves, by its centre line."""
    z0, z1 = start[:, 2], end[:, 2]
    thick = sizes[:, 2]
    crosses = (np.minimum(z0, z1) <= _EPS) & (np.maximum(z0, z1) >= thick - _EPS)
    low = np.minimum(start[:, :2], end[:, :2])
    high = np.maximum(start[:, :2], end[:, :2])
    near = np.all((high > 0) & (low < sizes[:, :2]), axis=1)
    return [int(index) for index in np.flatnonzero(crosses & near)]


def _bore(member: Member, start: Floats, end: Floats, run: RunPart, clearance: float) -> Bore | None:
    direction = (end - start) / np.linalg.norm(end - start)
    dz = float(direction[2])
    if abs(dz) < _LEAST_COSINE:
        return None
    entry = start + direction * (-start[2] / dz)
    leave = start + direction * ((member.thickness - start[2]) / dz)
    diameter = run.outside_diameter + clearance
    reach = diameter / 2 / abs(dz)  # the hole on the face is an ellipse no longer than this
    if not all(_is_on_face(member, x, y, z, reach, 0.0) for x, y, z in (entry.tolist(), leave.tolist())):
        return None
    x, y, z = entry.tolist()
    ax, ay, az = direction.tolist()
    axis = (ax, ay, az) if az > 0 else (-ax, -ay, -az)
    if abs(abs(az) - 1) < 1e-9:
        axis = (0.0, 0.0, 1.0)
    return Bore((x, y, z), diameter, axis, run.run)


def _is_on_face(member: Member, x: float, y: float, z: float, reach: float, edge: float) -> bool:
    """Whether a hole that reaches that far around (x, y) at depth z keeps inside the ends, and `edge` off the edges."""
    ends = member.end_x(member.start, False, y, z) + reach, member.end_x(member.end, True, y, z) - reach
    return ends[0] <= x <= ends[1] and edge + reach <= y <= member.width - edge - reach


def _merged(bores: Sequence[Bore], member: Member, widest: float, edge: float) -> tuple[Bore, ...]:
    """The bores with every two that overlap made one, as long as the one is within the limits."""
    left = list(bores)
    merging = True
    while merging:
        merging = False
        for one, other in itertools.combinations(left, 2):
            both = _covering(one, other)
            if both is None:
                continue
            if both.diameter == max(one.diameter, other.diameter) or _fits(both, member, widest, edge):
                left[left.index(one)] = both
                left.remove(other)
                merging = True
                break
    return tuple(left)


def _fits(bore: Bore, member: Member, widest: float, edge: float) -> bool:
    x, y, _ = bore.point
    on_face = all(_is_on_face(member, x, y, z, bore.diameter / 2, edge) for z in (0.0, member.thickness))
    return bore.diameter <= widest + _EPS and on_face


def _covering(one: Bore, other: Bore) -> Bore | None:
    """The least hole that covers two square holes that overlap; None for others."""
    if not (one.is_square and other.is_square):
        return None
    small, large = sorted((one, other), key=lambda bore: bore.diameter)
    (xa, ya, z), (xb, yb, _) = large.point, small.point
    apart = math.hypot(xb - xa, yb - ya)
    if apart >= (small.diameter + large.diameter) / 2 - _EPS:
        return None
    run = "+".join(dict.fromkeys((*one.runs, *other.runs)))
    if apart + small.diameter / 2 <= large.diameter / 2 + _EPS:
        return replace(large, run=run)
    diameter = apart + (small.diameter + large.diameter) / 2
    share = (diameter - large.diameter) / 2 / apart
    return Bore((xa + (xb - xa) * share, ya + (yb - ya) * share, z), diameter, large.axis, run)
