"""Rough openings: kings, jacks, header, head plate, sill and cripples.

Under level plates the header is tight to them, so that framing braces its top; the head plate closes the
rough opening below it. On a rake the header lies on the head plate and cripples stand on it.
"""

from __future__ import annotations

from panelgen.catalog import RuleSet
from panelgen.design.brief import OpeningBrief, PanelBrief
from panelgen.design.framing.headers import choose_header
from panelgen.design.framing.packing import packing
from panelgen.design.framing.sticks import Stock, flat, on_edge, stock_of
from panelgen.design.framing.tops import under_plates
from panelgen.design.framing.uprights import Uprights
from panelgen.model import Finding, HeaderChoice, Member, Opening, Role, Severity, Why

__all__ = ["frame_opening"]

_EPS = 1e-6


def frame_opening(
    studs: Uprights, opening: OpeningBrief, stock: Stock, rules: RuleSet, name: str
) -> tuple[Opening, list[Member]]:
    """Frame one opening: upright sticks go into `studs`, lying ones are returned with the opening.

    A header that no table row allows, or an opening with no room for its studs, is a finding.
    """
    brief = studs.brief
    depth = studs.plates_depth
    head = opening.y1 + stock.thickness
    under = under_plates(studs.stretches, opening.x0, opening.x1, depth)
    choice, findings = choose_header(brief, opening, under - head, rules)
    has_head = under >= head - _EPS
    studs.findings.extend(findings if has_head else [_too_high(brief, opening, under - stock.thickness)])
    side = choice.jacks * stock.thickness
    room = studs.room_around(opening.x0, opening.x1)
    left, right = max(opening.x0 - side, room[0]), min(opening.x1 + side, room[1])
    under = under_plates(studs.stretches, left, right, depth)
    label = f"{name}/{opening.id}"
    members: list[Member] = []
    if choice.plies and choice.stock != "flat":
        header = stock_of(brief.catalog, choice.stock, stock.species, stock.grade)
        bottom = under - header.width if brief.is_level else head
        why = Why("header.table", _header_words(choice), choice.source)
        for ply in range(choice.plies):
            z = brief.framing_depth - (ply + 1) * header.thickness
            members.append(
                on_edge(
                    f"{label}/header-{ply + 1}",
                    Role.HEADER,
                    header,
                    left,
                    right,
                    bottom,
                    z,
                    why,
                )
            )
        top_of_header = bottom + header.width
    else:
        bottom, top_of_header = min(opening.y1, under), head
    _stand_sides(studs, opening, choice, bottom, label)
    head_why = Why("opening.head", "closes the head of the rough opening", "common practice, no source")
    x0, x1 = max(opening.x0, left), min(opening.x1, right)
    if bottom < head - _EPS:  # a flat header bears on the jacks
        x0, x1 = left, right
    if has_head:
        members.append(flat(f"{label}/head", Role.HEAD_PLATE, stock, x0, x1, head, 0.0, head_why))
    prefix = f"{name}/cripple-above"
    if under - top_of_header > _EPS:
        _cripples(studs, (left, right), top_of_header, None, prefix)
    if bottom - head >= brief.shop.shortest_member:
        _cripples(studs, (opening.x0, opening.x1), head, bottom, prefix)
    if not opening.to_floor:
        members.extend(_sill(studs, opening, stock, label, name))
    headers = [one for one in members if one.role is Role.HEADER]
    members.extend(packing(brief, headers, stock, rules, f"{label}/packing"))
    spec = Why("opening.unit", f"{opening.kind} {opening.id} with its clearances", "spec openings, unit_types")
    placed = Opening(
        opening.id,
        opening.kind,
        opening.x0,
        opening.x1,
        opening.y0,
        opening.y1,
        opening.unit_width,
        opening.unit_height,
        choice,
        spec,
    )
    return placed, members


