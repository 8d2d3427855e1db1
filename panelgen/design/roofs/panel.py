"""Roof panels from their briefs."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.numbering import mark_bays, mark_members, mark_sheets
from panelgen.design.roofs.bays import place_bays
from panelgen.design.roofs.birdsmouths import cut_birdsmouths
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.doubts import dormers, long_sticks
from panelgen.design.roofs.edges import place_edges
from panelgen.design.roofs.nails import Job, sloping_nails
from panelgen.design.roofs.outline import profile_of
from panelgen.design.roofs.overhang import place_blocking, place_ladders
from panelgen.design.roofs.rafters import place_rafters, place_wall_rafters
from panelgen.design.roofs.services import RoofServices, services_in
from panelgen.design.roofs.sheets import place_sheets
from panelgen.design.roofs.sticks import Sticks
from panelgen.design.trades.requests import Requests
from panelgen.model import Opening, Panel, PanelKind, Why

__all__ = ["design_roof_panel", "design_roof_panels"]


_NONE = RoofServices()


def design_roof_panels(briefs: Sequence[RoofBrief], requests: Requests) -> list[Panel]:
    """Every part of each panel, with its share of the services."""
    return [design_roof_panel(*one) for one in zip(briefs, services_in(briefs, requests), strict=True)]


def design_roof_panel(brief: RoofBrief, services: RoofServices = _NONE) -> Panel:
    """Every part of one panel: boards around it, rafters, openings, blocking and ladders, birdsmouths and services."""
    sticks = Sticks()
    inside = place_edges(brief, sticks)
    place_wall_rafters(brief, sticks, inside)
    place_rafters(brief, sticks, inside)
    place_blocking(brief, sticks, inside)
    place_ladders(brief, sticks, inside)
    cut_birdsmouths(brief, sticks)
    bays = place_bays(brief, sticks, inside, services)
    members = mark_members(brief.label, services.bored(sticks.members, brief.rules))
    sheets = mark_sheets(brief.label, place_sheets(brief, sticks, services.sleeves))
    profile = profile_of(brief)
    job = Job(brief.label, brief.layers, brief.rules, brief.catalog, is_roof=True)
    nails, unplaced = sloping_nails(job, sticks, members, sheets, services=services.rods(brief.layers, members))
    return Panel(
        label=brief.label,
        kind=PanelKind.ROOF,
        level=brief.plane.level.id,
        wall=brief.plane.id,
        wall_start=brief.start,
        bearing=True,
        frame=brief.frame,
        length=max(x for x, _ in profile),
        height=max(y for _, y in profile),
        profile=profile,
        layers=brief.layers,
        members=members,
        sheets=sheets,
        fasteners=nails,
        openings=tuple(
            Opening(
                hole.spec.id,
                hole.spec.kind,
                *hole.x,
                *hole.y,
                hole.spec.size[0],
                hole.spec.size[1],
                None,
                Why("opening", f"{hole.spec.kind} asked for", "spec roofs.openings"),
            )
            for hole in brief.holes
        ),
        runs=services.runs,
        boxes=services.boxes,
        sleeves=services.sleeves,
        hardware=services.hardware(brief, members, brief.rules),
        bays=mark_bays(brief.label, bays),
        bearings=brief.bearings,
        findings=(*sticks.findings, *long_sticks(brief, members), *dormers(brief), *unplaced),
        fittings=services.fittings,
        wall_base=brief.pitch.base,
    )
