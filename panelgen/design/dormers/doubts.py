"""Dormers that cannot stand where they are asked to, and what every dormer leaves to an engineer."""

from __future__ import annotations

from collections.abc import Sequence

import shapely

from panelgen.design.dormers.planes import place_in
from panelgen.design.dormers.shape import Dormer
from panelgen.design.roofs.planes import RoofPlane
from panelgen.geometry.frames import dot
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Finding, Severity

__all__ = ["comes_down_early", "leaves_its_plane", "loads", "too_steep"]

_SAME = 1e-3
_SPEC = "spec roofs.openings.dormer"


def too_steep(dormer: Dormer) -> Finding | None:
    """A finding where a shed is not flatter than the roof that it stands on."""
    if dormer.spec.form == "gable" or dormer.slope < dormer.steepness:
        return None
    words = f"the shed roof of dormer {dormer.id} is as steep as the roof below and never meets it: make it flatter"
    return _stop(dormer, "dormer.steep", words, dormer.slope, dormer.steepness, unit="")


def leaves_its_plane(dormer: Dormer, planes: Sequence[RoofPlane]) -> Finding | None:
    """A finding where a dormer's walls or the foot of its roof are not on the plane of its opening."""
    area = shapely.Polygon([dormer.place(*side.start) for side in dormer.plane.sides])
    feet = [dormer.place(x, dormer.front) for x in (dormer.left, dormer.right)]
    for plane in planes:
        for side in plane.sides:
            if side.line is RoofLine.LAY_OVER:
                ends = (plane.frame.point(*plane.pitch.point(place)) for place in (side.start, side.end))
                feet += [(x, y) for x, y, _ in ends]
    off = max(area.distance(shapely.Point(foot)) for foot in feet)
    if off < _SAME:
        return None
    words = (
        f"dormer {dormer.id} reaches past the slope that it stands on: lower its walls or its ridge, make it narrower, "
        "or move it"
    )
    return _stop(dormer, "dormer.outside", words, off, 0.0)


def comes_down_early(dormer: Dormer, planes: Sequence[RoofPlane], least: float) -> Finding | None:
    """A finding where its roof is less than `least` (mm) above the sheathing at the upper corners of the opening."""
    room = min(
        max(_above(dormer, plane, x) for plane in planes)
        for x in (dormer.left + dormer.depth, dormer.right - dormer.depth)
    )
    if room >= least - _SAME:
        return None
    words = f"the roof of dormer {dormer.id} comes down before its opening ends: raise its walls or shorten the opening"
    return _stop(dormer, "dormer.low", words, room, least)


def loads(dormer: Dormer) -> Finding:
    """A remark on what carries a dormer."""
    return Finding(
        "dormer.load",
        Severity.NOTE,
        f"dormer {dormer.id} stands on the doubled trimmers and headers of its opening, whose load needs an engineer",
        parts=(dormer.id,),
        house_point=_point(dormer),
        source="IRC R802.9, framing of openings in roofs",
    )


def _above(dormer: Dormer, plane: RoofPlane, x: float) -> float:
    """How far the underside of a plane is above the sheathing at the upper edge of the opening, measured plumb."""
    assert plane.over is not None  # every plane of a dormer lies over its roof
    normal, offset = plane.over
    place = place_in(plane, dormer.place(x, dormer.back))
    if not shapely.Polygon([side.start for side in plane.sides]).buffer(_SAME).intersects(shapely.Point(place)):
        return float("-inf")
    return (dot(normal, plane.pitch.point(place)) - offset) / dot(normal, plane.pitch.up)


def _stop(dormer: Dormer, code: str, words: str, value: float, limit: float, unit: str = "mm") -> Finding:
    return Finding(
        code,
        Severity.STOP,
        words,
        parts=(dormer.id,),
        house_point=_point(dormer),
        value=value,
        limit=limit,
        unit=unit,
        source=_SPEC,
    )


def _point(dormer: Dormer) -> tuple[float, float, float]:
    middle = (dormer.left + dormer.right) / 2
    return (*dormer.place(middle, dormer.front), dormer.elevation)