def _too_high(brief: PanelBrief, opening: OpeningBrief, limit: float) -> Finding:
    return Finding(
        "opening.high",
        Severity.STOP,
        f"there is no room above opening {opening.id} for its head plate under the top plates: lower it by "
        f"{opening.y1 - limit:.0f} mm or more, and by the depth of a header where the wall bears",
        brief.label,
        (opening.id,),
        ((opening.x0 + opening.x1) / 2, opening.y1, 0.0),
        value=opening.y1,
        limit=limit,
        source="plates and head plate of the wall",
    )


def _header_words(choice: HeaderChoice) -> str:
    unverified = " (unverified)" if choice.grade == "C" else ""
    return (
        f"{choice.plies}-{choice.stock} carries {choice.span:.0f} mm; "
        f"the table allows {choice.allowed:.0f} mm{unverified}"
    )


def _stand_sides(studs: Uprights, opening: OpeningBrief, choice: HeaderChoice, bottom: float, label: str) -> None:
    t = studs.thickness
    jack_why = Why("opening.jack", "carries the header", choice.source)
    king_why = Why("opening.king", "full-height stud that holds the jack and the header end", "IRC R602.7.5")
    for side, sign in (("left", -1), ("right", 1)):
        edge = opening.x0 if sign < 0 else opening.x1
        for n in range(choice.jacks):
            x = edge - (n + 1) * t if sign < 0 else edge + n * t
            if not studs.inside(x) or studs.holder(x) is not None:
                _crowded(studs, opening, x)
                continue
            studs.take(x, x + t, Role.JACK)
            studs.part(f"{label}/jack-{side}-{n + 1}", Role.JACK, x, t, bottom, jack_why)
        for n in range(choice.kings):
            x = edge - (choice.jacks + n + 1) * t if sign < 0 else edge + (choice.jacks + n) * t
            if studs.full(f"{label}/king-{side}-{n + 1}", Role.KING, x, king_why):
                continue
            if studs.holder(x) not in (Role.KING, Role.STUD):
                _crowded(studs, opening, x)


def _crowded(studs: Uprights, opening: OpeningBrief, x: float) -> None:
    brief = studs.brief
    studs.findings.append(
        Finding(
            "opening.crowded",
            Severity.STOP,
            f"no room beside opening {opening.id} for its king and jack studs: move it away from the corner, "
            "the panel joint or its neighbour",
            brief.label,
            (opening.id,),
            (x, opening.y0, 0.0),
            source="IRC R602.7.5",
        )
    )


def _sill(studs: Uprights, opening: OpeningBrief, stock: Stock, label: str, name: str) -> list[Member]:
    t = stock.thickness
    why = Why("opening.sill", "carries the unit", "common practice, no source")
    below = opening.y0 - t
    if below < t - _EPS:
        brief = studs.brief
        studs.findings.append(
            Finding(
                "opening.sill-low",
                Severity.STOP,
                f"the sill of opening {opening.id} would sink into the bottom plate: raise it or take it to the floor",
                brief.label,
                (opening.id,),
                (opening.x0, opening.y0, 0.0),
                value=opening.y0,
                limit=2 * t,
                source="spec openings sill",
            )
        )
        return []
    ends = Why("opening.sill-support", "carries the end of the sill", "common practice, no source")
    for side, x in (("left", opening.x0), ("right", opening.x1 - t)):
        studs.part(f"{label}/sill-support-{side}", Role.CRIPPLE, x, t, below, ends)
    span = (opening.x0 + t, opening.x1 - t)
    _cripples(studs, span, t, below, f"{name}/cripple-below")
    return [flat(f"{label}/sill", Role.SILL, stock, opening.x0, opening.x1, opening.y0, 0.0, why)]


def _cripples(studs: Uprights, span: tuple[float, float], y0: float, y1: float | None, prefix: str) -> None:
    """Short studs on the wall's layout, above a header or below a sill."""
    brief = studs.brief
    why = Why("cripple.layout", "keeps the stud layout above and below the opening", "IRC R602.3")
    t = studs.thickness
    for centre in brief.layout:
        x = centre - t / 2
        if span[0] - _EPS <= x and x + t <= span[1] + _EPS:
            studs.part(f"{prefix}-{brief.layout_number(centre)}", Role.CRIPPLE, x, y0, y1, why)
