"""The sticks of one wall panel, from the most to the least constrained: ends, openings, posts, studs, plates."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import RuleSet
from panelgen.design.brief import PanelBrief, Span
from panelgen.design.framing.openings import frame_opening
from panelgen.design.framing.plates import bottom_plates, cap_plates, top_plates
from panelgen.design.framing.posts import stand_ends, stand_meeting_studs, stand_under_loads
from panelgen.design.framing.sticks import stock_of
from panelgen.design.framing.uprights import Uprights
from panelgen.model import Finding, Member, Opening, Role, Why

__all__ = ["Framing", "frame_panel"]


@dataclass(frozen=True, slots=True)
class Framing:
    """What `frame_panel` makes: sticks, framed openings and what could not be framed."""

    members: tuple[Member, ...]
    openings: tuple[Opening, ...]
    findings: tuple[Finding, ...]


def frame_panel(brief: PanelBrief, rules: RuleSet) -> Framing:
    """Place every stick of the framing layer but the blocking."""
    spec = brief.assembly.framing
    stock = stock_of(brief.catalog, spec.stock, spec.species, spec.grade)
    name = brief.wall.id
    studs = Uprights(brief, stock)
    stand_ends(studs, name)
    openings: list[Opening] = []
    lying: list[Member] = []
    for opening in brief.openings:
        studs.take(opening.x0, opening.x1, Role.HEADER)
    for opening in brief.openings:
        placed, members = frame_opening(studs, opening, stock, rules, name)
        openings.append(placed)
        lying.extend(members)
    _stand_at_bends(studs, name)
    reach = rules.structure.load_path.reach
    for post in brief.posts:
        _stand_on_layout(studs, name, (post.x - reach, post.x + reach))
    stand_under_loads(studs, name, reach)
    stand_meeting_studs(studs, name)
    _stand_on_layout(studs, name, (0.0, brief.length))
    standing = sorted(studs.members, key=lambda member: member.frame.origin)
    full = [m for m in standing if m.role in (Role.STUD, Role.POST, Role.KING)]
    lap = rules.plate_lap
    top = top_plates(brief, stock, full, studs.stretches, name)
    caps, cap_findings = cap_plates(brief, stock, top, studs.stretches, name, lap.offset, lap.cited)
    bottom = bottom_plates(brief, stock, full, name)
    return Framing((*bottom, *standing, *lying, *top, *caps), tuple(openings), (*studs.findings, *cap_findings))


def _stand_at_bends(studs: Uprights, name: str) -> None:
    """A stud on each side of a bend in the top, so that each has one plain bevel."""
    why = Why("stud.bend", "carries the plates where the top bends", "common practice, no source")
    for bend in studs.bends():
        for side, x in (("left", bend - studs.thickness), ("right", bend)):
            studs.full(f"{name}/peak-stud-{side}@{round(bend + studs.brief.wall_start)}", Role.STUD, x, why)


def _stand_on_layout(studs: Uprights, name: str, within: Span) -> None:
    """The common studs whose centre lines are within a stretch of the panel."""
    brief = studs.brief
    spacing = brief.assembly.framing.spacing
    why = Why("stud.layout", f"common stud, {spacing:.1f} mm on centre along the whole wall", "spec framing spacing")
    for centre in brief.layout:
        if not within[0] <= centre <= within[1]:
            continue
        studs.full(f"{name}/stud-{brief.layout_number(centre)}", Role.STUD, centre - studs.thickness / 2, why)
