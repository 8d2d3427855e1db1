"""The service cavity: horizontal straps on the inner sheathing, with more around openings and at ends.

Straps are placed from the most to the least constrained: along a sloping top, at heads and sills of
openings, where backing is asked for, in rows, and last the upright pieces that fit between the rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from panelgen.design.brief import OpeningBrief, PanelBrief
from panelgen.design.framing.raked import Row
from panelgen.design.framing.tops import slopes
from panelgen.design.straps.layer import StrapLayer
from panelgen.model import Box, Finding, LayerKind, Member, RunPart, Why
from panelgen.spec.services import BackingSpec

__all__ = ["row_heights", "straps"]

_EPS = 1e-6
_PRACTICE = "common practice, no source"
_ROW = Why("strap.row", "horizontal strap of the service cavity", "spec strapping spacing")
_TOP = Why("strap.top", "flush with the top of the wall: takes the top edge of the board", _PRACTICE)
_HEAD = Why("strap.head", "takes the board above an opening", _PRACTICE)
_SILL = Why("strap.sill", "takes the board below an opening", _PRACTICE)
_JAMB = Why("strap.jamb", "takes the board beside an opening", _PRACTICE)
_END = Why("strap.end", "takes the end of the board where the straps stop", _PRACTICE)


def straps(
    brief: PanelBrief, members: Sequence[Member], runs: Sequence[RunPart], boxes: Sequence[Box]
) -> tuple[tuple[Member, ...], tuple[Finding, ...]]:
    """The straps of a panel, and what could not be placed; none where the assembly has no strapping.

    Straps stop at openings, at walls that meet the inner face, and clear of runs and boxes in the
    cavity. No two overlap. Each bears on the framing; those longer than the rack's stock are joined
    on studs. Pieces shorter than the shop makes are left out and reported.
    """
    spec = brief.assembly.strapping
    if spec is None:
        return (), ()
    layer = next(layer for layer in brief.layers if layer.kind is LayerKind.STRAPPING)
    cavity = StrapLayer(brief, layer, spec, members, runs, boxes)
    width = cavity.stock.width
    _along_the_top(cavity)
    for opening in brief.openings:
        _over_and_under(cavity, opening)
    for request in brief.backing:
        if request.kind == "strap":
            _backing(cavity, request)
    if brief.is_level:
        heights = row_heights(brief.height - width, width, spec.spacing)[:-1]
    else:
        heights = tuple(n * spec.spacing for n in range(floor(brief.height / spec.spacing) + 1))
    for number, y in enumerate(heights):
        cavity.lay(f"strap-row-{number}", y, brief.strap_span, _ROW, from_right=number % 2 == 1)
    for opening in brief.openings:
        for side, x in (("left", opening.x0 - width), ("right", opening.x1)):
            cavity.stand(f"{opening.id}/strap-{side}", x, (opening.y0, opening.y1), _JAMB)
    for name, x in _ends(brief, width):
        cavity.stand(name, x, (0.0, brief.height), _END)
    return tuple(cavity.members), tuple(cavity.findings)


def row_heights(last: float, width: float, spacing: float) -> tuple[float, ...]:
    """Lower edges (mm) of rows of straps `width` wide: from 0 up to `last`, no two farther apart than `spacing`.

    Rows keep to the spacing from the bottom; one that would touch the last row is moved down to halfway
    between its neighbours. Where only one row fits it is the last one.
    """
    if last < width:
        return (last,)
    heights = [n * spacing for n in range(floor((last - _EPS) / spacing) + 1)]
    if len(heights) > 1 and last - heights[-1] < width:
        heights[-1] = (heights[-2] + last) / 2
    return (*heights, last)


def _along_the_top(cavity: StrapLayer) -> None:
    brief = cavity.brief
    for slope in slopes(brief):
        if abs(slope.tangent) > 1e-9:
            cavity.slope("strap-rake", slope, _TOP)
        else:
            # Beyond the ends of the framing the top is held level, and so is the strap.
            x0 = brief.strap_span[0] if slope.x0 <= 0.0 else slope.x0
            x1 = brief.strap_span[1] if slope.x1 >= brief.length else slope.x1
            cavity.lay("strap-top", slope.y0 - cavity.stock.width, (x0, x1), _TOP)


def _over_and_under(cavity: StrapLayer, opening: OpeningBrief) -> None:
    width = cavity.stock.width
    span = (opening.x0 - width, opening.x1 + width)
    cavity.lay(f"{opening.id}/strap-head", opening.y1, span, _HEAD)
    cavity.lay(f"{opening.id}/strap-sill", opening.y0 - width, span, _SILL)


def _backing(cavity: StrapLayer, request: BackingSpec) -> None:
    """A strap centred at the height asked for, carried on at both ends to the next stud."""
    start, end = request.start - cavity.brief.wall_start, request.end - cavity.brief.wall_start
    lo, hi = cavity.brief.strap_span
    if end <= lo or start >= hi:
        return
    stock = cavity.stock_for(request)
    row = Row.of(request, cavity.brief.wall_start, stock.width)
    centres = cavity.bearing_lines(row.heights((max(start, lo), min(end, hi))))
    start = max((x for x in centres if x <= start), default=lo)
    end = min((x for x in centres if x >= end), default=hi)
    why = Why("strap.backing", f"backs {request.reason}", f"spec backing {request.id}")
    if row.tangent:
        cavity.rake(f"{request.id}/strap", row, (start, end), why, stock)
    else:
        cavity.lay(f"{request.id}/strap", request.height - stock.width / 2, (start, end), why, stock=stock)


def _ends(brief: PanelBrief, width: float) -> list[tuple[str, float]]:
    """Names and left edges of the upright straps beside other walls and at free ends."""
    places = []
    for tee in brief.tees:
        if tee.inner_face:
            places += [(f"strap-{tee.wall}-left", tee.span[0] - width), (f"strap-{tee.wall}-right", tee.span[1])]
    lo, hi = brief.strap_span
    if not brief.joined[0]:
        places.append(("strap-end-left", lo))
    if not brief.joined[1]:
        places.append(("strap-end-right", hi - width))
    return places
