"""A member cut from a block with CadQuery, a step at a time, by none of the package's own geometry."""

from __future__ import annotations

import math

import cadquery as cq

from panelgen.model import EndCut, Member

__all__ = ["solid_of_member", "volume_of_member"]

FAR = 3000.0


def volume_of_member(member: Member) -> float:
    """Volume of the member, mm3, as CadQuery finds it."""
    return float(sum(solid.Volume() for solid in solid_of_member(member).vals()[0].Solids()))


def solid_of_member(member: Member) -> cq.Workplane:
    """The member in its own coordinates: a box, less a box a notch, a block an end and a cylinder a bore."""
    block = cq.Workplane().box(member.length, member.width, member.thickness, centered=False)
    for notch in member.notches:
        low = member.width - notch.depth if notch.from_far_edge else -1.0
        size = (notch.x1 - notch.x0, notch.depth + 1.0, member.thickness + 2.0)
        block = block.cut(cq.Workplane(origin=(notch.x0, low, -1.0)).box(*size, centered=False))
    for at_end, cut in ((False, member.start), (True, member.end)):
        if not cut.is_square:
            block = block.cut(beyond(member, at_end, cut))
    for bore in member.bores:
        axis = cq.Vector(*bore.axis)
        foot = cq.Vector(*bore.point) - axis * FAR
        block = block.cut(cq.Workplane(cq.Plane(foot, normal=axis)).circle(bore.diameter / 2).extrude(2 * FAR))
    return block


def beyond(member: Member, at_end: bool, cut: EndCut) -> cq.Workplane:
    """The block on the waste side of an end plane, through the long point of that end."""
    sign = 1.0 if at_end else -1.0
    normal = cq.Vector(sign, -sign * cut.across_width, -sign * cut.across_thickness).normalized()
    reach = (cut.across_width * member.width, cut.across_thickness * member.thickness)
    y = member.width if (reach[0] > 0) == at_end else 0.0
    z = member.thickness if (reach[1] > 0) == at_end else 0.0
    long_point = cq.Vector(member.length if at_end else 0.0, y, z)
    return cq.Workplane(cq.Plane(long_point, normal=normal)).rect(FAR, FAR).extrude(math.hypot(FAR, FAR))
