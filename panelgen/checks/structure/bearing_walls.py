"""Bearing walls on floors: what stands beneath them, along the joists or across them.

Across the joists a bearing wall may stand as far from the line that carries them as the rule set says, in depths of the
joists. Along them it needs that line right beneath, or joists side by side. Where no floor lies between two levels a
wall needs another beneath it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.codes import found
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.sticks import Sticks
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, dot
from panelgen.model import Finding, Panel, PanelKind, Role
from panelgen.model.layers import underside

__all__ = ["bearing_walls"]

_STEP = 300.0
"""A wall is looked at every so many mm of its length; common practice, no source."""
_LIES = 5.0
"""A wall or deck that is this near (mm) to what it stands on stands on it; common practice, no source."""
_SLACK = 1.0
_ALONG = 0.5
_RUNS = (Role.JOIST, Role.TRIMMER, Role.RIM)


class _Foot(NamedTuple):
    """One place along a wall: panel x, the code of what is wrong there, how far off support is and what it may be."""

    x: float
    code: str = ""
    away: float = 0.0
    limit: float | None = None


class _Floor(NamedTuple):
    """A floor panel by its index: the plan box around it and the house height of its top, mm."""

    number: int
    x0: float
    y0: float
    x1: float
    y1: float
    top: float

    @classmethod
    def of(cls, number: int, panel: Panel) -> _Floor:
        """That of a panel."""
        corners = [panel.frame.point(x, y, 0.0) for x in (0.0, panel.length) for y in (0.0, panel.height)]
        xs, ys = [x for x, _, _ in corners], [y for _, y, _ in corners]
        top = panel.frame.origin[2] + panel.depth[1]
        return cls(number, min(xs) - _SLACK, min(ys) - _SLACK, max(xs) + _SLACK, max(ys) + _SLACK, top)


def bearing_walls(sticks: Sticks, walls: Walls, rules: RuleSet) -> Iterator[Finding]:
    """For every bearing wall panel the stretches that nothing carries, by their cause.

    Stretches shorter than its studs are apart are left to its plates. On the lowest level exterior walls stand on their
    foundation, and others too unless there is a floor beneath them; dormers stand on the roof, by an engineer.
    """
    if not len(walls.panel):
        return
    ground = float(walls.bottom.min()) + rules.structure.load_path.reach
    floors = [_Floor.of(n, panel) for n, panel in enumerate(sticks.scene.panels) if panel.kind is PanelKind.FLOOR]
    for w in np.flatnonzero(walls.carries).tolist():
        number = int(walls.panel[w])
        wall = sticks.scene.panels[number]
        is_raised = bool(walls.bottom[w] > ground)
        if wall.dormer or (not is_raised and wall.kind is PanelKind.EXTERIOR_WALL):
            continue
        for code, feet in groupby(_feet(sticks, walls, wall, floors, is_raised, rules), key=lambda foot: foot.code):
            stretch = list(feet)
            if code and stretch[-1].x - stretch[0].x + _STEP > sticks.layout(number):
                yield _finding(wall, code, stretch, rules)


def _feet(
    sticks: Sticks, walls: Walls, wall: Panel, floors: Sequence[_Floor], is_raised: bool, rules: RuleSet
) -> list[_Foot]:
    """What is wrong at every place along a wall, from its left end to its right."""
    xs = np.linspace(0.0, wall.length, max(2, int(wall.length / _STEP) + 1))
    local = np.column_stack((xs, np.zeros_like(xs), np.full_like(xs, wall.framing.thickness / 2)))
    places = np.array([wall.frame.point(*row) for row in local.tolist()])
    feet = [_Foot(x) for x in xs.tolist()]
    left = np.ones(len(xs), dtype=bool)
    low, high = places.min(axis=0).tolist(), places.max(axis=0).tolist()
    for number, *box, top in floors:
        if abs(top - low[2]) > _LIES or low[0] > box[2] or low[1] > box[3] or high[0] < box[0] or high[1] < box[1]:
            continue
        floor = sticks.scene.panels[number]
        seen = floor.frame.to_local(places)
        inside = (seen[:, :2] >= -_SLACK).all(axis=1) & (seen[:, 0] <= floor.length + _SLACK)
        on = np.flatnonzero(inside & (seen[:, 1] <= floor.height + _SLACK) & left)
        left[on] = False
        if len(on):
            found_there = _on_floor(sticks, walls, wall, number, xs[on], places[on], seen[on], rules)
            for k, foot in zip(on.tolist(), found_there, strict=True):
                feet[k] = foot
    bare = np.flatnonzero(left)
    if len(bare) and is_raised:
        over, _ = walls.under(places[bare])
        below = over & (walls.top <= wall.frame.origin[2] + rules.structure.load_path.bearing_gap)
        for k in bare[~below.any(axis=1)].tolist():
            feet[k] = feet[k]._replace(code="load.gap")
    return feet


def _on_floor(
    sticks: Sticks, walls: Walls, wall: Panel, number: int, xs: Floats, places: Floats, seen: Floats, rules: RuleSet
) -> Iterator[_Foot]:
    """What is wrong at n `places` of a wall, `xs` (n,) along it, on a floor panel that they are `seen` from, (n, 3)."""
    floor, rule = sticks.scene.panels[number], rules.structure.bearing_wall
    bottom = floor.frame.origin[2] + underside(floor.layers)
    carriers = np.flatnonzero(walls.carries & (np.abs(walls.top - bottom) <= _LIES))
    away, half = _away(walls, carriers, places, floor, seen)
    if abs(dot(wall.frame.x, floor.frame.y)) < _ALONG:
        limit = rule.offset * floor.framing.thickness
        for x, off in zip(xs.tolist(), away.min(axis=1, initial=np.inf).tolist(), strict=True):
            yield _Foot(x, "load.offset" if off > limit + _SLACK else "", off, limit)
        return
    right_beneath = np.any(away <= half + _SLACK, axis=1)
    doubled = _joists_under(sticks, number, seen, wall.framing.thickness / 2 + _SLACK) >= rule.plies
    for x, is_carried, is_doubled in zip(xs.tolist(), right_beneath.tolist(), doubled.tolist(), strict=True):
        yield _Foot(x, "" if is_carried else "load.doubled" if is_doubled else "load.joists")


def _joists_under(sticks: Sticks, number: int, seen: Floats, reach: float) -> Ints:
    """(n,) how many sticks along a floor panel lie within `reach` (mm) beneath n places `seen` (n, 3) from it."""
    rows = [row for row in sticks.span(number) if sticks.member(row).role in _RUNS and sticks.built[row]]
    low, high = sticks.low[rows], sticks.high[rows]
    under = np.abs((low[:, 0] + high[:, 0])[None] / 2 - seen[:, 0, None]) <= reach
    under &= (low[:, 1] <= seen[:, 1, None] + _SLACK) & (high[:, 1] >= seen[:, 1, None] - _SLACK)
    counts: Ints = under.sum(axis=1)
    return counts


def _away(walls: Walls, carriers: Ints, places: Floats, floor: Panel, seen: Floats) -> tuple[Floats, Floats]:
    """How far n places are from the middle lines of k walls and beams they stand beside, (n, k), and half the width of
    each, (k,), mm; infinite past their ends."""
    _, local = walls.under(places)
    local, size = local[:, carriers], walls.size[carriers]
    beside = (local[:, :, 0] >= -_SLACK) & (local[:, :, 0] <= size[:, 0] + _SLACK)
    away = [np.where(beside, np.abs(local[:, :, 2] - size[:, 2] / 2), np.inf)]
    half = [size[:, 2] / 2]
    for beam in floor.bearings:
        low, high = np.array((beam.x0, beam.y0)), np.array((beam.x1, beam.y1))
        across = int(np.argmin(high - low))
        along = 1 - across
        inside = (seen[:, along] >= low[along] - _SLACK) & (seen[:, along] <= high[along] + _SLACK)
        off = np.abs(seen[:, across] - (low + high)[across] / 2)
        away.append(np.where(inside, off, np.inf)[:, None])
        half.append((high - low)[across, None] / 2)
    return np.concatenate(away, axis=1), np.concatenate(half)


def _finding(wall: Panel, code: str, stretch: Sequence[_Foot], rules: RuleSet) -> Finding:
    nearest = min(stretch, key=lambda foot: foot.away)
    is_offset = code == "load.offset" and np.isfinite(nearest.away)
    return found(
        code,
        wall,
        parts=(wall.wall,),
        point=((stretch[0].x + stretch[-1].x) / 2, 0.0, wall.framing.thickness / 2),
        value=nearest.away if is_offset else stretch[-1].x - stretch[0].x,
        limit=nearest.limit if is_offset else None,
        source=(rules.structure.load_path if code == "load.gap" else rules.structure.bearing_wall).cited,
        wall=wall.wall,
    )
