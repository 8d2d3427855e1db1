"""Panels from their briefs: framing, services and bores, straps, bays, marks and sheets, and nails last of all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.backing import backing
from panelgen.design.blocking import blocking
from panelgen.design.bores import bore_room, bored
from panelgen.design.boxes import boxes_in, sleeves_in
from panelgen.design.brief import PanelBrief
from panelgen.design.cavity import straps
from panelgen.design.extents import extent_of
from panelgen.design.fastening import Unnailed, fasteners
from panelgen.design.framing import frame_panel
from panelgen.design.insulation import bays
from panelgen.design.numbering import mark_bays, mark_members, mark_sheets
from panelgen.design.requests import Requests
from panelgen.design.services import clip_to_panel
from panelgen.design.sheathing import joint_heights, sheets
from panelgen.design.shields import shields
from panelgen.design.supports import supports
from panelgen.design.ties import plate_ties
from panelgen.design.trades import unbacked
from panelgen.geometry.frames import Vec3
from panelgen.model import Panel, PanelKind, RunPart

__all__ = ["design_panels"]


def design_panels(briefs: Sequence[PanelBrief], rules: RuleSet, requests: Requests, catalog: Catalog) -> list[Panel]:
    """Every part of each panel."""
    panels = [_unnailed(brief, rules, requests) for brief in briefs]
    lots = [
        Unnailed(one.label, one.length, one.layers, one.members, one.sheets, one.runs, brief.lapped[0])
        for brief, one in zip(briefs, panels, strict=True)
    ]
    return [
        replace(panel, fasteners=nails, findings=(*panel.findings, *found))
        for panel, (nails, found) in zip(panels, fasteners(lots, rules, catalog), strict=True)
    ]


def _unnailed(brief: PanelBrief, rules: RuleSet, requests: Requests) -> Panel:
    """A panel without its nails and screws."""
    framing = frame_panel(brief, rules)
    members = framing.members
    heights = sorted({y for side in ("outer", "inner") for y in joint_heights(brief, side)})
    blocks, block_findings = blocking(brief, members, heights)
    members = (*members, *blocks)
    boards, board_findings = backing(brief, members)
    members = (*members, *boards)
    low, high = min(layer.z0 for layer in brief.layers), max(layer.z1 for layer in brief.layers)
    left = min(0.0, brief.inner_span[0], brief.strap_span[0])
    right = max(brief.length, brief.inner_span[1], brief.strap_span[1])
    box = (left, 0.0, low), (right, brief.height, high)
    parts = _runs_in(brief, requests, *box)
    boxes = boxes_in(brief, requests.boxes.get(brief.wall.id, ()))
    sleeves = sleeves_in(brief, requests.sleeves.get(brief.wall.id, ()))
    room = bore_room(rules, brief.wall.bearing or brief.wall.exterior)
    lap = max((extent_of(member).x1 for member in members), default=right)  # loose plates lap the next panel
    crossing = parts if lap <= right else _runs_in(brief, requests, box[0], (lap, brief.height, high))
    members = bored(members, crossing, requests.clearance, room)
    strapping, strap_findings = straps(brief, members, parts, boxes)
    voids, bay_findings = bays(brief, members, parts, boxes)
    members = mark_members(brief.label, (*members, *strapping))
    pieces, sheet_findings = sheets(brief, members, sleeves)
    cut = mark_sheets(brief.label, pieces)
    kind = PanelKind.EXTERIOR_WALL if brief.wall.exterior else PanelKind.INTERIOR_WALL
    return Panel(
        label=brief.label,
        kind=kind,
        level=brief.level,
        wall=brief.wall.id,
        wall_start=brief.wall_start,
        bearing=brief.wall.bearing,
        frame=brief.frame,
        length=brief.length,
        height=brief.height,
        profile=((0.0, 0.0), (brief.length, 0.0), *reversed(brief.top)),
        layers=brief.layers,
        members=members,
        sheets=cut,
        openings=framing.openings,
        runs=parts,
        boxes=boxes,
        sleeves=sleeves,
        hardware=(
            *plate_ties(brief, members, rules),
            *shields(brief, members, parts, rules),
            *supports(brief, members, parts, boxes, rules),
        ),
        bays=mark_bays(brief.label, voids),
        findings=(
            *framing.findings,
            *block_findings,
            *board_findings,
            *sheet_findings,
            *strap_findings,
            *unbacked(brief, members, requests.trades.get(brief.wall.id, ()), rules),
            *bay_findings,
        ),
        fittings=requests.fittings_in(brief.frame, *box),
    )


def _runs_in(brief: PanelBrief, requests: Requests, lower: Vec3, upper: Vec3) -> tuple[RunPart, ...]:
    """The stretches of the house's runs inside a box of the panel (mm)."""
    near = requests.runs_near(brief.frame, lower, upper)
    return tuple(part for run in near for part in clip_to_panel(run, brief.frame, lower, upper))
