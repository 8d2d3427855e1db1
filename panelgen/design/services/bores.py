"""Bores: a hole through each stick that a run goes straight through, and one hole for two that overlap.

A bore is made only where a run goes straight through the wide face of a stick with its hole wholly on that
face. Everything else is left for the checks to report: a rectangular duct through a stick too, since an
opening for it is a cut that an engineer decides, not a bore.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import chain, combinations, count, repeat
from operator import sub

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.design.changing import changing
from panelgen.geometry.boxes import Ints, overlapping
from panelgen.geometry.stretches import Stretches
from panelgen.geometry.turned_boxes import TurnedBoxes
from panelgen.model import Bore, Member, Role, RunPart

__all__ = ["BoreRoom", "bore_room", "bored"]

_EPS = 1e-6
_with_bores = changing(Member, "bores")
_LEAST_COSINE = 0.5
"""Flatter than 30 degrees to the face nobody drills."""

BoreRoom = Callable[[Member], tuple[float, float]]
"""The widest bore that a stick may have and the wood left to its edge, mm; (0, 0) where no rule gives any."""


def _no_room(_: Member) -> tuple[float, float]:
    return 0.0, 0.0


_UPRIGHTS = (Role.STUD, Role.POST, Role.KING, Role.JACK, Role.CRIPPLE)
_JOISTS = (Role.JOIST, Role.RAFTER, Role.HIP, Role.VALLEY)
_PLATES = (Role.BOTTOM_PLATE, Role.TOP_PLATE, Role.CAP_PLATE)


def bore_room(rules: RuleSet, bearing: bool) -> BoreRoom:
    """What a rule set lets overlapping holes be merged into: the limit of a stud, joist or rafter; in plates no tie."""

    def room(member: Member) -> tuple[float, float]:
        if member.role in _UPRIGHTS:
            limit = rules.stud_bore(bearing)
            return limit.share * member.width, limit.edge_distance
        if member.role in _JOISTS and not member.engineered:
            return rules.joist.bore * member.width, rules.joist.bore_edge_distance
        if member.role in _PLATES:
            return rules.plate_tie.share * member.width, 0.0
        return 0.0, 0.0

    return room


def bored(
    panels: Sequence[Sequence[Member]],
    runs: Sequence[Sequence[RunPart]],
    clearance: Mapping[str, float],
    rooms: Sequence[BoreRoom],
) -> list[tuple[Member, ...]]:
    """The members of panels with a bore wherever a run goes straight through one.

    `runs` and `rooms` are those of each panel; `clearance` (mm) is by run id. Bores that overlap become the one
    hole that covers both, where that is within the room; its `run` then names both. Others stay as they are.
    """
    made = _bores(panels, [[run for run in lot if run.section is None] for lot in runs], clearance)
    numbers = count()
    return [
        tuple(
            _with_bores(member, _merged((*member.bores, *made[i]), member, *room(member))) if i in made else member
            for member, i in zip(members, numbers)  # noqa: B905
        )
        for members, room in zip(panels, rooms, strict=True)
    ]


def _bores(
    panels: Sequence[Sequence[Member]], runs: Sequence[Sequence[RunPart]], clearance: Mapping[str, float]
) -> dict[int, list[Bore]]:
    """The plain holes for round runs, by the running number of the member, in the order of the runs.

    A stretch makes one where, by its centre line, it enters and leaves the wide faces of a stick.
    """
    members, round_runs = list(chain.from_iterable(panels)), list(chain.from_iterable(runs))
    if not members or not round_runs:
        return {}
    sticks = TurnedBoxes.of([m.frame for m in members], 0.0, [(m.length, m.width, m.thickness) for m in members])
    stretches = Stretches.of([run.path for run in round_runs])
    stretch, index = overlapping(
        stretches.limits().grown(_EPS),
        sticks.limits().grown(_EPS),
        _panel_of(runs)[stretches.path],
        _panel_of(panels),
    )
    start, end = (sticks.to_local(index, points[stretch]) for points in (stretches.start, stretches.end))
    way, low, high = end - start, np.minimum(start[:, 2], end[:, 2]), np.maximum(start[:, 2], end[:, 2])
    long = np.sqrt((way * way).sum(axis=1))
    through = (low <= _EPS) & (high >= sticks.high[index, 2] - _EPS) & (high - low >= _LEAST_COSINE * long)
    index, run, start = index[through], stretches.path[stretch[through]], start[through]
    axis = way[through] / long[through, None]
    diameters = np.array([one.outside_diameter + clearance[one.run] for one in round_runs])[run]
    reach = (diameters / 2 / np.abs(axis[:, 2]))[:, None]  # the hole on the face is an ellipse no longer than this
    slope = axis[:, :2] / axis[:, 2:]
    near = start[:, :2] - slope * start[:, 2:]
    far = near + slope * sticks.high[index, 2:]
    inside = (np.minimum(near, far) >= reach) & (np.maximum(near, far) <= sticks.high[index, :2] - reach)
    axis *= np.copysign(1.0, axis[:, 2:])
    axis[axis[:, 2] > 1.0 - 1e-9] = (0.0, 0.0, 1.0)
    fits = inside.all(axis=1)
    skew = np.array([not member.has_square_ends for member in members])[index]
    for k in np.flatnonzero(fits & skew).tolist():
        member = members[index[k]]
        faces = (near[k], 0.0), (far[k], member.thickness)
        fits[k] = all(_is_on_face(member, x, y, z, reach[k, 0], 0.0) for (x, y), z in faces)
    points, axes = zip(*near[fits].T.tolist(), repeat(0.0)), zip(*axis[fits].T.tolist(), strict=True)
    names = [round_runs[n].run for n in run[fits].tolist()]
    made: dict[int, list[Bore]] = {}
    for i, bore in zip(index[fits].tolist(), map(Bore, points, diameters[fits].tolist(), axes, names), strict=True):
        made.setdefault(i, []).append(bore)
    return made


def _panel_of(lots: Sequence[Sequence[object]]) -> Ints:
    """The number of the lot that each entry of some lots is in."""
    return np.arange(len(lots)).repeat([len(lot) for lot in lots])


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
        for one, other in combinations(left, 2):
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
    widest = max([bore.diameter for bore in bores])
    places = sorted([bore.point[0] for bore in bores])
    return min(map(sub, places[1:], places), default=widest) >= widest


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
