"""Blocking behind the horizontal joints of the sheathing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.extents import Extent, extent_of, is_sloping, is_upright
from panelgen.design.framing.sticks import flat, stock_of
from panelgen.design.framing.tops import slopes
from panelgen.design.intervals import overlap, subtract
from panelgen.design.sheathing.faces import lower_than
from panelgen.model import Finding, Member, Role, Severity, Why

__all__ = ["blocking"]

_EPS = 1e-6
_CRACK = 6.0
"""Places narrower than this (mm) between two sticks need no block; common practice, no source."""

_WHY = Why(
    "blocking.sheet-joint",
    "full-depth block lying flat, centred on the joint: one block backs the sheets of both faces",
    "common practice, no source",
)


def blocking(
    brief: PanelBrief, members: Sequence[Member], heights: Iterable[float]
) -> tuple[tuple[Member, ...], tuple[Finding, ...]]:
    """Blocks between neighbouring upright sticks at each of `heights` (panel y, mm), and where none would go.

    A block is framing stock laid flat over the whole depth of the wall, centred on the joint, so that
    its two edges take the sheets of both faces. None is placed across an opening or where another
    stick lies at that height. A place where no block can bear or the shop cannot make one is a finding.
    """
    heights = sorted(heights)
    if not heights:
        return (), ()
    spec = brief.assembly.framing
    stock = stock_of(brief.catalog, spec.stock, spec.species, spec.grade)
    boxes = [(is_upright(member), extent_of(member)) for member in members if not (member.loose or is_sloping(member))]
    plates = spec.top_plates * stock.thickness * max(hypot(1.0, slope.tangent) for slope in slopes(brief))
    whole = (0.0, brief.length)
    placed: list[Member] = []
    findings: list[Finding] = []
    for height in heights:
        band = (height - stock.thickness / 2, height + stock.thickness / 2)
        here = [(upright, box) for upright, box in boxes if overlap(box.y, band) > _EPS]
        holes = [(hole.x0, hole.x1) for hole in brief.openings if overlap((hole.y0, hole.y1), band) > _EPS]
        rake = [] if brief.is_level else lower_than(brief, band[1] + plates, whole)
        studs = [box for upright, box in here if upright and overlap(box.y, band) > stock.thickness - _EPS]
        for place in subtract(whole, [*(box.x for _, box in here), *holes, *rake], _CRACK):
            left = any(abs(stud.x1 - place[0]) < _EPS for stud in studs)
            right = any(abs(stud.x0 - place[1]) < _EPS for stud in studs)
            if not (left and right):
                findings.append(_left_out(brief, place, height, "there is no stud at both its ends"))
            elif place[1] - place[0] < brief.shop.shortest_member - _EPS:
                findings.append(_left_out(brief, place, height, "it would be shorter than the shop makes"))
            else:
                name = f"{brief.wall.id}/joint-block@{round(brief.wall_start + place[0])}-{round(height)}"
                placed.append(flat(name, Role.BLOCKING, stock, *place, band[1], 0.0, _WHY))
                boxes.append((False, extent_of(placed[-1])))
        findings.extend(
            _left_out(brief, place, height, "sticks that back one face only are in the way")
            for place in _half_backed(brief, [box for upright, box in here if not upright])
        )
    return tuple(placed), tuple(findings)


def _half_backed(brief: PanelBrief, lying: Sequence[Extent]) -> list[Span]:
    """Stretches where lying sticks, such as the plies of a header, reach one face of the framing at most."""
    plies: dict[Span, list[Extent]] = {}
    for box in lying:
        plies.setdefault(box.x, []).append(box)
    return [
        span
        for span, side_by_side in plies.items()
        if min(ply.z0 for ply in side_by_side) > _EPS
        or max(ply.z1 for ply in side_by_side) < brief.framing_depth - _EPS
    ]


def _left_out(brief: PanelBrief, place: Span, height: float, fault: str) -> Finding:
    return Finding(
        "blocking.left-out",
        Severity.NOTE,
        f"no block of {place[1] - place[0]:.0f} mm behind the sheet joint at {height:.0f} mm: {fault}",
        brief.label,
        point=((place[0] + place[1]) / 2, height, brief.framing_depth / 2),
        value=place[1] - place[0],
        source="common practice, no source",
    )
