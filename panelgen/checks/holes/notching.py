"""Notches against the rule set: how deep, and that no hole is in the same section."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.codes import found, named
from panelgen.checks.holes.roles import JOISTS, STUDS, TOP_PLATES, is_bearing, is_unruled
from panelgen.checks.holes.table import HoleTable
from panelgen.checks.scene import Scene
from panelgen.model import Finding, HardwareKind, Member, Notch, Panel

__all__ = ["notching"]

_HAIR = 1e-6


def notching(scene: Scene, rules: RuleSet) -> list[Finding]:
    """Findings of every notch of every stick, by the rule set."""
    timber = scene.timber
    notched = [index for index, member in enumerate(timber.members) if member.notches]
    if not notched:
        return []
    table = HoleTable.of(timber)
    findings: list[Finding] = []
    for index in notched:
        member, panel = timber.members[index], scene.panels[timber.panel[index]]
        findings += _too_deep(member, panel, rules)
        if member.role in STUDS or member.role in JOISTS:
            findings += _beside_holes(scene, table, index, rules)
    return findings


def _too_deep(member: Member, panel: Panel, rules: RuleSet) -> Iterator[Finding]:
    for notch in member.notches:
        share, source = _allowed(member, notch, panel, rules)
        if notch.depth <= share * member.width + _HAIR:
            continue
        if member.role in TOP_PLATES and _has_tie(member, panel, notch):
            continue
        yield found(
            "bore.plate" if member.role in TOP_PLATES else "notch.depth",
            panel,
            parts=(member.id, *([notch.run] if notch.run else [])),
            point=member.frame.point((notch.x0 + notch.x1) / 2, _edge(member, notch), member.thickness / 2),
            value=notch.depth,
            limit=share * member.width,
            source=source,
            member=named(member),
        )


def _allowed(member: Member, notch: Notch, panel: Panel, rules: RuleSet) -> tuple[float, str]:
    """The share of its width that a notch may take of a stick, and the rule that says so; a birdsmouth is at an end."""
    if is_unruled(member):
        return 0.0, f"{rules.title}: no rule"
    if member.role in STUDS:
        row = rules.stud_notch(bearing=is_bearing(panel))
        return row.share, row.cited
    if member.role in JOISTS:
        return rules.joist.end_notch_depth if notch.is_birdsmouth else rules.joist.notch_depth, rules.joist.cited
    if member.role in TOP_PLATES and is_bearing(panel):
        return rules.plate_tie.share, rules.plate_tie.cited
    return np.inf, ""


def _edge(member: Member, notch: Notch) -> float:
    return member.width if notch.from_far_edge else 0.0


def _has_tie(member: Member, panel: Panel, notch: Notch) -> bool:
    return any(
        tie.kind is HardwareKind.TIE
        and member.id in tie.parts
        and notch.x0 <= member.frame.to_local(tie.point)[0] <= notch.x1
        for tie in panel.hardware
    )


def _beside_holes(scene: Scene, table: HoleTable, index: int, rules: RuleSet) -> Iterator[Finding]:
    """Holes of a stick that share a section with one of its notches."""
    timber, member = scene.timber, scene.timber.members[index]
    panel = scene.panels[timber.panel[index]]
    source = rules.stud_bore(bearing=is_bearing(panel)).cited if member.role in STUDS else rules.joist.cited
    for k in np.flatnonzero(table.member == index).tolist():
        shared = [min(table.x1[k], n.x1) - max(table.x0[k], n.x0) for n in member.notches]
        if max(shared) > _HAIR:
            yield found(
                "bore.notch",
                panel,
                parts=(member.id, *timber.runs_through(k)),
                point=timber.bores.point[k],
                value=max(shared),
                limit=0.0,
                source=source,
                member=named(member),
            )
