"""Bores against the rule set: how big, how near an edge, in which sticks, with what steel across.

A hole that takes too much of a stick may still be allowed where the stick is doubled. Holes that run
into each other count as one hole as wide as both.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.codes import found, named
from panelgen.checks.holes.doubled import doubled_at, too_many_in_a_row
from panelgen.checks.holes.limits import WITHIN_FACE, HoleLimit, hole_limit
from panelgen.checks.holes.roles import STUDS, TOP_PLATES, is_bearing, is_unruled
from panelgen.checks.holes.table import HoleTable
from panelgen.checks.scene import Scene
from panelgen.model import Finding, HardwareKind, Member, Panel, Severity

__all__ = ["boring"]

_HAIR = 1e-6


@dataclass(frozen=True, slots=True)
class _Hole:
    """One bore, or several that run into each other: rows of the hole table, and what they take together, mm."""

    rows: tuple[int, ...]
    member: Member
    panel: Panel
    size: float
    edge: float


def boring(scene: Scene, rules: RuleSet) -> list[Finding]:
    """Findings of every bore of every stick, by the rule set."""
    timber = scene.timber
    if not len(timber.bores.member):
        return []
    table = HoleTable.of(timber)
    limits = {
        index: hole_limit(timber.members[index], scene.panels[timber.panel[index]], rules)
        for index in np.unique(table.member).tolist()
    }
    size, edge = (np.array([getattr(limits[k], name) for k in table.member.tolist()]) for name in ("size", "edge"))
    beyond = table.across & ((table.size > size + _HAIR) | (table.edge < edge - _HAIR))
    findings = [_lost(scene, table, "bore.face", k) for k in np.flatnonzero(~table.across).tolist()]
    findings += [
        _lost(scene, table, "bore.end", k) for k in np.flatnonzero(table.across & (table.end < -_HAIR)).tolist()
    ]
    groups = _overlapping(table)
    merged = {k for group in groups for k in group}
    alone = [(k,) for k in np.flatnonzero(beyond).tolist() if k not in merged]
    wide: list[int] = []
    for rows in sorted((*groups, *alone)):
        hole = _hole(scene, table, rows)
        limit = limits[int(table.member[rows[0]])]
        if _is_wide_in_doubled(scene, table, hole, limit, rules):
            wide.extend(rows)
            limit = hole_limit(hole.member, hole.panel, rules, doubled=True)
        judged = list(_judged(scene, hole, limit))
        findings += judged or ([_overlap(scene, hole)] if len(rows) > 1 else [])
    doubled = rules.stud_bore(bearing=True, doubled=True)
    if wide and doubled.successive is not None:
        findings += too_many_in_a_row(scene, wide, doubled.successive, doubled.cited)
    return findings


def _overlapping(table: HoleTable) -> list[tuple[int, ...]]:
    """Bores of one stick that run into each other, in groups."""
    group: dict[int, int] = {}
    for i, j in zip(*(side.tolist() for side in table.that_meet()), strict=True):
        low, high = sorted((group.setdefault(i, i), group.setdefault(j, j)))
        group = {k: low if first == high else first for k, first in group.items()}
    return [tuple(sorted(k for k in group if group[k] == first)) for first in sorted(set(group.values()))]


def _hole(scene: Scene, table: HoleTable, rows: tuple[int, ...]) -> _Hole:
    index = table.member[rows[0]]
    picked = list(rows)
    size = table.size[picked].max() if len(rows) == 1 else table.y1[picked].max() - table.y0[picked].min()
    return _Hole(
        rows,
        scene.timber.members[index],
        scene.panels[scene.timber.panel[index]],
        float(size),
        float(table.edge[picked].min()),
    )


def _is_wide_in_doubled(scene: Scene, table: HoleTable, hole: _Hole, limit: HoleLimit, rules: RuleSet) -> bool:
    """Whether a hole too big for a single bearing stud is in a doubled one, and small enough for that."""
    if hole.member.role not in STUDS or not is_bearing(hole.panel) or hole.size <= limit.size + _HAIR:
        return False
    doubled = hole_limit(hole.member, hole.panel, rules, doubled=True)
    return hole.size <= doubled.size + _HAIR and doubled_at(scene.timber, table, hole.rows)


def _judged(scene: Scene, hole: _Hole, limit: HoleLimit) -> Iterator[Finding]:
    """What the rules say of one hole; one that is too big is not also called too near an edge for its size."""
    too_big = hole.size > limit.size + _HAIR
    if too_big and is_unruled(hole.member):
        yield _found(scene, "bore.unruled", hole, limit, hole.size, None)
    elif too_big and hole.member.role in TOP_PLATES:
        if not _has_tie(scene, hole):
            yield _found(scene, "bore.plate", hole, limit, hole.size, limit.size)
    elif too_big:
        yield _found(scene, "bore.size", hole, limit, hole.size, limit.size, remedy=limit.remedy)
    fits = (hole.member.width - hole.size) / 2 >= limit.edge - _HAIR
    if hole.edge < limit.edge - _HAIR and (fits or not too_big):
        yield _found(scene, "bore.edge", hole, limit, hole.edge, limit.edge)


def _has_tie(scene: Scene, hole: _Hole) -> bool:
    """Whether a steel tie is fixed to the plate across the hole."""
    frame, bores = hole.member.frame, scene.timber.bores
    for tie in hole.panel.hardware:
        if tie.kind is HardwareKind.TIE and hole.member.id in tie.parts:
            along = frame.to_local(tie.point)[0]
            if any(abs(along - bores.local[k, 0]) <= bores.radius[k] for k in hole.rows):
                return True
    return False


def _found(
    scene: Scene, code: str, hole: _Hole, limit: HoleLimit, value: float, at_most: float | None, **words: str
) -> Finding:
    return found(
        code,
        hole.panel,
        parts=_parts(scene, hole.rows),
        point=scene.timber.bores.point[list(hole.rows)].mean(axis=0),
        value=value,
        limit=at_most,
        source=limit.source,
        severity=limit.severity,
        member=named(hole.member),
        **words,
    )


def _lost(scene: Scene, table: HoleTable, code: str, k: int) -> Finding:
    hole = _hole(scene, table, (k,))
    value, at_most = (float(table.end[k]), 0.0) if code == "bore.end" else (hole.size, None)
    return _found(scene, code, hole, WITHIN_FACE, value, at_most)


def _overlap(scene: Scene, hole: _Hole) -> Finding:
    limit = HoleLimit(np.inf, 0.0, "common practice, no source", severity=Severity.WARN)
    return _found(scene, "bore.overlap", hole, limit, hole.size, None)


def _parts(scene: Scene, rows: tuple[int, ...]) -> tuple[str, ...]:
    """The stick, then the runs that the bores were made for."""
    timber = scene.timber
    runs = dict.fromkeys(run for k in rows for run in timber.runs_through(k))
    return (timber.members[timber.bores.member[rows[0]]].id, *runs)
