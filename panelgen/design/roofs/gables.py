"""The tops of walls at the gables of a roof: they follow the underside of its rafters."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

import shapely

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.roofs.planes import RoofPlane, planes_of
from panelgen.design.roofs.upper_seats import UpperSeat
from panelgen.design.walls.plan import layer_stack
from panelgen.geometry.frames import Point2, Vec3, add, dot, scaled
from panelgen.model import LayerKind
from panelgen.spec import HouseSpec
from panelgen.spec.walls import Corner, Level, Outline

__all__ = ["gable_tops", "top_under"]

_SAME = 1e-6
_NEAR = 1.0
"""Places in plan this near (mm) are the same."""


def gable_tops(spec: HouseSpec, catalog: Catalog, rules: RuleSet) -> Mapping[str, tuple[Point2, ...]]:
    """The top of each outline wall that is a gable edge of its level's roof, as (along the wall, height), mm.

    A wall that is given a gable or a height of its own keeps it. Raises GeometryError as the roof does.
    """
    tops = {}
    for roof in spec.roofs:
        level = next(level for level in spec.levels if level.id == roof.level)
        gables = {edge.edge for edge in roof.edges if edge.kind == "gable"}
        planes = planes_of(spec, roof, catalog, rules)[0] if gables else ()
        for outline, corner, following in _outer_walls(level):
            if corner.wall not in gables or corner.gable is not None or corner.height is not None:
                continue
            layers = layer_stack(spec.assemblies[corner.assembly or outline.assembly], catalog)
            depth = max(layer.z1 for layer in layers if layer.kind is LayerKind.FRAMING) - min(one.z0 for one in layers)
            line = (corner.at, following.at)
            top = _under_seats(planes, line, level.base) or top_under(planes, line, depth, level.base)
            if top:
                tops[corner.wall] = _levelled(planes, line, level.base, top)
    return tops


def _seats(planes: tuple[RoofPlane, ...], floor: float) -> Iterator[tuple[UpperSeat, tuple[Point2, Point2], float]]:
    """The seats of rafters at their upper ends, both ends of the wall below each in plan, and how high its top is."""
    for plane in planes:
        for seat in plane.upper:
            ends = [plane.frame.point(x, seat.run * plane.pitch.secant, 0.0) for x in seat.x]
            (xa, ya, _), (xb, yb, _) = ends
            yield seat, ((xa, ya), (xb, yb)), plane.frame.origin[2] + seat.height - floor


def _under_seats(planes: tuple[RoofPlane, ...], line: tuple[Point2, Point2], floor: float) -> tuple[Point2, ...]:
    """The top of a wall on which rafters are seated at their upper ends, as `top_under`; empty for any other wall."""
    for _, ends, top in _seats(planes, floor):
        if max(math.dist(end, place) for end, place in zip(ends, reversed(line), strict=True)) < _NEAR:
            return ((0.0, top), (math.dist(*line), top))
    return ()


def _levelled(
    planes: tuple[RoofPlane, ...], line: tuple[Point2, Point2], floor: float, top: tuple[Point2, ...]
) -> tuple[Point2, ...]:
    """The top of a wall that meets one on which rafters are seated: level under that seat, since the rafters are."""
    length = math.dist(*line)
    for seat, ends, height in _seats(planes, floor):
        level = seat.run - seat.toe
        if any(math.dist(end, line[1]) < _NEAR for end in ends) and top[-1][1] > height + _SAME:
            slope = [point for point in top if point[0] < length - level - _SAME]
            top = (*slope, (length - level, height), (length, height))
        if any(math.dist(end, line[0]) < _NEAR for end in ends) and top[0][1] > height + _SAME:
            slope = [point for point in top if point[0] > level + _SAME]
            top = ((0.0, height), (level, height), *slope)
    return top


def top_under(
    planes: tuple[RoofPlane, ...], line: tuple[Point2, Point2], depth: float, floor: float
) -> tuple[Point2, ...]:
    """The top of a wall under the rafters of some planes, as (along it, height over `floor`), mm.

    `line` is its outer framing face in plan, the room to its left, `depth` how far its inside is behind that. Where
    one of the faces is at the edge of the roof, or beyond it, the other one decides.
    """
    tops = [list(_under(planes, *face, floor)) for face in _faces(*line, depth)]
    most = max(map(len, tops))
    return tuple(
        (points[0][0], min(y for _, y in points))
        for points in zip(*(top for top in tops if len(top) == most), strict=True)
    )


def _faces(start: Point2, end: Point2, depth: float) -> Iterator[tuple[Point2, Point2]]:
    """The line of a wall's outer framing face, and that of its inside `depth` mm behind it, in plan."""
    (xa, ya), (xb, yb) = start, end
    length = math.dist(start, end)
    for off in (0.0, depth / length):
        dx, dy = (ya - yb) * off, (xb - xa) * off
        yield (xa + dx, ya + dy), (xb + dx, yb + dy)


def _outer_walls(level: Level) -> Iterator[tuple[Outline, Corner, Corner]]:
    """The closed outline of each wall, the corner where it starts, and the one where it ends."""
    for outline in level.outlines:
        if outline.closed:
            for corner, following in zip(outline.corners, (*outline.corners[1:], outline.corners[0]), strict=True):
                yield outline, corner, following


def _under(planes: tuple[RoofPlane, ...], start: Point2, end: Point2, floor: float) -> Iterator[Point2]:
    """The underside of the rafters over a line in plan, from its start to its end; the lower where two slopes meet."""
    line = shapely.LineString((start, end))
    stretches = []
    for plane in planes:
        corners = [plane.frame.point(side.start[0], side.start[1] * plane.pitch.secant, 0.0) for side in plane.sides]
        shared = line.intersection(shapely.Polygon([corner[:2] for corner in corners]))
        if shared.length > _SAME:
            ends = sorted(line.project(shapely.Point(point)) for point in shared.coords)
            stretches.append([(along, _height(plane, line, along) - floor) for along in ends])
    last: Point2 | None = None
    for along, height in (point for stretch in sorted(stretches) for point in stretch):
        if last is not None and along - last[0] > _SAME:
            yield last
        elif last is not None:
            height = min(height, last[1])
        last = (along, height)
    if last is not None:
        yield last


def _height(plane: RoofPlane, line: shapely.LineString, along: float) -> float:
    """House z of the underside of a plane's rafters over a place along a line."""
    spot = line.interpolate(along)
    normal, origin = plane.frame.z, plane.frame.origin
    here: Vec3 = (spot.x, spot.y, origin[2])
    return origin[2] - dot(add(here, scaled(origin, -1.0)), normal) / normal[2]
