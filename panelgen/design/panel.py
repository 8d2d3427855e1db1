"""Panels from their briefs: framing, services and bores, straps, bays, marks and sheets, and nails last of all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import PanelBrief
from panelgen.design.extents import extent_of
from panelgen.design.fastening.panels import Unnailed, fasteners
from panelgen.design.filling import Filling, fillings
from panelgen.design.framing.backing import backing
from panelgen.design.framing.blocking import blocking
from panelgen.design.framing.wall import frame_panel
from panelgen.design.numbering import mark_members, mark_sheets
from panelgen.design.services.bores import bore_room, bored
from panelgen.design.services.boxes import boxes_in, sleeves_in, within_wall
from panelgen.design.services.runs import Space
from panelgen.design.services.ties import plate_ties
from panelgen.design.sheathing.sheets import joint_heights, sheets
from panelgen.design.straps.cavity import straps
from panelgen.design.trades.backing import unbacked
from panelgen.design.trades.requests import Requests
from panelgen.design.unfinished import Unfinished
from panelgen.model import Finding, Member, Opening, Panel, PanelKind, RunPart

__all__ = ["design_panels"]


def design_panels(briefs: Sequence[PanelBrief], rules: RuleSet, requests: Requests, catalog: Catalog) -> list[Panel]:
    """Every part of each panel."""
    framed = [_framed(brief, rules) for brief in briefs]
    runs = requests.runs_in([one.space for one in framed])
    lapping = [one.lapped for one in framed if one.lapped is not None]
    beyond = iter(requests.runs_in(lapping))
    crossing = [parts if one.lapped is None else next(beyond) for one, parts in zip(framed, runs, strict=True)]
    rooms = [bore_room(rules, brief.wall.bearing or brief.wall.exterior) for brief in briefs]
    sticks = bored([one.members for one in framed], crossing, requests.clearance, rooms)
    filled = [_filled(*parts, requests) for parts in zip(framed, sticks, runs, strict=True)]
    panels = [_unnailed(*parts, rules, requests) for parts in zip(framed, filled, fillings(filled, rules), strict=True)]
    lots = [
        Unnailed(one.label, one.length, one.layers, one.members, one.sheets, one.runs, brief.lapped[0])
        for brief, one in zip(briefs, panels, strict=True)
    ]
    return [
        replace(panel, fasteners=nails, findings=(*panel.findings, *found))
        for panel, (nails, found) in zip(panels, fasteners(lots, rules, catalog), strict=True)
    ]


@dataclass(frozen=True, slots=True, eq=False)
class _Framed:
    """The framing of a panel, and the room that the panel takes; `lapped` with loose plates that lap the next one."""

    brief: PanelBrief
    members: tuple[Member, ...]
    openings: tuple[Opening, ...]
    findings: tuple[Finding, ...]
    space: Space
    lapped: Space | None


def _framed(brief: PanelBrief, rules: RuleSet) -> _Framed:
    framing = frame_panel(brief, rules)
    heights = sorted({y for side in ("outer", "inner") for y in joint_heights(brief, side)})
    blocks, block_findings = blocking(brief, framing.members, heights)
    members = (*framing.members, *blocks)
    boards, board_findings = backing(brief, members)
    members = (*members, *boards)
    low, high = min(layer.z0 for layer in brief.layers), max(layer.z1 for layer in brief.layers)
    left = min(0.0, brief.inner_span[0], brief.strap_span[0])
    right = max(brief.length, brief.inner_span[1], brief.strap_span[1])
    space = Space(brief.frame, (left, 0.0, low), (right, brief.height, high))
    lap = max((extent_of(member).x1 for member in members if member.loose), default=right)
    lapped = Space(brief.frame, space.lower, (lap, brief.height, high)) if lap > right else None
    findings = (*framing.findings, *block_findings, *board_findings)
    return _Framed(brief, members, framing.openings, findings, space, lapped)


def _filled(framed: _Framed, sticks: Sequence[Member], runs: tuple[RunPart, ...], requests: Requests) -> Unfinished:
    """A panel with its services and straps, its sticks marked; `findings` are those about the straps."""
    brief = framed.brief
    boxes = boxes_in(within_wall(brief), requests.boxes.get(brief.wall.id, ()))
    strapping, findings = straps(brief, sticks, runs, boxes)
    return Unfinished(brief, mark_members(brief.label, (*sticks, *strapping)), runs, boxes, findings)


def _unnailed(framed: _Framed, filled: Unfinished, filling: Filling, rules: RuleSet, requests: Requests) -> Panel:
    """A panel without its nails and screws."""
    brief = filled.brief
    sleeves = sleeves_in(within_wall(brief), requests.sleeves.get(brief.wall.id, ()), filled.runs)
    pieces, sheet_findings = sheets(brief, filled.members, sleeves)
    return Panel(
        label=brief.label,
        kind=PanelKind.EXTERIOR_WALL if brief.wall.exterior else PanelKind.INTERIOR_WALL,
        level=brief.level,
        wall=brief.wall.id,
        wall_start=brief.wall_start,
        bearing=brief.wall.bearing,
        frame=brief.frame,
        length=brief.length,
        height=brief.height,
        profile=((0.0, 0.0), (brief.length, 0.0), *reversed(brief.top)),
        layers=brief.layers,
        members=filled.members,
        sheets=mark_sheets(brief.label, pieces),
        openings=framed.openings,
        runs=filled.runs,
        boxes=filled.boxes,
        sleeves=sleeves,
        hardware=(*plate_ties(brief, filled.members, rules), *filling.hardware),
        bays=filling.bays,
        findings=(
            *framed.findings,
            *sheet_findings,
            *filled.findings,
            *unbacked(brief, filled.members, requests.trades.get(brief.wall.id, ()), rules),
            *filling.findings,
        ),
        fittings=requests.fittings_in(framed.space),
    )
