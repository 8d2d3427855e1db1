"""Joists and rafters against the span tables, between the bearings that the house really gives them.

A bearing is the top of a wall that the stick runs over, or a header, rim, ridge, hip or valley of its own panel
that an end meets. Spans are clear and measured in plan, as the tables ask; the spacing of a stick is half the
distance to its neighbours on both sides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.catalog.structure_rows import SpanUse
from panelgen.checks.codes import found, named
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.sticks import Sticks
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import DesignLoads, Finding, Member, Panel, PanelKind, Role
from panelgen.model.layers import underside

__all__ = ["spans"]

_HOLD = (Role.HEADER, Role.RIM, Role.RIDGE, Role.HIP, Role.VALLEY)
_TOUCH = 2.0
"""Faces nearer than this (mm) meet; saw and setting tolerance, common practice, no source."""
_SEAT = 0.5
"""A bearing lies no higher in a stick than this share of its depth: a birdsmouth is shallower."""


@dataclass(frozen=True, slots=True)
class _Stick:
    """A joist or rafter with its bearings from start to end, distances in plan along it, mm.

    `walls` are those bearings that are walls; `hung` says at which ends a stick of its own panel holds it; `spacing`
    is its share of the layout, mm.
    """

    row: int
    member: Member
    panel: Panel
    length: float
    bearings: tuple[tuple[float, float], ...]
    walls: tuple[tuple[float, float], ...]
    hung: tuple[bool, bool]
    spacing: float

    @property
    def clear(self) -> tuple[float, float]:
        """The widest clear span and where its middle is; 0 with fewer than two bearings."""
        gaps = [(b[0] - a[1], (b[0] + a[1]) / 2) for a, b in zip(self.bearings, self.bearings[1:], strict=False)]
        return max(gaps, default=(0.0, 0.0))


def spans(sticks: Sticks, loads: DesignLoads, rules: RuleSet) -> Iterator[Finding]:
    """For each panel and size of stick the worst span, shortest bearing and longest free end beyond its limit."""
    worst: dict[tuple[str, str, str, str], tuple[float, Finding]] = {}
    for stick in _measured(sticks, rules):
        for excess, finding in _of_stick(stick, loads, rules):
            key = (finding.panel, finding.code, stick.member.stock, stick.member.species)
            if key not in worst or excess > worst[key][0]:
                worst[key] = (excess, finding)
    yield from (finding for _, finding in worst.values())


def _measured(sticks: Sticks, rules: RuleSet) -> Iterator[_Stick]:
    """The joists and rafters of a scene with their bearings."""
    rows = sticks.rows(Role.JOIST, Role.RAFTER, in_wall=False)
    if not len(rows):
        return
    scene, timber = sticks.scene, sticks.scene.timber
    panel = timber.panel[rows]
    origins, axes = scene.frames()
    along = timber.axes[rows, 0]
    cuts = np.array([_ends_of(sticks.member(row)) for row in rows.tolist()])
    middle = timber.origins[rows] + 0.5 * (
        timber.axes[rows, 1] * timber.sizes[rows, 1, None] + timber.axes[rows, 2] * timber.sizes[rows, 2, None]
    )
    ends = middle + along * cuts.T[:, :, None]
    start, end = np.einsum("eni,nij->enj", ends, axes[panel]) + origins[panel]
    ahead = np.einsum("ni,nij->nj", along, axes[panel])
    in_plan = np.hypot(ahead[:, 0], ahead[:, 1])
    under = np.array([-underside(one.layers) for one in scene.panels])[panel]
    bearing, first, last = _over_walls(sticks, start, end, in_plan, timber.sizes[rows, 1], under, rules)
    hung = np.stack([_held(sticks, panel, end) for end in ends])
    spacing = _spacing(sticks, rows, panel)
    for k, row in enumerate(rows.tolist()):
        length = float((cuts[k, 1] - cuts[k, 0]) * in_plan[k])
        places = [
            (float(first[k, w]) * length, float(last[k, w]) * length) for w in np.flatnonzero(bearing[k]).tolist()
        ]
        places += _over_beams(
            scene.panels[panel[k]], sticks.low[row], sticks.high[row], float(ends[0, k, 1]), float(in_plan[k])
        )
        walls = _merged(places)
        if hung[0, k]:
            places.append((0.0, 0.0))
        if hung[1, k]:
            places.append((length, length))
        held = (bool(hung[0, k]), bool(hung[1, k]))
        yield _Stick(
            row, sticks.member(row), scene.panels[panel[k]], length, _merged(places), walls, held, float(spacing[k])
        )


def _ends_of(member: Member) -> tuple[float, float]:
    """Where the centre line of a stick begins and ends between its cuts, mm along it."""
    if member.has_square_ends:
        return 0.0, member.length
    y, z = member.width / 2, member.thickness / 2
    return member.end_x(member.start, False, y, z), member.end_x(member.end, True, y, z)


def _over_walls(
    sticks: Sticks, start: Floats, end: Floats, in_plan: Floats, depth: Floats, under: Floats, rules: RuleSet
) -> tuple[Bools, Floats, Floats]:
    """Which walls n sticks bear on, (n, w), and the first and last share of their length that lies over each.

    `under` (n,) is the sheathing between the stick and the wall, mm.
    """
    walls = Walls.of(sticks)
    first, last = walls.crossings(start, end)
    gap = rules.structure.load_path.bearing_gap + under[:, None]
    rise = (end[:, 2] - start[:, 2])[:, None]
    plumb = (depth / np.maximum(in_plan, 1e-9))[:, None]
    with np.errstate(invalid="ignore"):
        heights = np.stack((start[:, 2, None] + rise * first, start[:, 2, None] + rise * last)) - plumb / 2
    low, high = np.minimum(*heights), np.maximum(*heights)
    bears = (first < last) & (walls.top >= low - gap) & (walls.top <= high + _SEAT * plumb)
    return bears, first, last


def _over_beams(panel: Panel, low: Floats, high: Floats, start: float, level: float) -> list[tuple[float, float]]:
    """Where along a stick with the corners `low` and `high`, from its `start` up, beams carry it, mm in plan.

    `level` is what a length along it is in plan.
    """
    length = float(high[1] - low[1]) * level
    beams = (b for b in panel.bearings if b.x0 < high[0] and low[0] < b.x1)
    places = (((b.y0 - start) * level, (b.y1 - start) * level) for b in beams)
    return [(max(first, 0.0), min(last, length)) for first, last in places if first < length and last > 0.0]


def _held(sticks: Sticks, panel: Ints, ends: Floats) -> Bools:
    """Whether a header, rim or ridge of the same panel meets each of the `ends` (n, 3), panel coordinates."""
    holders = sticks.rows(*_HOLD, in_wall=False)
    same = sticks.scene.timber.panel[holders][None] == panel[:, None]
    low, high = sticks.low[holders] - _TOUCH, sticks.high[holders] + _TOUCH
    inside = ((ends[:, None] >= low[None]) & (ends[:, None] <= high[None])).all(axis=2)
    result: Bools = (inside & same).any(axis=1)
    return result


def _spacing(sticks: Sticks, rows: Ints, panel: Ints) -> Floats:
    """Half the distance to the neighbours on both sides, across the panel, mm; a stick at an edge has one."""
    centre = (sticks.low[rows, 0] + sticks.high[rows, 0]) / 2
    share = np.zeros(len(rows))
    for number in np.unique(panel).tolist():
        own = np.flatnonzero(panel == number)
        places, back = np.unique(centre[own].round(1), return_inverse=True)
        apart = np.diff(places, prepend=places[0], append=places[-1])
        share[own] = ((apart[:-1] + apart[1:]) / 2)[back]
    return share


def _merged(places: list[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """Bearings in order, those that meet as one."""
    merged: list[tuple[float, float]] = []
    for first, last in sorted(places):
        if merged and first <= merged[-1][1] + _TOUCH:
            merged[-1] = (merged[-1][0], max(merged[-1][1], last))
        else:
            merged.append((first, last))
    return tuple(merged)


def _of_stick(stick: _Stick, loads: DesignLoads, rules: RuleSet) -> Iterator[tuple[float, Finding]]:
    """What is wrong with one stick, each with how far it is beyond its limit."""
    member, tables = stick.member, rules.structure
    words: dict[str, Any] = {"size": member.stock, "wood": f"{member.species} {member.grade}"}
    use, live = _use(stick, loads, rules)
    clear, at = stick.clear
    cell = None
    if live is not None:
        cell = tables.span(use, live, member.species, member.grade, member.stock, stick.spacing - _TOUCH)
    if cell is None:
        yield clear, _finding("joist.table", stick, at, value=clear, source=rules.title, **words)
    elif clear > cell.span + _TOUCH:
        excess = clear - cell.span
        yield excess, _finding("joist.span", stick, at, value=clear, limit=cell.span, source=cell.cited, **words)
    yield from _ends(stick, rules)


def _ends(stick: _Stick, rules: RuleSet) -> Iterator[tuple[float, Finding]]:
    """Bearing at the ends, and ends that nothing carries: a rafter may run out over its wall."""
    least = rules.structure.bearings["rafter" if stick.member.role is Role.RAFTER else "joist"]
    path = rules.structure.load_path
    for side, at in (("first", 0.0), ("last", stick.length)):
        if stick.hung[side == "last"]:
            continue
        nearest = min(stick.walls, key=lambda pair: min(abs(pair[0] - at), abs(pair[1] - at)), default=None)
        free = stick.length if nearest is None else max(nearest[0] - at, at - nearest[1], 0.0)
        if free > path.reach and stick.member.role is not Role.RAFTER:
            yield free, _finding("joist.support", stick, at, value=free, limit=path.reach, source=path.cited, side=side)
        elif nearest is not None and nearest[1] - nearest[0] < least.length - _TOUCH:
            short = least.length - (nearest[1] - nearest[0])
            yield (
                short,
                _finding(
                    "joist.bearing",
                    stick,
                    at,
                    value=nearest[1] - nearest[0],
                    limit=least.length,
                    source=least.cited,
                    side=side,
                ),
            )


def _use(stick: _Stick, loads: DesignLoads, rules: RuleSet) -> tuple[SpanUse, float | None]:
    """Which table a stick falls under and the live load it is looked up for, kPa."""
    if stick.member.role is Role.RAFTER:
        return "rafter", loads.ground_snow
    use: SpanUse = "ceiling joist" if stick.panel.kind is PanelKind.CEILING else "floor joist"
    return use, rules.structure.live_load(use)


def _finding(
    code: str,
    stick: _Stick,
    at: float,
    *,
    value: float,
    limit: float | None = None,
    source: str,
    **words: Any,
) -> Finding:
    """A finding at the distance `at` in plan along a stick."""
    member = stick.member
    share = at / stick.length if stick.length else 0.0
    point = member.frame.point(member.length * share, member.width / 2, member.thickness / 2)
    return found(
        code,
        stick.panel,
        parts=(member.id,),
        point=point,
        value=value,
        limit=limit,
        source=source,
        member=named(member),
        **words,
    )
