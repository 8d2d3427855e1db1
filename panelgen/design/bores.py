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
from panelgen.geometry.boxes import Ints
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
    """What a rule set lets overlapping holes be merged into: a stud's or joist's limit, in plates one without a tie."""

    def room(member: Member) -> tuple[float, float]:
        if member.role in _UPRIGHTS:
            limit = rules.stud_bore(bearing)
            return limit.share * member.width, limit.edge_distance
        if member.role is Role.JOIST and not member.engineered:
            return rules.joist.bore * member.width, rules.joist.bore_edge_distance
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
    diameters = [run.outside_diameter + clearance[run.run] for run in straight]
    stretches = [(n, a, b) for n, run in enumerate(straight) for a, b in itertools.pairwise(run.path)]
    start, end = _seen_by(members, np.array([(a, b) for _, a, b in stretches]))
    crossings = _through(start, end, np.array([(m.length, m.width, m.thickness) for m in members]))
    made: dict[int, list[Bore]] = {}
    for stretch, index, a, b in zip(
        *(places.tolist() for places in (*crossings, start[crossings], end[crossings])), strict=True
    ):
        n = stretches[stretch][0]
        bore = _bore(members[index], a, b, straight[n], diameters[n])
        if bore is not None:
            made.setdefault(index, []).append(bore)
    return tuple(
        replace(member, bores=_merged((*member.bores, *made[i]), member, *room(member))) if i in made else member
        for i, member in enumerate(members)
    )


def _seen_by(members: Sequence[Member], ends: Floats) -> tuple[Floats, Floats]:
    """Both ends (s, 2, 3) of s stretches in the coordinates of each of m members, (s, m, 3) each."""
    origins = np.array([member.frame.origin for member in members])
    axes = np.array([(member.frame.x, member.frame.y, member.frame.z) for member in members])
    local = np.einsum("mij,semj->semi", axes, ends[:, :, None] - origins)
    return local[:, 0], local[:, 1]


def _through(start: Floats, end: Floats, sizes: Floats) -> tuple[Ints, Ints]:
    """Stretches and members (k,) wherever a stretch, by its centre line, enters and leaves the wide faces of a member.

    `start` and `end` are (s, m, 3), `sizes` (m, 3): length, width, thickness.
    """
    z0, z1 = start[..., 2], end[..., 2]
    crosses = (np.minimum(z0, z1) <= _EPS) & (np.maximum(z0, z1) >= sizes[:, 2] - _EPS)
    low = np.minimum(start, end)[..., :2]
    high = np.maximum(start, end)[..., :2]
    near = np.all((high > 0) & (low < sizes[:, :2]), axis=2)
    stretch, index = np.nonzero(crosses & near)
    return stretch, index


def _bore(member: Member, start: Sequence[float], end: Sequence[float], run: RunPart, diameter: float) -> Bore | None:
    """The hole for a stretch from `start` to `end`, in member coordinates; None where it is not a plain hole."""
    length = math.dist(start, end)
    (x, y, z), (end_x, end_y, end_z) = start, end
    dx, dy, dz = (end_x - x) / length, (end_y - y) / length, (end_z - z) / length
    if abs(dz) < _LEAST_COSINE:
        return None
    reach = diameter / 2 / abs(dz)  # the hole on the face is an ellipse no longer than this
    near, far = -z / dz, (member.thickness - z) / dz
    point = (x + dx * near, y + dy * near, 0.0)
    if not _is_on_face(member, *point, reach, 0.0):
        return None
    if not _is_on_face(member, x + dx * far, y + dy * far, member.thickness, reach, 0.0):
        return None
    axis = (dx, dy, dz) if dz > 0 else (-dx, -dy, -dz)
    if axis[2] > 1 - 1e-9:
        axis = (0.0, 0.0, 1.0)
    return Bore(point, diameter, axis, run.run)


def _is_on_face(member: Member, x: float, y: float, z: float, reach: float, edge: float) -> bool:
    """Whether a hole that reaches that far around (x, y) at depth z keeps inside the ends, and `edge` off the edges."""
    if not edge + reach <= y <= member.width - edge - reach:
        return False
    if member.has_square_ends:
        return reach <= x <= member.length - reach
    return member.end_x(member.start, False, y, z) + reach <= x <= member.end_x(member.end, True, y, z) - reach


def _merged(bores: Sequence[Bore], member: Member, widest: float, edge: float) -> tuple[Bore, ...]:
    """The bores with every two that overlap made one, as long as the one is within the limits."""
    if _are_apart(bores):
        return tuple(bores)
    left = list(bores)
    merging = True
    while merging:
        merging = False
        for one, other in itertools.combinations(left, 2):
            reach = (one.diameter + other.diameter) / 2
            if abs(one.point[0] - other.point[0]) >= reach or abs(one.point[1] - other.point[1]) >= reach:
                continue
            both = _covering(one, other)
            if both is None:
                continue
            if both.diameter == max(one.diameter, other.diameter) or _fits(both, member, widest, edge):
                left[left.index(one)] = both
                left.remove(other)
                merging = True
                break
    return tuple(left)


def _are_apart(bores: Sequence[Bore]) -> bool:
    """True where their places along the stick alone show that no two overlap."""
    widest = max(bore.diameter for bore in bores)
    places = sorted(bore.point[0] for bore in bores)
    return all(after - before >= widest for before, after in itertools.pairwise(places))


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
