"""Cassettes from their briefs: framing, services and bores, bays, marks and sheets, and nails last of all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.bores import bore_room, bored
from panelgen.design.boxes import sleeves_in
from panelgen.design.fastening import Unnailed, fasteners
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.floors.decking import decking, lapping_from_left
from panelgen.design.floors.framing import frame_cassette
from panelgen.design.insulation import bays
from panelgen.design.numbering import mark_bays, mark_members, mark_sheets
from panelgen.design.requests import Requests
from panelgen.design.services import clip_to_panel
from panelgen.design.shields import shields
from panelgen.design.supports import supports
from panelgen.model import Panel
from panelgen.spec.services import SleeveSpec

__all__ = ["design_cassettes"]


def design_cassettes(
    briefs: Sequence[CassetteBrief], rules: RuleSet, requests: Requests, catalog: Catalog
) -> list[Panel]:
    """Every part of each cassette."""
    panels = [_unnailed(brief, rules, requests) for brief in briefs]
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


def _unnailed(brief: CassetteBrief, rules: RuleSet, requests: Requests) -> Panel:
    """A cassette without its nails."""
    panel = brief.panel
    framing = frame_cassette(brief)
    low, high = min(layer.z0 for layer in panel.layers), max(layer.z1 for layer in panel.layers)
    box = (0.0, 0.0, low), (panel.length, panel.height, high)
    near = requests.runs_near(panel.frame, *box)
    parts = tuple(part for run in near for part in clip_to_panel(run, panel.frame, *box))
    members = bored(framing.members, parts, requests.clearance, bore_room(rules, panel.wall.bearing))
    sleeves = sleeves_in(panel, [one for one in requests.sleeves.get(panel.wall.id, ()) if _holds(brief, one)])
    voids, bay_findings = bays(panel, members, parts, (), plated=False)
    members = mark_members(panel.label, members)
    pieces, sheet_findings = decking(brief, members, sleeves)
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
        members=members,
        sheets=mark_sheets(panel.label, pieces),
        openings=framing.openings,
        runs=parts,
        sleeves=sleeves,
        hardware=(*shields(panel, members, parts, rules), *supports(panel, members, parts, (), rules)),
        bays=mark_bays(panel.label, voids),
        findings=(*framing.findings, *sheet_findings, *bay_findings),
        fittings=requests.fittings_in(panel.frame, *box),
        wall_base=panel.wall_base,
    )


def _holds(brief: CassetteBrief, sleeve: SleeveSpec) -> bool:
    """Whether a sleeve is in this cassette rather than in the next one."""
    x, y = sleeve.at[0] - brief.panel.wall_start, sleeve.at[1] - brief.panel.wall_base
    return 0.0 <= x < brief.panel.length and 0.0 <= y < brief.panel.height
