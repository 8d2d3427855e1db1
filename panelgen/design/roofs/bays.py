"""Insulated bays of roof panels: what is left between rafters over the rooms below.

The slab is bounded by plumb planes, so a bay is as large as its section at mid depth times its depth. Room
above and below dropped boards is not counted.
"""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import shapely

from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.inside import Inside
from panelgen.design.roofs.outline import indoors
from panelgen.design.roofs.services import RoofServices
from panelgen.design.roofs.sticks import Sticks
from panelgen.geometry.frames import Vec3
from panelgen.geometry.rings import bends
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Bay, Member, Role, Why

__all__ = ["place_bays"]

_SLIVER = 25.0
"""Voids narrower than this (mm) take no insulation; common practice, no source."""

_INTO = 5.0
"""Bays do not meet through gaps at the ends of sticks that are narrower than this (mm)."""

_FILLED = (Role.RAFTER, Role.HEADER, Role.LOOKOUT)
_M3_PER_MM3 = 1e-9
_HAIR = 1e-6


def place_bays(brief: RoofBrief, sticks: Sticks, inside: Inside, services: RoofServices) -> tuple[Bay, ...]:
    """The bays, left to right, less runs and boxes; none where the assembly asks for no insulation."""
    name = brief.assembly.framing.insulation
    if name is None:
        return ()
    product = brief.catalog.insulation(name)
    depth = brief.pitch.depth
    room = _room(brief, inside)
    room -= shapely.union_all([_section(member) for member in sticks.members if member.role in _FILLED])
    for hole in brief.holes:
        low, high = hole.clear(brief.pitch, depth / 2, depth / 2)
        room -= shapely.box(hole.x[0], low, hole.x[1], high)
    parts = [part for part in shapely.get_parts(room) if part.geom_type == "Polygon" and _is_wide(part)]
    bays = []
    for part in sorted(parts, key=lambda part: part.bounds[:2]):
        turned = shapely.geometry.polygon.orient(part)
        ring, *holes = (bends(list(one.coords[:-1])) for one in (turned.exterior, *turned.interiors))
        volume = part.area * depth * _M3_PER_MM3
        net = volume - _taken(brief, part, services) * _M3_PER_MM3
        x, y = brief.start + part.bounds[0], part.bounds[1] + brief.pitch.base
        why = Why("bay.void", f"void between rafters, filled with {name}", product.cited)
        place = f"{brief.plane.id}/bay@{round(x)}-{round(y)}"
        bays.append(Bay(place, ring, tuple(holes), 0.0, depth, volume, net, name, product.density, why))
    return tuple(bays)


def _room(brief: RoofBrief, inside: Inside) -> Any:
    """The slab at mid depth within the boards of the panel, the blocking on the plate and the gable walls."""
    pitch = brief.pitch
    room = shapely.Polygon([side.start for side in brief.sides])
    x0, low, x1, high = room.bounds
    far = 2.0 * max(x1 - x0, high - low)
    for (xa, ra), (xb, rb) in inside.lines:
        size = max(abs(xb - xa), abs(rb - ra))
        ahead = ((xb - xa) / size * far, (rb - ra) / size * far)
        start, end = (xa - ahead[0], ra - ahead[1]), (xa + ahead[0], ra + ahead[1])
        left = (-ahead[1], ahead[0])
        room &= shapely.Polygon(
            [start, end, (end[0] + left[0], end[1] + left[1]), (start[0] + left[0], start[1] + left[1])]
        )
    for side in brief.sides:
        if side.line is RoofLine.RAKE:
            x0, x1 = (brief.gable_end(side), x1) if brief.is_left(side) else (x0, brief.gable_end(side))
    room &= shapely.box(x0, brief.rafter.thickness, x1, high)
    middle = pitch.depth / 2
    return shapely.transform(room, lambda places: _at_depth(brief, places, middle)) & indoors(brief, middle)


def _taken(brief: RoofBrief, part: Any, services: RoofServices) -> float:
    """Volume (mm3) of the runs along the parts of their centre lines in a bay, and of the boxes in it."""
    depth = brief.pitch.depth
    ways = [(run, a, b) for run in services.runs for a, b in pairwise(run.path)]
    taken = sum(run.outside_area * math.dist(a, b) * _share_in(brief, part, a, b) for run, a, b in ways)
    for box in services.boxes:
        (x0, y1, z1), (x1, y0, z0) = box.frame.origin, box.frame.point(*box.size)
        inside = max(0.0, min(z1, depth) - max(z0, 0.0))
        taken += part.intersection(shapely.box(x0, y0, x1, y1)).area * inside
    return taken


def _share_in(brief: RoofBrief, part: Any, a: Vec3, b: Vec3) -> float:
    """The share of the way from a to b that is in a bay, which leans with its plumb sides."""
    rise, depth, lean = b[2] - a[2], brief.pitch.depth, brief.pitch.tangent
    first, last = 0.0, 1.0
    if abs(rise) > _HAIR:
        first, last = sorted(min(max((z - a[2]) / rise, 0.0), 1.0) for z in (0.0, depth))
    elif not 0.0 < a[2] < depth:
        return 0.0
    # Moved along the plumb line to mid depth, a plumb way is one point.
    places = [(a[0] + (b[0] - a[0]) * s, a[1] + (b[1] - a[1]) * s, a[2] + rise * s) for s in (first, last)]
    way = shapely.LineString([(x, y + (depth / 2 - z) * lean) for x, y, z in places])
    if way.length < _HAIR:
        return (last - first) * bool(shapely.contains_xy(part, *way.coords[0]))
    return (last - first) * float(way.intersection(part).length / way.length)


def _at_depth(brief: RoofBrief, places: Any, z: float) -> Any:
    places = places.copy()
    places[:, 1] = brief.pitch.y_at(0.0, z) + places[:, 1] * brief.pitch.secant
    return places


def _section(member: Member) -> Any:
    """A stick that stands square in the slab, cut at mid depth, and a little into what it ends on."""
    middle = member.width / 2
    corners = (
        (member.end_x(member.start, False, middle, 0.0) - _INTO, 0.0),
        (member.end_x(member.end, True, middle, 0.0) + _INTO, 0.0),
        (member.end_x(member.end, True, middle, member.thickness) + _INTO, member.thickness),
        (member.end_x(member.start, False, middle, member.thickness) - _INTO, member.thickness),
    )
    return shapely.Polygon([member.frame.point(x, middle, z)[:2] for x, z in corners])


def _is_wide(part: Any) -> bool:
    return not part.buffer(-_SLIVER / 2, join_style="mitre").is_empty
