"""The boards around a panel: ridge, fascia, hips, valleys, and the rafters at its joints and rakes.

At each corner one board runs through to the panel's outline and the other stops at its inner face, so both
have one plain cut there: ridges, rims at cross joints and fascias run through, then hips and valleys, then rafters.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from panelgen.design.roofs.boards import Line, board
from panelgen.design.roofs.brief import RoofBrief, Side
from panelgen.design.roofs.inside import Inside, Limit, inner_line, run_at
from panelgen.design.roofs.pitch import Plane, plumb
from panelgen.design.roofs.sticks import EndJoint, Sticks
from panelgen.geometry.frames import Point2, dot
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Role, Why

__all__ = ["RISERS", "board_id", "cut_at", "place_edges"]

_SHORT = 3.0
"""A side shorter than this many thicknesses of its board gets none; common practice, no source."""

_PARALLEL = 1e-6
_ON = 1e-3

_ROLES = {
    RoofLine.RIDGE: Role.RIDGE,
    RoofLine.TOP: Role.RIDGE,
    RoofLine.EAVE: Role.FASCIA,
    RoofLine.HIP: Role.HIP,
    RoofLine.VALLEY: Role.VALLEY,
    RoofLine.RAKE: Role.RAFTER,
    RoofLine.JOINT: Role.RAFTER,
    RoofLine.CROSS: Role.RIM,
}

RISERS = (RoofLine.RAKE, RoofLine.JOINT)
"""The sides along which a rafter stands."""

_RANK = {RoofLine.RIDGE: 0, RoofLine.TOP: 0, RoofLine.CROSS: 0, RoofLine.EAVE: 1, RoofLine.HIP: 2, RoofLine.VALLEY: 2}

_WORDS = {
    RoofLine.RIDGE: "closes the panel in the plumb plane of the ridge",
    RoofLine.TOP: "closes the panel at its high edge",
    RoofLine.EAVE: "ties the tails and carries the edge of the sheathing",
    RoofLine.HIP: "closes the panel in the plumb plane of the hip, dropped so that its edge needs no bevel",
    RoofLine.VALLEY: "closes the panel in the plumb plane of the valley",
    RoofLine.RAKE: "carries the edge of the rake",
    RoofLine.JOINT: "closes the panel at a joint",
    RoofLine.CROSS: "closes the panel over the purlin where rafters meet",
}


def place_edges(brief: RoofBrief, sticks: Sticks) -> Inside:
    """Place the boards along all sides; the room that they leave."""
    sides = brief.sides
    boarded = [
        side.line is not RoofLine.LAY_OVER and math.dist(side.start, side.end) >= _SHORT * side.stock.thickness
        for side in sides
    ]
    inside = Inside.of(sides, [_set_in(brief, side, has) for side, has in zip(sides, boarded, strict=True)])
    ids = [board_id(brief, k) for k in range(len(sides))]
    for k, side in enumerate(sides):
        if not boarded[k]:
            continue
        ends = []
        joints = []
        for at_end in (False, True):
            plane, other = _end(brief, inside, boarded, k, at_end)
            ends.append(plane)
            if other is not None:
                joints.append(_joint(brief, k, other, at_end, ids))
        low = None
        if side.line is RoofLine.EAVE and side.start[1] + side.stock.thickness > 0.0:
            low = brief.plate_height - brief.pitch.height(brief.pitch.point(side.start))
        why = Why(f"roof.{side.line.value}", _WORDS[side.line], "roof planes")
        role = _ROLES[side.line]
        made = board(ids[k], role, side.stock, brief.pitch, (side.start, side.end), (ends[0], ends[1]), why, low=low)
        if sticks.add(made, *joints) and side.line in RISERS:
            xs = side.start[0], inner_line(side, side.stock.thickness)[0][0]
            sticks.standing.append(((min(xs), max(xs)), ids[k]))
    return inside


def _set_in(brief: RoofBrief, side: Side, boarded: bool) -> float:
    """How far into the panel a side's board reaches, level; at a lay-over how far back its underside ends."""
    if side.line is not RoofLine.LAY_OVER or brief.over is None:
        return side.stock.thickness if boarded else 0.0
    normal, pitch = brief.over[0], brief.pitch
    steepness = math.hypot(normal[0], normal[1] * pitch.secant)
    return dot(normal, (0.0, pitch.depth * pitch.tangent, pitch.depth)) / steepness


