"""Joists and rafters against the span tables, between the bearings that the house really gives them.

Spans are clear and measured in plan, as the tables ask; the spacing of a stick is half the distance to its neighbours
on both sides. A wall that is not made to carry is no bearing; where only such walls make a span short enough, that is
said instead.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from panelgen.catalog import RuleSet
from panelgen.catalog.structure_rows import SpanUse
from panelgen.checks.codes import found, named
from panelgen.checks.structure.bearings import TOUCH, Borne, Place
from panelgen.model import DesignLoads, Finding, PanelKind, Role

__all__ = ["spans"]


def spans(borne: Iterable[Borne], loads: DesignLoads, rules: RuleSet) -> Iterator[Finding]:
    """For each panel and size of stick the worst span, shortest bearing and longest free end beyond its limit."""
    worst: dict[tuple[str, str, str, str], tuple[float, Finding]] = {}
    for stick in borne:
        for excess, finding in _of_stick(stick, loads, rules):
            key = (finding.panel, finding.code, stick.member.stock, stick.member.species)
            if key not in worst or excess > worst[key][0]:
                worst[key] = (excess, finding)
    yield from (finding for _, finding in worst.values())


def _of_stick(stick: Borne, loads: DesignLoads, rules: RuleSet) -> Iterator[tuple[float, Finding]]:
    """What is wrong with one stick, each with how far it is beyond its limit."""
    if stick.member.role is not Role.TRIMMER:  # a doubled joist, no longer than those beside it
        yield from _span(stick, loads, rules)
    yield from _ends(stick, rules)


def _span(stick: Borne, loads: DesignLoads, rules: RuleSet) -> Iterator[tuple[float, Finding]]:
    """A span beyond the table, or one that the table does not have."""
    member, tables = stick.member, rules.structure
    words: dict[str, Any] = {"size": member.stock, "wood": f"{member.species} {member.grade}"}
    use, live = _use(stick, loads, rules)
    clear, at = stick.clear(stick.walls)
    cell = None
    if live is not None:
        cell = tables.span(use, live, member.species, member.grade, member.stock, stick.spacing - TOUCH)
    if cell is None:
        yield clear, _finding("joist.table", stick, at, value=clear, source=rules.title, **words)
        return
    if clear > cell.span + TOUCH:
        excess = clear - cell.span
        yield excess, _finding("joist.span", stick, at, value=clear, limit=cell.span, source=cell.cited, **words)
        return
    if stick.carriers == stick.walls:
        return
    carried, at = stick.clear(stick.carriers)
    if carried > cell.span + TOUCH:
        excess = carried - cell.span
        yield excess, _leaning(stick, at, value=carried, limit=cell.span, source=cell.cited)


def _ends(stick: Borne, rules: RuleSet) -> Iterator[tuple[float, Finding]]:
    """Bearing at the ends, and ends that nothing carries: a rafter may run out over its wall."""
    least = rules.structure.bearings["rafter" if stick.member.role is Role.RAFTER else "joist"]
    path = rules.structure.load_path
    for side, at in (("first", 0.0), ("last", stick.length)):
        if stick.hung[side == "last"]:
            continue
        nearest = _nearest(stick.walls, at)
        free = _free(stick, nearest, at)
        if free > path.reach and stick.member.role is not Role.RAFTER:
            yield free, _finding("joist.support", stick, at, value=free, limit=path.reach, source=path.cited, side=side)
        elif nearest is not None and nearest[1] - nearest[0] < least.length - TOUCH:
            bite = nearest[1] - nearest[0]
            finding = _finding(
                "joist.bearing", stick, at, value=bite, limit=least.length, source=least.cited, side=side
            )
            yield least.length - bite, finding
        elif stick.member.role is not Role.RAFTER:
            hangs = _free(stick, _nearest(stick.carriers, at), at)
            if hangs > path.reach:
                yield hangs, _leaning(stick, at, value=hangs, limit=path.reach, source=path.cited)


def _nearest(walls: tuple[Place, ...], at: float) -> Place | None:
    """The bearing nearest to a place along a stick."""
    return min(walls, key=lambda pair: min(abs(pair[0] - at), abs(pair[1] - at)), default=None)


def _free(stick: Borne, nearest: Place | None, at: float) -> float:
    """How far an end reaches beyond its nearest bearing; all of the stick where there is none."""
    return stick.length if nearest is None else max(nearest[0] - at, at - nearest[1], 0.0)


def _use(stick: Borne, loads: DesignLoads, rules: RuleSet) -> tuple[SpanUse, float | None]:
    """Which table a stick falls under and the live load it is looked up for, kPa."""
    if stick.member.role is Role.RAFTER:
        return "rafter", loads.ground_snow
    use: SpanUse = "ceiling joist" if stick.panel.kind is PanelKind.CEILING else "floor joist"
    return use, rules.structure.live_load(use)


def _leaning(stick: Borne, at: float, *, value: float, limit: float, source: str) -> Finding:
    """A stick that only a wall that is not made to carry holds up."""
    return _finding("joist.partition", stick, at, value=value, limit=limit, source=source, wall=stick.partition)


def _finding(
    code: str,
    stick: Borne,
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
