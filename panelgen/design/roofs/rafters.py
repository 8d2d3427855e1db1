"""Rafters: on layout from the lower to the upper boards of the panel, jacks where those slope, cut at openings."""

from __future__ import annotations

from panelgen.design.roofs.boards import board
from panelgen.design.roofs.brief import RoofBrief, RoofHole, opening_plies
from panelgen.design.roofs.edges import board_id, cut_at
from panelgen.design.roofs.headers import outer_faces, place_headers
from panelgen.design.roofs.inside import Inside, Limit
from panelgen.design.roofs.pitch import Plane
from panelgen.design.roofs.sticks import EndJoint, Sticks
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Member, Role, Why

__all__ = ["place_rafters", "place_wall_rafters"]

_LEAST = 150.0
"""Rafters shorter than this (mm, level) are left out: the boards that meet there are enough; common practice."""

_LAYOUT = Why("rafter.layout", "rafter on the layout of its plane, from the start of its edge", "spec framing spacing")
_TRIMMER = Why("rafter.trimmer", "full-length rafter beside an opening", "IRC R802.9, framing of openings in roofs")
_WALL = Why("rafter.gable", "stands over the gable wall, where the ladder of the rake is nailed", "common practice")


def _stand(
    brief: RoofBrief,
    sticks: Sticks,
    inside: Inside,
    id: str,
    x: float,
    why: Why,
    foot: tuple[Plane, str] | None = None,
    top: tuple[Plane, str] | None = None,
) -> bool:
    """A rafter with its left face at x, between the boards of the panel, or other planes and what they are on."""
    x1 = x + brief.rafter.thickness
    below, above = inside.foot(x, x1), inside.top(x, x1)
    if not foot and not top and _least_run(below, above) < _LEAST:
        return False
    ends = []
    joints = []
    for at_end, limit, own in ((False, below, foot), (True, above, top)):
        plane, against = own or (cut_at(brief, inside, limit), board_id(brief, limit.side))
        ends.append(plane)
        is_eave = not own and brief.sides[limit.side].line is RoofLine.EAVE
        joint = "rafter to header" if own else "rafter to fascia" if is_eave else "rafter to ridge"
        joints.append(EndJoint(id, at_end, against, joint))
    line = (x1, below.line[1][1]), (x1, above.line[1][1])
    made = board(id, Role.RAFTER, brief.rafter, brief.pitch, line, (ends[0], ends[1]), why)
    if made is not None and _shortest(made) < brief.shop.shortest_member:
        return False
    return sticks.add(made, *joints)


def place_wall_rafters(brief: RoofBrief, sticks: Sticks, inside: Inside) -> None:
    """A rafter over each gable wall beside which the roof overhangs, its outer face in that of the wall's framing.

    So there is one over each other wall across the plane.
    """
    thickness = brief.rafter.thickness
    ends = [side.start[0] for side in brief.sides]
    places = [
        brief.gable_end(side) - (0.0 if brief.is_left(side) else thickness)
        for side in brief.sides
        if side.line is RoofLine.RAKE
    ]
    for x in (*places, *(x - brief.start for x in brief.plane.over_walls)):
        if min(ends) <= x <= max(ends) - thickness and sticks.is_free(x, x + thickness):
            key = brief.id("gable-rafter", x)
            if _stand(brief, sticks, inside, key, x, _WALL):
                sticks.standing.append(((x, x + thickness), key))


def place_rafters(brief: RoofBrief, sticks: Sticks, inside: Inside) -> None:
    """Trimmers and headers of the openings, then every rafter on layout that finds room."""
    thickness = brief.rafter.thickness
    for hole in brief.holes:
        _place_trimmers(brief, sticks, inside, hole)
        place_headers(brief, sticks, hole)
    low, high = _between_rakes(brief)
    for number, centre in brief.layout:
        x = centre - thickness / 2
        if x < low - 1e-6 or x + thickness > high + 1e-6 or not sticks.is_free(x, x + thickness):
            continue
        key = f"{brief.plane.id}/rafter-{number}{brief.above}"
        over = [hole for hole in brief.holes if hole.x[0] < x + thickness and hole.x[1] > x]
        if not over:
            if _stand(brief, sticks, inside, key, x, _LAYOUT):
                sticks.standing.append(((x, x + thickness), key))
            continue
        for hole in over:
            _cut(brief, sticks, inside, key, x, hole)


def _place_trimmers(brief: RoofBrief, sticks: Sticks, inside: Inside, hole: RoofHole) -> None:
    thickness = brief.rafter.thickness
    for name, first, step in (("left", hole.x[0] - thickness, -thickness), ("right", hole.x[1], thickness)):
        for ply in range(opening_plies(brief.rules, hole.spec)):
            x = first + ply * step
            key = f"{brief.plane.id}/{hole.spec.id}/trimmer-{name}-{ply + 1}"
            if sticks.is_free(x, x + thickness) and _stand(brief, sticks, inside, key, x, _TRIMMER):
                sticks.standing.append(((x, x + thickness), key))


def _cut(brief: RoofBrief, sticks: Sticks, inside: Inside, id: str, x: float, hole: RoofHole) -> None:
    """The parts of a rafter below and above an opening, between the trimmers."""
    thickness = brief.rafter.thickness
    if x < hole.x[0] - 1e-6 or x + thickness > hole.x[1] + 1e-6:
        return
    headers = opening_plies(brief.rules, hole.spec)
    owner = f"{brief.plane.id}/{hole.spec.id}"
    under, over = outer_faces(brief, hole)
    if _stand(brief, sticks, inside, f"{id}-low", x, _LAYOUT, top=(under, f"{owner}/lower-header-{headers}")):
        sticks.standing.append(((x, x + thickness), f"{id}-low"))
    _stand(brief, sticks, inside, f"{id}-up", x, _LAYOUT, foot=(over, f"{owner}/upper-header-{headers}"))


def _between_rakes(brief: RoofBrief) -> tuple[float, float]:
    """The stretch of x inside the gable walls; endless where there is no rake."""
    low, high = float("-inf"), float("inf")
    for side in brief.sides:
        if side.line is RoofLine.RAKE:
            if brief.is_left(side):
                low = brief.gable_end(side)
            else:
                high = brief.gable_end(side)
    return low, high


def _least_run(below: Limit, above: Limit) -> float:
    return min(top[1] - foot[1] for foot, top in zip(below.line, above.line, strict=True))


def _shortest(member: Member) -> float:
    """The length along the shortest edge, mm."""
    corners = member.local_corners()
    return float((corners[4:, 0] - corners[:4, 0]).min())