def cut_at(brief: RoofBrief, inside: Inside, limit: Limit) -> Plane:
    """The plane in which sticks up the slope end there: plumb, or on the roof that the panel lies over."""
    side = brief.sides[limit.side]
    if side.line is RoofLine.LAY_OVER and brief.over is not None:
        lying, outline = inside.lines[limit.side], (side.start, side.end)
        boards = [
            line for line, one in zip(inside.lines, brief.sides, strict=True) if one.line not in (*RISERS, side.line)
        ]
        ends = [(x, run_at(outline, x)) for x, _ in limit.line]
        if all(abs(_aside(place, lying)) < _ON for place in limit.line) and all(
            _aside(place, line) > -_ON for place in ends for line in boards
        ):
            return brief.over
    return plumb(brief.pitch, *limit.line)


def _aside(place: Point2, line: Line) -> float:
    """How far a place is to the left of a line, mm."""
    (xa, ra), (xb, rb) = line
    return ((place[1] - ra) * (xb - xa) - (place[0] - xa) * (rb - ra)) / math.dist((xa, ra), (xb, rb))


def board_id(brief: RoofBrief, k: int) -> str:
    """The id of the board along side k."""
    side = brief.sides[k]
    name = side.line.value
    if side.line is RoofLine.CROSS:
        name = "cross-rim-low" if side.end[0] > side.start[0] else "cross-rim-high"
    elif side.line is RoofLine.JOINT:
        name = "joint-rafter-right" if side.end[1] > side.start[1] else "joint-rafter-left"
    elif side.line is RoofLine.RAKE:
        name = "rake-rafter"
    return brief.id(name, min(side.start[0], side.end[0]) if side.line not in RISERS else side.start[0])


def _end(brief: RoofBrief, inside: Inside, boarded: list[bool], k: int, at_end: bool) -> tuple[Plane, int | None]:
    """The plane in which the board of side k ends, and the side against whose board it stops, if any."""
    sides, step = brief.sides, 1 if at_end else -1
    if sides[k].line in RISERS:
        limit = _beyond(brief, inside, k, at_end)
        return cut_at(brief, inside, limit), limit.side
    between = []
    other = (k + step) % len(sides)
    if sides[other].line is RoofLine.LAY_OVER and brief.over is not None:
        return brief.over, None
    while not boarded[other]:
        between.append((sides[other].start, sides[other].end))
        other = (other + step) % len(sides)
    runs_through = _key(brief, k) < _key(brief, other)
    last = (sides[other].start, sides[other].end) if runs_through else inside.lines[other]
    ends = _innermost((sides[k].start, sides[k].end), inside.lines[k], [*between, last], at_end)
    return plumb(brief.pitch, *ends), None if runs_through else other


def _innermost(outer: Line, inner: Line, stops: Sequence[Line], at_end: bool) -> Line:
    """The line across a board where its outer and its inner face first meet one of `stops`."""
    if len(stops) == 1:
        return stops[0]
    pick = min if at_end else max
    places = []
    for (xa, ra), (xb, rb) in (outer, inner):
        shares = []
        for (xc, rc), (xd, rd) in stops:
            across = (xb - xa) * (rd - rc) - (rb - ra) * (xd - xc)
            if abs(across) > _PARALLEL:
                shares.append(((xc - xa) * (rd - rc) - (rc - ra) * (xd - xc)) / across)
        share = pick(shares)
        places.append((xa + share * (xb - xa), ra + share * (rb - ra)))
    return places[0], places[1]


def _beyond(brief: RoofBrief, inside: Inside, k: int, at_end: bool) -> Limit:
    """Where the rafter along side k ends: as any other rafter."""
    side = brief.sides[k]
    span = sorted((side.start[0], inside.lines[k][0][0]))
    goes_up = side.end[1] > side.start[1]
    return inside.top(span[0], span[1]) if goes_up is at_end else inside.foot(span[0], span[1])


def _key(brief: RoofBrief, k: int) -> tuple[int, int]:
    return _RANK.get(brief.sides[k].line, 3), k


def _joint(brief: RoofBrief, k: int, other: int, at_end: bool, ids: list[str]) -> EndJoint:
    """The joint of board k with that of another side; a board reads upward or to the right, whichever way its side."""
    (xa, ra), (xb, rb) = brief.sides[k].start, brief.sides[k].end
    forward = rb > ra + 1e-9 or (abs(rb - ra) <= 1e-9 and xb > xa)
    joint = "roof board to board"
    if brief.sides[k].line in RISERS:
        joint = "rafter to fascia" if brief.sides[other].line is RoofLine.EAVE else "rafter to ridge"
    return EndJoint(ids[k], at_end is forward, ids[other], joint)
