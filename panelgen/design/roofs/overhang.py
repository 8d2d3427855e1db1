"""Where the roof leaves the house: blocking on the plates between the rafters, and the ladders of the rakes."""

from __future__ import annotations

from itertools import pairwise

from panelgen.design.framing.sticks import ripped_from
from panelgen.design.roofs.boards import board, crosswise, room_over
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.edges import board_id
from panelgen.design.roofs.inside import Inside
from panelgen.design.roofs.pitch import plumb
from panelgen.design.roofs.sticks import EndJoint, Sticks
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Finding, Role, Severity, Why

__all__ = ["place_blocking", "place_ladders"]

_BLOCK = Why("roof.blocking", "closes the slab over the outer face of the wall framing", "common practice, no source")
_LADDER = Why("roof.lookout", "carries the rake beyond the gable wall", "common practice, no source")


def place_blocking(brief: RoofBrief, sticks: Sticks, inside: Inside) -> None:
    """Blocks on the plate between neighbouring sticks that pass over it; none where the eave ends on it.

    Where seats are shorter than a block is thick it stands out over the sheathing of the wall by the rest.
    """
    thickness = brief.rafter.thickness
    face = -min(max(thickness - brief.plane.seat, 0.0), brief.plane.lap)
    eaves = [side for side in brief.sides if side.line is RoofLine.EAVE]
    if not eaves or eaves[0].start[1] + eaves[0].stock.thickness > 0.0:
        return
    left, right = inside.left(face, face + thickness), inside.right(face, face + thickness)
    passing = sorted(_passing(brief, sticks))
    edges: list[tuple[float, float, str]] = [(x0, x1, key) for (x0, x1), key in passing]
    lows, highs = [x for x, _ in left.line], [x for x, _ in right.line]
    inner = (max(lows), max(lows), ""), *(one for one in edges if one[1] > min(lows) and one[0] < max(highs))
    for (_, x0, before), (x1, _, after) in pairwise((*inner, (min(highs), min(highs), ""))):
        x0, x1 = max(x0, *lows), min(x1, *highs)
        if x1 - x0 < brief.shop.shortest_member:
            continue
        middle = (x0 + x1) / 2
        if not brief.over_wall(middle):
            continue
        ends = []
        joints = []
        key = brief.id("blocking", x0)
        for at_end, limit, x, stick in ((False, left, x0, before), (True, right, x1, after)):
            if stick:
                ends.append(plumb(brief.pitch, (x, 0.0), (x, thickness)))
            else:
                ends.append(plumb(brief.pitch, *limit.line))
            joints.append(EndJoint(key, at_end, stick or board_id(brief, limit.side), "blocking to rafter"))
        why, line = _BLOCK, ((x0, face), (x1, face))
        low = brief.plate_height - brief.pitch.height(brief.pitch.point((0.0, face)))
        deep = room_over(brief.pitch, line, thickness).high - low
        made = board(
            key,
            Role.BLOCKING,
            ripped_from(brief.catalog, brief.rafter, deep),
            brief.pitch,
            line,
            (ends[0], ends[1]),
            why,
            low=low,
            seated=True,
        )
        sticks.add(made, *joints)


def _passing(brief: RoofBrief, sticks: Sticks) -> list[tuple[tuple[float, float], str]]:
    """The standing sticks that pass over the blocking's place, or reach into it."""
    ends = {member.id: member for member in sticks.members}
    found = []
    for span, key in sticks.standing:
        corners = ends[key].corners()
        runs = [brief.pitch.run_at(y, z) for _, y, z in corners.tolist()]
        if min(runs) < brief.rafter.thickness and max(runs) > 0.0:
            found.append((span, key))
    return found


def place_ladders(brief: RoofBrief, sticks: Sticks, inside: Inside) -> None:
    """Lookouts between the rake's rafter and the one over the gable wall, spaced as the rafters."""
    thickness = brief.rafter.thickness
    for number, side in enumerate(brief.sides):
        if side.line is not RoofLine.RAKE:
            continue
        at_left = brief.is_left(side)
        beyond = abs(brief.gable_end(side) - side.start[0])
        if beyond > brief.rules.roof.ladder + 1e-6:
            sticks.findings.append(_too_far(brief, side.start, beyond))
        order = sorted(sticks.standing)
        pair = order[:2] if at_left else order[-2:]
        inner = brief.gable_end(side) - (0.0 if at_left else thickness)
        names = {board_id(brief, number), brief.id("gable-rafter", inner)}
        if names == {name for _, name in pair}:
            _ladder(brief, sticks, inside, (pair[0][1], pair[1][1]), (pair[0][0][1], pair[1][0][0]))


def _ladder(
    brief: RoofBrief, sticks: Sticks, inside: Inside, names: tuple[str, str], span: tuple[float, float]
) -> None:
    stock, pitch = brief.rafter, brief.pitch
    foot = max(run for _, run in inside.foot(*span).line)
    top = min(run for _, run in inside.top(*span).line)
    low, high = pitch.y_at(foot, pitch.depth), pitch.y_at(top) - stock.thickness
    if span[1] - span[0] < brief.shop.shortest_member or high - low < stock.thickness:
        return
    spacing = brief.assembly.framing.spacing
    count = max(1, int((high - low) // spacing))
    for number in range(1, count + 1):
        y = low + (high - low) * number / (count + 1)
        made = crosswise(f"{brief.id('lookout', span[0])}-{number}", Role.LOOKOUT, stock, span, y, _LADDER)
        ends = zip((False, True), names, strict=True)
        sticks.add(made, *(EndJoint(made.id, at_end, name, "blocking to rafter") for at_end, name in ends))


def _too_far(brief: RoofBrief, place: tuple[float, float], beyond: float) -> Finding:
    return Finding(
        "roof.rake",
        Severity.WARN,
        f"the rake of plane {brief.plane.id} overhangs farther than a ladder carries: lookouts that reach back over "
        "the gable wall need an engineer",
        brief.label,
        point=brief.pitch.point(place),
        value=beyond,
        limit=brief.rules.roof.ladder,
        source=brief.rules.roof.cited,
    )
