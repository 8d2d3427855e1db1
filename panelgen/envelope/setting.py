"""The order in which panels are set on site, and whether each can be brought to its place by a straight path.

A panel comes down from the crane, or is slid in square to its face or along it. A path is free where no panel
that was set before stands in it. What a panel carries is set after it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from panelgen.envelope.bodies import LayerBodies, layer_bodies
from panelgen.geometry.boxes import Ints
from panelgen.geometry.convex import Convex
from panelgen.geometry.frames import Floats, Vec3, scaled
from panelgen.model import House, Panel, PanelKind, Truss, truss_rows
from panelgen.model.truss_bodies import truss_frame

__all__ = ["Blocked", "blocked_panels", "setting_order"]

_RANKS = {
    PanelKind.FLOOR: 0,
    PanelKind.EXTERIOR_WALL: 1,
    PanelKind.INTERIOR_WALL: 2,
    PanelKind.CEILING: 3,
    PanelKind.ROOF: 4,
}
_WALLS = (PanelKind.EXTERIOR_WALL, PanelKind.INTERIOR_WALL)
_UP: Vec3 = (0.0, 0.0, 1.0)
_SLACK = 3.0
"""Panels are set with this much room to spare (mm) on every side; common practice, no source."""

_RESTS = 15.0
"""What is no farther above (mm) rests on a panel; common practice, no source."""

_FAR = 1e6
_SLANT = 0.9


@dataclass(frozen=True, slots=True)
class Blocked:
    """What no straight path leads to its place, and what was set before and rests on it or bars the way."""

    what: Panel | Truss
    by: Panel | Truss


def setting_order(house: House) -> tuple[Panel, ...]:
    """Storey by storey: floors, exterior walls, interior walls, ceilings; then the roofs; last each dormer's walls and
    its roof. Else as in the house."""
    dormers = {name: number for number, name in enumerate(dict.fromkeys(panel.dormer for panel in house.panels))}
    storeys = {storey.id: storey.elevation for storey in house.storeys}

    def turn(panel: Panel) -> tuple[float, int, int]:
        roof = panel.kind is PanelKind.ROOF or panel.dormer != ""
        turn = _FAR if roof else storeys.get(panel.level, panel.frame.origin[2])
        return (turn, dormers[panel.dormer] if panel.dormer else -1, _RANKS[panel.kind])

    return tuple(sorted(house.panels, key=turn))


def blocked_panels(order: Sequence[Panel], trusses: Sequence[Truss] = ()) -> Iterator[Blocked]:
    """The panels that cannot be set in this order by a straight path, each when all before it stand.

    Trusses are lowered row by row once the walls of their level stand, and before anything over those. One that
    cannot be is told of each row.
    """
    rows = list(truss_rows(tuple(trusses)))
    bodies, numbers = _bodies(order, rows)
    hindered: dict[int, tuple[float, int]] = {}
    for number, other, gap in _in_the_way(bodies, np.arange(len(bodies.owner)), _UP):
        hindered[number] = min(hindered.get(number, (gap, other)), (gap, other))
    for number, (gap, other) in sorted(hindered.items()):
        what, by = numbers[number], numbers[other]
        if isinstance(what, Truss):
            yield Blocked(what, by)
            continue
        standing = np.flatnonzero(bodies.owner <= number)
        ways = (what.frame.z, scaled(what.frame.z, -1.0), what.frame.x, scaled(what.frame.x, -1.0))
        if gap < _RESTS or all(_is_barred(bodies, standing, way, number) for way in ways):
            yield Blocked(what, by)


def _bodies(order: Sequence[Panel], rows: Sequence[Sequence[Truss]]) -> tuple[LayerBodies, dict[int, Panel | Truss]]:
    """Panels and trusses as solids, whose owners are numbered as they are set, and what each number stands for."""
    step = len(rows) + 1
    panels = layer_bodies(order)
    numbers: dict[int, Panel | Truss] = {step * number: panel for number, panel in enumerate(order)}
    owner, corners = [panels.owner * step], list(panels.corners)
    for place, row in enumerate(rows):
        below = [
            n for n, one in enumerate(order) if one.level == row[0].level and one.kind in _WALLS and not one.dormer
        ]
        number = step * max(below, default=-1) + place + 1
        numbers[number] = row[0]
        owner.append(np.full(len(row), number))
        corners += [_corners(truss) for truss in row]
    hulls = Convex.hulls(corners[len(panels.corners) :])
    return LayerBodies(Convex.joined((panels.solids, hulls)), np.concatenate(owner), tuple(corners)), numbers


def _corners(truss: Truss) -> Floats:
    """(n, 3) house corners of the body of a truss."""
    flat = [(x, y, z) for x, y in truss.outline for z in (0.0, truss.thickness)]
    return truss_frame(truss).to_parent(flat)


def _is_barred(bodies: LayerBodies, standing: Ints, way: Vec3, number: int) -> bool:
    return any(panel == number for panel, _, _ in _in_the_way(bodies, standing, way))


def _in_the_way(bodies: LayerBodies, rows: Ints, way: Vec3) -> Iterator[tuple[int, int, float]]:
    """Pairs of a panel and one set before it that stands in its way when it is taken off again along `way`.

    The third value is how far (mm) apart the two are there.
    """
    ahead = np.array(way)
    aside = np.array(_UP if abs(way[2]) < _SLANT else (1.0, 0.0, 0.0))
    across = np.cross(ahead, aside)
    plane = np.stack((across / np.linalg.norm(across), np.cross(ahead, across / np.linalg.norm(across))))
    if not len(rows):
        return
    points = [bodies.corners[row] @ plane.T for row in rows.tolist()]
    counts = [len(one) for one in points]
    clouds = shapely.multipoints(np.concatenate(points), indices=np.arange(len(points)).repeat(counts))
    shadows = shapely.buffer(shapely.convex_hull(clouds), -_SLACK, join_style="mitre")
    tree = shapely.STRtree(shadows)
    one, other = tree.query(shadows, predicate="intersects")
    later = bodies.owner[rows[one]] > bodies.owner[rows[other]]
    one, other = one[later], other[later]
    shared = shapely.intersection(shadows[one], shadows[other])
    wide = shapely.area(shared) > _SLACK**2
    one, other = rows[one[wide]], rows[other[wide]]
    spot = shapely.get_coordinates(shapely.point_on_surface(shared[wide])) @ plane
    start, end = spot - _FAR * ahead, spot + _FAR * ahead
    nothing = np.zeros(len(one))
    here, there = (bodies.solids.stretches(solid, start, end, nothing) for solid in (one, other))
    for row in np.flatnonzero(there.sum(axis=1) > here.sum(axis=1)).tolist():
        gap = float(there[row, 0] - here[row, 1]) * 2 * _FAR
        yield int(bodies.owner[one[row]]), int(bodies.owner[other[row]]), gap
