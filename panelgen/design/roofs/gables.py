"""The tops of walls at the gables of a roof: they follow the underside of its rafters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import shapely

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.roofs.planes import RoofPlane, planes_of
from panelgen.geometry.frames import Point2, Vec3, add, dot, scaled
from panelgen.spec import HouseSpec
from panelgen.spec.walls import Corner, Level

__all__ = ["gable_tops"]

_SAME = 1e-6


def gable_tops(spec: HouseSpec, catalog: Catalog, rules: RuleSet) -> Mapping[str, tuple[Point2, ...]]:
    """The top of each outline wall that is a gable edge of its level's roof, as (along the wall, height), mm.

    A wall that is given a gable or a height of its own keeps it. Raises GeometryError as the roof does.
    """
    tops = {}
    for roof in spec.roofs:
        level = next(level for level in spec.levels if level.id == roof.level)
        gables = {edge.edge for edge in roof.edges if edge.kind == "gable"}
        planes = planes_of(spec, roof, catalog, rules)[0] if gables else ()
        for corner, following in _outer_walls(level):
            if corner.wall in gables and corner.gable is None and corner.height is None:
                top = tuple(_under(planes, corner.at, following.at, level.elevation))
                if top:
                    tops[corner.wall] = top
    return tops


def _outer_walls(level: Level) -> Iterator[tuple[Corner, Corner]]:
    """The corner where each wall of a closed outline starts, and the one where it ends."""
    for outline in level.outlines:
        if outline.closed:
            yield from zip(outline.corners, (*outline.corners[1:], outline.corners[0]), strict=True)


def _under(planes: tuple[RoofPlane, ...], start: Point2, end: Point2, floor: float) -> Iterator[Point2]:
    """The underside of the rafters over a line in plan, from its start to its end."""
    line = shapely.LineString((start, end))
    stretches = []
    for plane in planes:
        corners = [plane.frame.point(side.start[0], side.start[1] * plane.pitch.secant, 0.0) for side in plane.sides]
        shared = line.intersection(shapely.Polygon([corner[:2] for corner in corners]))
        if shared.length > _SAME:
            ends = sorted(line.project(shapely.Point(point)) for point in shared.coords)
            stretches.append([(along, _height(plane, line, along) - floor) for along in ends])
    last = None
    for point in (point for stretch in sorted(stretches) for point in stretch):
        if last is None or point[0] - last > _SAME:
            yield point
            last = point[0]


def _height(plane: RoofPlane, line: shapely.LineString, along: float) -> float:
    """House z of the underside of a plane's rafters over a place along a line."""
    spot = line.interpolate(along)
    normal, origin = plane.frame.z, plane.frame.origin
    here: Vec3 = (spot.x, spot.y, origin[2])
    return origin[2] - dot(add(here, scaled(origin, -1.0)), normal) / normal[2]
