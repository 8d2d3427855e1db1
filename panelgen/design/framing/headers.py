"""Which header an opening needs: from the rule set's table, or a finding that says why none will do."""

from __future__ import annotations

from panelgen.catalog import RuleSet
from panelgen.design.brief import OpeningBrief, PanelBrief
from panelgen.design.framing.tops import slopes, under_plates
from panelgen.model import Finding, HeaderChoice, Severity

__all__ = ["CARRIES", "choose_header", "header_over"]

CARRIES = ("roof", "roof+1 floor", "roof+2 floors")
"""The load groups of the header tables, by number of floors above."""


def choose_header(
    brief: PanelBrief, opening: OpeningBrief, room: float, rules: RuleSet
) -> tuple[HeaderChoice, list[Finding]]:
    """The header over an opening with `room` mm of height between its head plate and the top plates.

    Walls that carry nothing get a flat plate as far as the rule set allows one.
    """
    span = opening.x1 - opening.x0
    if not brief.wall.bearing:
        limit = rules.flat_header
        choice = HeaderChoice(1, "flat", 1, 1, span, limit.span, limit.cited, limit.grade)
        if span <= limit.span:
            return choice, []
        reason = f"a flat plate over an opening in a non-bearing wall may span {limit.span:.0f} mm"
        return choice, [_none(brief, opening, reason, limit.span, limit.cited)]
    kings = rules.kings(span, brief.assembly.framing.spacing)
    if kings is None:
        reason = "the table of full-height studs ends before this span: needs an engineer"
        return _missing(span, 1, rules.title), [_none(brief, opening, reason, None, rules.title)]
    if brief.storeys_above >= len(CARRIES):
        reason = f"the tables end at two floors above and {brief.storeys_above} stand on this wall: needs an engineer"
        return _missing(span, kings.count, rules.title), [_none(brief, opening, reason, None, rules.title)]
    found = rules.header(
        span,
        CARRIES[brief.storeys_above],
        brief.design.ground_snow,
        brief.design.building_width,
        available_depth=room,
        available_thickness=brief.framing_depth,
        braced=brief.is_level,  # on a rake cripples stand on the header; under level plates it is tight to them
    )
    cell = found.cell
    if cell is None:
        return _missing(span, kings.count, rules.title), [_none(brief, opening, found.reason, None, rules.title)]
    choice = HeaderChoice(cell.plies, cell.stock, cell.jacks, kings.count, span, cell.span, cell.cited, cell.grade)
    return choice, []


def header_over(whole: PanelBrief, hole: OpeningBrief, rules: RuleSet) -> tuple[HeaderChoice, list[Finding]]:
    """As `choose_header`, in the room that the plates of the wall leave above an opening."""
    framing = whole.assembly.framing
    stud = whole.catalog.stock(framing.stock).thickness
    under = under_plates(slopes(whole), hole.x0, hole.x1, framing.top_plates * stud)
    return choose_header(whole, hole, under - hole.y1 - stud, rules)


def _missing(span: float, kings: int, source: str) -> HeaderChoice:
    return HeaderChoice(0, "", 1, kings, span, 0.0, source, "C")


def _none(brief: PanelBrief, opening: OpeningBrief, reason: str, limit: float | None, source: str) -> Finding:
    return Finding(
        "header.none",
        Severity.STOP,
        f"no header for opening {opening.id}: {reason}",
        brief.label,
        (opening.id,),
        ((opening.x0 + opening.x1) / 2, opening.y1, 0.0),
        value=opening.x1 - opening.x0,
        limit=limit,
        source=source,
    )
