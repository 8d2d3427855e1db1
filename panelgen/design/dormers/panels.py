"""The panels of dormers from their briefs."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.dormers.assign import DormerBriefs
from panelgen.design.dormers.cheek_faces import cheek_bays, cheek_sheets
from panelgen.design.dormers.cheek_nails import plate_nails
from panelgen.design.dormers.cheeks import Cheek, frame_cheek
from panelgen.design.dormers.stock import held
from panelgen.design.dormers.tilting import level_brief, set_down
from panelgen.design.framing.sticks import ripped_from, stock_of
from panelgen.design.numbering import mark_bays, mark_members, mark_sheets
from panelgen.design.panel import design_panels
from panelgen.design.roofs.nails import Job, sloping_nails
from panelgen.design.roofs.panel import design_roof_panels
from panelgen.design.trades.requests import Requests
from panelgen.model import Panel, PanelKind

__all__ = ["design_dormers"]


def design_dormers(
    dormers: Sequence[DormerBriefs],
    rules: RuleSet,
    requests: Requests,
    catalog: Catalog,
    labels: Collection[str] | None = None,
) -> Iterator[Panel]:
    """Every panel of some dormers, or those with these labels: of each its walls, then its roof."""
    edge = max(row.edge_distance for row in rules.sheet_nailings)
    for one in dormers:
        level = [wall for wall in one.level if labels is None or wall.brief.label in labels]
        made = design_panels([level_brief(wall.brief, wall.slope) for wall in level], rules, requests, catalog)
        for wall, panel in zip(level, made, strict=True):
            spec = wall.brief.assembly.framing
            own = stock_of(catalog, spec.stock, spec.species, spec.grade)
            plate = ripped_from(catalog, own, wall.slope.plate_width)
            down = set_down(panel, wall.slope, plate, edge, wall.lining)
            sheets, findings = held(down, catalog)
            yield replace(down, sheets=sheets, findings=(*down.findings, *findings), dormer=one.id)
        for cheek in one.cheeks:
            if labels is None or cheek.brief.label in labels:
                yield replace(_cheek_panel(cheek, rules), dormer=one.id)
        slopes = [roof for roof in one.roofs if labels is None or roof.label in labels]
        for panel in design_roof_panels(slopes, requests):
            yield replace(panel, dormer=one.id)


def _cheek_panel(cheek: Cheek, rules: RuleSet) -> Panel:
    brief = cheek.brief
    spec = brief.assembly.framing
    sticks = frame_cheek(cheek, stock_of(brief.catalog, spec.stock, spec.species, spec.grade))
    members = mark_members(brief.label, sticks.members)
    sheets = mark_sheets(brief.label, tuple(cheek_sheets(cheek, sticks)))
    profile = _profile(cheek)
    job = Job(brief.label, brief.layers, rules, brief.catalog)
    return Panel(
        label=brief.label,
        kind=PanelKind.EXTERIOR_WALL,
        level=brief.level,
        wall=brief.wall.id,
        wall_start=brief.wall_start,
        bearing=True,
        frame=brief.frame,
        length=brief.length,
        height=max(y for _, y in profile),
        profile=profile,
        layers=brief.layers,
        members=members,
        sheets=sheets,
        fasteners=sloping_nails(job, sticks, members, sheets, plate_nails(members, rules))[0],
        bays=mark_bays(brief.label, tuple(cheek_bays(cheek, members))),
    )


def _profile(cheek: Cheek) -> tuple[tuple[float, float], ...]:
    """The triangle of its framing, counter-clockwise from its lowest corner."""
    face = cheek.face
    low, high = (face, cheek.base.at(face)), (face, cheek.top.at(face))
    tip = (cheek.tip, cheek.base.at(cheek.tip))
    return (low, tip, high) if cheek.ahead > 0.0 else (low, high, tip)
