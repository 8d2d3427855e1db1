"""Birdsmouths: where a stick that rises over a bearing wall is cut to sit on its plate.

The heel is a plumb cut where the stick first comes over the wall's outer sheathing, the seat a level cut at the plate
from there to where the stick's lower edge rises above it.
"""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from math import hypot
from typing import Any

import shapely

from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.sticks import Sticks
from panelgen.geometry.frames import Point2
from panelgen.model import Member, Notch, Role

__all__ = ["cut_birdsmouths"]

_RISERS = (Role.RAFTER, Role.HIP, Role.VALLEY)
_LEAST = 0.5
"""Shallower seats than this (mm) are not cut: saw tolerance, common practice, no source."""

_BEHIND = 1.0
"""A seat in which a stick starts begins this far (mm) behind it, so that its whole end is cut."""


def cut_birdsmouths(brief: RoofBrief, sticks: Sticks) -> None:
    """Cut every rafter, hip and valley where it is over a wall and below the height of its plate."""
    walls = shapely.Polygon(brief.footprint).buffer(brief.plane.lap, join_style="mitre")
    seats = [(walls, brief.plate_height)]
    x0, _, x1, far = walls.bounds
    seats += [(shapely.box(x0, run, x1, far), height) for run, height in brief.plane.seats]
    for seat in brief.plane.upper:
        low, high = (x - brief.start for x in seat.x)
        seats.append((shapely.box(low, seat.heel, high, seat.run + brief.plane.lap), seat.height))
    for area, plate in seats:
        sticks.changed(partial(_seated, brief, area, plate))


def _seated(brief: RoofBrief, walls: Any, plate: float, member: Member) -> Member:
    """A stick with its seat on some walls, if it rises over them."""
    if member.role not in _RISERS:
        return member
    pitch, frame = brief.pitch, member.frame
    rise = frame.x[1] * pitch.sine
    if rise <= 1e-9 or pitch.height(frame.origin) >= plate - _LEAST:
        return member
    stretch = hypot(frame.x[0], frame.x[1] * pitch.cosine)
    ahead = (frame.x[0] / stretch, frame.x[1] * pitch.cosine / stretch)
    strip = _strip(brief, member, ahead)
    parts = [part for part in shapely.get_parts(strip.intersection(walls)) if part.geom_type == "Polygon"]
    over = [corner for part in parts for corner in part.exterior.coords]
    if not over:
        return member
    start = _place(brief, frame.origin)
    heel = min((x - start[0]) * ahead[0] + (run - start[1]) * ahead[1] for x, run in over)
    seat_end = (plate - pitch.height(frame.origin)) / rise * stretch
    level = seat_end - heel
    slope = rise / stretch
    length = hypot(1.0, slope)
    depth = level * slope / length
    if depth < _LEAST:
        return member
    x0 = heel * length
    notch = Notch(x0, x0 + level * length, depth, apex=x0 + level * slope * slope / length)
    return replace(member, notches=(*member.notches, notch))


def _place(brief: RoofBrief, point: tuple[float, float, float]) -> Point2:
    return (point[0], brief.pitch.run_at(point[1], point[2]))


def _strip(brief: RoofBrief, member: Member, ahead: Point2) -> Any:
    """What the lower edge of a stick covers in plan, and a little behind it, since it may start on a plate."""
    corners = []
    for at_end, z in ((False, 0.0), (False, member.thickness), (True, member.thickness), (True, 0.0)):
        cut = member.end if at_end else member.start
        x, run = _place(brief, member.frame.point(member.end_x(cut, at_end, 0.0, z), 0.0, z))
        back = 0.0 if at_end else _BEHIND
        corners.append((x - back * ahead[0], run - back * ahead[1]))
    return shapely.Polygon(corners)
