"""What a panel weighs and where its centre of gravity is: wood, sheets and insulation.

Nails, runs, boxes and hardware are left out. Masses are exact, as the volumes are. A stick's own centre
takes each bore and notch off the blank by itself, which is exact unless they meet one another or an end;
bores that run level with the wide face are not counted in it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import product

from panelgen.geometry.frames import Point2, Vec3, add, scaled
from panelgen.model.bay import Bay
from panelgen.model.member import Member
from panelgen.model.panel import Panel
from panelgen.model.sheet import Sheet
from panelgen.model.volumes import member_mass, sheet_mass

__all__ = ["center_of_gravity", "member_center", "panel_mass", "sheet_center"]

_Moment = tuple[float, float, float, float]  # measure, and its first moments about the local axes

_GAUSS = tuple(0.5 + sign * math.sqrt(1 / 12) for sign in (-1.0, 1.0))
"""Two-point Gauss places on (0, 1): exact for the moments below, which are cubic at most."""


_LEVEL = 1e-6


def panel_mass(panel: Panel) -> float:
    """Mass of a panel, kg."""
    sticks, sheets = map(member_mass, panel.members), map(sheet_mass, panel.sheets)
    return math.fsum((*sticks, *sheets, *(bay.mass for bay in panel.bays)))


def center_of_gravity(panel: Panel) -> Vec3:
    """Centre of gravity in panel coordinates, mm; the origin for a panel without mass."""
    parts = list(_masses(panel))
    total = math.fsum(mass for mass, _ in parts)
    if total == 0.0:
        return (0.0, 0.0, 0.0)
    x, y, z = (math.fsum(mass * place[k] for mass, place in parts) / total for k in range(3))
    return (x, y, z)


def _masses(panel: Panel) -> Iterator[tuple[float, Vec3]]:
    yield from ((member_mass(member), member_center(member)) for member in panel.members)
    yield from ((sheet_mass(sheet), sheet_center(sheet)) for sheet in panel.sheets)
    for bay in panel.bays:
        x, y = _bay_center(bay)
        yield bay.mass, (x, y, (bay.z0 + bay.z1) / 2)


def member_center(member: Member) -> Vec3:
    """Centroid of a stick in panel coordinates, mm."""
    moments = [_blank(member)]
    for bore in member.bores:
        if abs(bore.axis[2]) < _LEVEL:
            continue
        through = member.thickness / abs(bore.axis[2])
        down = (member.thickness / 2 - bore.point[2]) / bore.axis[2]
        middle = add(bore.point, scaled(bore.axis, down))
        volume = -math.pi / 4 * bore.diameter**2 * through
        moments.append(_at(volume, middle))
    for notch in member.notches:
        if notch.apex is not None:
            edge, deep = (member.width, member.width - notch.depth) if notch.from_far_edge else (0.0, notch.depth)
            area, mx, my, _ = _ring(((notch.x0, edge), (notch.x1, edge), (notch.apex, deep)), -1.0)
            moments.append(_at(area * member.thickness, (mx / area, my / area, member.thickness / 2)))
            continue
        x0, x1 = max(notch.x0, 0.0), min(notch.x1, member.length)
        volume = -max(0.0, x1 - x0) * notch.depth * member.thickness
        y = member.width - notch.depth / 2 if notch.from_far_edge else notch.depth / 2
        moments.append(_at(volume, ((x0 + x1) / 2, y, member.thickness / 2)))
    return member.frame.point(*_centroid(moments))


def _at(volume: float, center: Vec3) -> _Moment:
    return (volume, *scaled(center, volume))


def _blank(member: Member) -> _Moment:
    """Volume and moments of the stick between its end planes: fibres along it, summed over its section."""
    if member.has_square_ends:
        volume = member.length * member.width * member.thickness
        return _at(volume, (member.length / 2, member.width / 2, member.thickness / 2))
    area = member.width * member.thickness / 4
    total = [0.0, 0.0, 0.0, 0.0]
    for u, v in product(_GAUSS, _GAUSS):
        y, z = u * member.width, v * member.thickness
        start, end = member.end_x(member.start, False, y, z), member.end_x(member.end, True, y, z)
        volume = area * (end - start)
        for k, factor in enumerate((1.0, (start + end) / 2, y, z)):
            total[k] += volume * factor
    return total[0], total[1], total[2], total[3]


def sheet_center(sheet: Sheet) -> Vec3:
    """Centroid of a sheet in panel coordinates, mm."""
    x, y = _area_center(sheet.outline, sheet.cutouts, [(h.x, h.y, h.diameter) for h in sheet.round_holes])
    return sheet.frame.point(x, y, sheet.thickness / 2)


def _bay_center(bay: Bay) -> Point2:
    return _area_center(bay.outline, bay.holes, [])


def _area_center(
    outline: Sequence[Point2], holes: Sequence[Sequence[Point2]], discs: Sequence[tuple[float, float, float]]
) -> Point2:
    """Centroid of a ring less other rings and discs (x, y, diameter), whichever way the rings run."""
    moments = [_ring(outline, 1.0), *(_ring(hole, -1.0) for hole in holes)]
    for x, y, diameter in discs:
        moments.append(_at(-math.pi / 4 * diameter**2, (x, y, 0.0)))
    x, y, _ = _centroid(moments)
    return (x, y)


def _ring(ring: Sequence[Point2], sign: float) -> _Moment:
    """Area and moments of a ring by the shoelace formula, counted as `sign` says."""
    area, mx, my = 0.0, 0.0, 0.0
    for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], *ring[:1]), strict=True):
        turn = xa * yb - xb * ya
        area += turn / 2
        mx += turn * (xa + xb) / 6
        my += turn * (ya + yb) / 6
    sign = sign if area > 0 else -sign
    return sign * area, sign * mx, sign * my, 0.0


def _centroid(moments: Sequence[_Moment]) -> Vec3:
    volume, x, y, z = (math.fsum(moment[k] for moment in moments) for k in range(4))
    return (x / volume, y / volume, z / volume)
