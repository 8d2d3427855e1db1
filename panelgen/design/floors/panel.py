"""Cassettes from their briefs: framing, services and bores, straps, bays, marks and sheets, and nails last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import PanelBrief
from panelgen.design.fastening.panels import Unnailed, fasteners
from panelgen.design.filling import Filling, fillings
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.floors.cavity import straps
from panelgen.design.floors.decking import decking, lapping_from_left
from panelgen.design.floors.framing import frame_cassette
from panelgen.design.floors.outline import WallBand
from panelgen.design.framing.wall import Framing
from panelgen.design.numbering import mark_members, mark_sheets
from panelgen.design.services.bores import bore_room, bored
from panelgen.design.services.boxes import boxes_in, sleeves_in, within_deck
from panelgen.design.services.runs import Space
from panelgen.design.trades.requests import Requests
from panelgen.design.unfinished import Unfinished
from panelgen.model import Bearing, Member, Panel, RunPart

__all__ = ["design_cassettes"]


def design_cassettes(
    briefs: Sequence[CassetteBrief], rules: RuleSet, requests: Requests, catalog: Catalog
) -> list[Panel]:
    """Every part of each cassette."""
    if not briefs:
        return []
    spaces = [_space(brief.panel) for brief in briefs]
    runs = requests.runs_in(spaces)
    framed = [frame_cassette(*parts) for parts in zip(briefs, runs, strict=True)]
    rooms = [bore_room(rules, brief.panel.wall.bearing) for brief in briefs]
    sticks = bored([one.members for one in framed], runs, requests.clearance, rooms)
    filled = [_filled(*parts, requests) for parts in zip(briefs, sticks, runs, strict=True)]
    panels = [
        _unnailed(*parts, requests)
        for parts in zip(briefs, framed, spaces, filled, fillings(filled, rules), strict=True)
    ]
    lots = [
        Unnailed(
            one.label,
            one.length,
            one.layers,
            one.members,
            one.sheets,
            one.runs,
            guests=lapping_from_left(brief),
        )
        for brief, one in zip(briefs, panels, strict=True)
    ]
    return [
        replace(panel, fasteners=nails, findings=(*panel.findings, *found))
        for panel, (nails, found) in zip(panels, fasteners(lots, rules, catalog), strict=True)
    ]


def _space(panel: PanelBrief) -> Space:
    """The room that a cassette takes."""
    low, high = min(layer.z0 for layer in panel.layers), max(layer.z1 for layer in panel.layers)
    return Space(panel.frame, (0.0, 0.0, low), (panel.length, panel.height, high))


def _filled(
    brief: CassetteBrief, sticks: Sequence[Member], runs: tuple[RunPart, ...], requests: Requests
) -> Unfinished:
    """A cassette with its services and straps, its sticks marked; `findings` are those about the straps."""
    panel = brief.panel
    boxes = boxes_in(within_deck(panel), requests.boxes.get(panel.wall.id, ()))
    strapping, findings = straps(brief, sticks, runs, boxes)
    members = mark_members(panel.label, (*sticks, *strapping))
    return Unfinished(panel, members, runs, boxes, findings, plated=False)


def _unnailed(
    brief: CassetteBrief, framing: Framing, space: Space, filled: Unfinished, filling: Filling, requests: Requests
) -> Panel:
    """A cassette without its nails."""
    panel = brief.panel
    sleeves = sleeves_in(within_deck(panel), requests.sleeves.get(panel.wall.id, ()), filled.runs)
    pieces, sheet_findings = decking(brief, filled.members, sleeves)
    return Panel(
        label=panel.label,
        kind=brief.kind,
        level=panel.level,
        wall=panel.wall.id,
        wall_start=panel.wall_start,
        bearing=True,
        frame=panel.frame,
        length=panel.length,
        height=panel.height,
        profile=((0.0, 0.0), (panel.length, 0.0), *reversed(panel.top)),
        layers=panel.layers,
        members=filled.members,
        sheets=mark_sheets(panel.label, pieces),
        openings=framing.openings,
        runs=filled.runs,
        boxes=filled.boxes,
        sleeves=sleeves,
        hardware=filling.hardware,
        bays=filling.bays,
        findings=(*framing.findings, *sheet_findings, *filled.findings, *filling.findings),
        fittings=requests.fittings_in(space),
        wall_base=panel.wall_base,
        bearings=tuple(_bearing(band) for band in brief.below if band.beam),
    )


def _bearing(band: WallBand) -> Bearing:
    x0, y0, x1, y1 = band.rect
    return Bearing(band.wall, x0, x1, y0, y1)
