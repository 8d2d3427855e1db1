"""The panels of dormers from their briefs."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from math import hypot

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
from panelgen.design.roofs.services import RoofServices
from panelgen.design.services.runs import Space
from panelgen.design.trades.requests import Requests
from panelgen.geometry.frames import Vec3
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
                yield replace(_cheek_panel(cheek, rules, requests), dormer=one.id)
        slopes = [roof for roof in one.roofs if labels is None or roof.label in labels]
        for panel in design_roof_panels(slopes, requests):
            yield replace(panel, dormer=one.id)


def _cheek_panel(cheek: Cheek, rules: RuleSet, requests: Requests) -> Panel:
    brief = cheek.brief
    spec = brief.assembly.framing
    sticks = frame_cheek(cheek, stock_of(brief.catalog, spec.stock, spec.species, spec.grade))
    space = _cheek_space(cheek)
    services = RoofServices(requests.runs_in([space])[0], (), (), requests.fittings_in(space), requests.clearance)
    members = mark_members(brief.label, services.bored(sticks.members, rules))
    sheets = mark_sheets(brief.label, tuple(cheek_sheets(cheek, sticks)))
    profile = _profile(cheek)
    job = Job(brief.label, brief.layers, rules, brief.catalog)
    rods = services.rods(brief.layers, members)
    nails, unplaced = sloping_nails(job, sticks, members, sheets, plate_nails(members, rules), rods)
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
        fasteners=nails,
        runs=services.runs,
        hardware=services.hardware(brief, members, rules),
        findings=unplaced,
        fittings=services.fittings,
        bays=mark_bays(brief.label, tuple(cheek_bays(cheek, members))),
    )


def _cheek_space(cheek: Cheek) -> Space:
    """The room that a cheek takes between its lines."""
    brief = cheek.brief
    low, high = min(layer.z0 for layer in brief.layers), max(layer.z1 for layer in brief.layers)
    heights = [y for _, y in _profile(cheek)]
    sides = []
    for line, up in ((cheek.base, -1.0), (cheek.top, 1.0)):
        size = hypot(1.0, line.rise)
        normal: Vec3 = (-up * line.rise / size, up / size, 0.0)
        sides.append((normal, up * line.height / size))
    return Space(brief.frame, (0.0, min(heights), low), (brief.length, max(heights), high), tuple(sides))


def _profile(cheek: Cheek) -> tuple[tuple[float, float], ...]:
    """The triangle of its framing, counter-clockwise from its lowest corner."""
    face = cheek.face
    low, high = (face, cheek.base.at(face)), (face, cheek.top.at(face))
    tip = (cheek.tip, cheek.base.at(cheek.tip))
    return (low, tip, high) if cheek.ahead > 0.0 else (low, high, tip)
