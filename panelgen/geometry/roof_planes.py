"""The planes of a roof over a rectilinear outline: hips, gables, sheds and every valley between.

Over a rectangle a roof is as high as the lowest of the planes that rise from its eaves; gables have none.
Over any other outline it is as high as the highest roof of the largest rectangles in it. With one slope
and no gable that is the straight skeleton, since the height at a point is its slope times half the side of
the largest square around it that the outline holds.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, NamedTuple

import shapely

from panelgen.errors import GeometryError
from panelgen.geometry.frames import Point2
from panelgen.geometry.rectangles import Rect, largest_rectangles
from panelgen.geometry.rings import bends, segments, with_shared_corners

__all__ = ["OutlineEdge", "RoofFace", "RoofLine", "RoofSide", "roof_faces"]

_GRID = 1e-6
_SAME = 1e-4


class RoofLine(StrEnum):
    """What a carpenter calls an edge of a roof plane.

    Joints are between two panels of one plane, a cross joint across the rafters; at a lay-over a plane ends on the
    sheathing of another roof.
    """

    EAVE = "eave"
    RAKE = "rake"
    TOP = "top"
    RIDGE = "ridge"
    HIP = "hip"
    VALLEY = "valley"
    JOINT = "joint"
    LAY_OVER = "lay-over"
    CROSS = "cross joint"


@dataclass(frozen=True, slots=True)
class OutlineEdge:
    """One edge of a roof's outline in plan, mm, the roof to its left; `slope` is rise per run of the plane on it.

    A gable has no plane; its slope counts only where the gable does not close a whole side of the roof.
    """

    start: Point2
    end: Point2
    slope: float
    is_gable: bool = False


@dataclass(frozen=True, slots=True)
class RoofSide:
    """A straight piece of a face's boundary, the face to its left; `other` is the face beyond it, if any."""

    start: Point2
    end: Point2
    line: RoofLine
    other: int | None


@dataclass(frozen=True, slots=True)
class RoofFace:
    """A flat part of a roof: `edge` is the outline edge it rises from, `ring` its outline in plan, counter-clockwise.

    The height above the eaves at p is `slope` times the distance of p to the left of the edge's line.
    """

    edge: int
    slope: float
    origin: Point2
    uphill: Point2
    ring: tuple[Point2, ...]
    sides: tuple[RoofSide, ...]

    def height(self, point: Point2) -> float:
        """Height of the plane above the eaves at a point of the plan, mm."""
        return _Plane(self.origin, self.uphill, self.slope).height(point)


class _Plane(NamedTuple):
    """A plane that rises by `slope` from the line through `origin`, square to the unit vector `uphill`."""

    origin: Point2
    uphill: Point2
    slope: float

    def height(self, point: Point2) -> float:
        (x, y), (u, v) = self.origin, self.uphill
        return self.slope * ((point[0] - x) * u + (point[1] - y) * v)


_Ring = list[Point2]


def roof_faces(edges: Sequence[OutlineEdge]) -> tuple[RoofFace, ...]:
    """The faces of the roof over a closed rectilinear outline, its edges given counter-clockwise along x and y.

    Faces are in the order of their edges; together they cover the outline and share no area. Edges in one
    line with one slope have one plane, and its parts that are apart are faces by themselves.
    Raises GeometryError where a part of the roof has no eave.
    """
    roofs = [(rect, _planes_over(rect, edges)) for rect in largest_rectangles([edge.start for edge in edges])]
    pieces: dict[_Plane, list[Any]] = {}
    for rect, planes in roofs:
        for plane in planes:
            area: Any = shapely.Polygon(_below_all(rect, plane, planes))
            for other, higher in roofs:
                ring = _below_all(other, plane, higher) if plane not in higher else []
                if ring:
                    area = shapely.difference(area, shapely.Polygon(ring), grid_size=_GRID)
            pieces.setdefault(plane, []).append(area)
    parts: list[tuple[_Plane, _Ring]] = []
    for plane, areas in pieces.items():
        whole = shapely.union_all(areas, grid_size=_GRID)
        parts += [(plane, _plain_ring(part)) for part in shapely.get_parts(whole) if part.area > _SAME]
    rings = with_shared_corners([ring for _, ring in parts])
    owners = {segment: number for number, ring in enumerate(rings) for segment in segments(ring)}
    faces = [
        RoofFace(
            _edge_of(plane, ring, edges),
            plane.slope,
            plane.origin,
            plane.uphill,
            bends(ring),
            tuple(_side(plane, a, b, owners.get((b, a)), parts) for a, b in segments(ring)),
        )
        for (plane, _), ring in zip(parts, rings, strict=True)
    ]
    return _ordered(faces)


def _planes_over(rect: Rect, edges: Sequence[OutlineEdge]) -> list[_Plane]:
    """The planes that rise from the sides of a largest rectangle: all but those closed by gables."""
    x0, y0, x1, y1 = rect
    planes = []
    for uphill, at, span in (
        ((0.0, 1.0), y0, (x0, x1)),
        ((-1.0, 0.0), x1, (y0, y1)),
        ((0.0, -1.0), y1, (x0, x1)),
        ((1.0, 0.0), x0, (y0, y1)),
    ):
        axis = 0 if uphill[0] == 0.0 else 1
        touching = [
            (edge, shared)
            for edge in edges
            if _uphill(edge) == uphill
            and edge.start[1 - axis] == at
            and (shared := _shared(span, (edge.start[axis], edge.end[axis]))) > _SAME
        ]
        closed = sum(shared for edge, shared in touching if edge.is_gable)
        if closed >= span[1] - span[0] - _SAME:
            continue
        eaves = [edge for edge, _ in touching if not edge.is_gable] or [edge for edge, _ in touching]
        origin = (0.0, at) if axis == 0 else (at, 0.0)
        planes.append(_Plane(origin, uphill, min(edge.slope for edge in eaves)))
    if not planes:
        raise GeometryError(f"no eave carries the roof over x {x0:.0f} to {x1:.0f}, y {y0:.0f} to {y1:.0f} mm")
    return planes


def _uphill(edge: OutlineEdge) -> Point2:
    """The unit vector to the left of an edge."""
    (xa, ya), (xb, yb) = edge.start, edge.end
    size = abs(xb - xa) + abs(yb - ya)
    return ((ya - yb) / size + 0.0, (xb - xa) / size + 0.0)


def _shared(span: Point2, other: Point2) -> float:
    return min(span[1], max(other)) - max(span[0], min(other))


def _below_all(rect: Rect, plane: _Plane, others: Sequence[_Plane]) -> _Ring:
    """The part of a rectangle over which a plane lies below all others; empty if there is none."""
    x0, y0, x1, y1 = rect
    ring = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
    for other in others:
        if other != plane:
            ring = _kept(ring, [other.height(point) - plane.height(point) for point in ring])
    return ring


def _kept(ring: _Ring, values: Sequence[float]) -> _Ring:
    """The part of a convex ring where a linear function, given at its corners, is positive."""
    kept: _Ring = []
    closed = zip((*ring[1:], *ring[:1]), (*values[1:], *values[:1]), strict=True)
    for (a, at_a), (b, at_b) in zip(zip(ring, values, strict=True), closed, strict=True):
        if at_a >= -_GRID:
            kept.append(a)
        if min(at_a, at_b) < -_GRID and max(at_a, at_b) > _GRID:
            share = at_a / (at_a - at_b)
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return kept if len(kept) > 2 and max(values) > _GRID else []


def _plain_ring(part: Any) -> _Ring:
    """The outline of a part, counter-clockwise."""
    return [(x, y) for x, y in shapely.geometry.polygon.orient(part).exterior.coords[:-1]]


def _side(plane: _Plane, a: Point2, b: Point2, other: int | None, parts: Sequence[tuple[_Plane, _Ring]]) -> RoofSide:
    """The side of a face from a to b, and what a carpenter calls it."""
    low, high = plane.height(a), plane.height(b)
    level = abs(high - low) < _SAME
    if other is None:
        line = RoofLine.RAKE if not level else RoofLine.EAVE if low < _SAME else RoofLine.TOP
        return RoofSide(a, b, line, None)
    beyond = parts[other][0]
    away = (b[1] - a[1], a[0] - b[0])
    steeper = [one.slope * (one.uphill[0] * away[0] + one.uphill[1] * away[1]) for one in (plane, beyond)]
    line = RoofLine.VALLEY if steeper[1] > steeper[0] else RoofLine.RIDGE if level else RoofLine.HIP
    return RoofSide(a, b, line, other)


def _edge_of(plane: _Plane, ring: Sequence[Point2], edges: Sequence[OutlineEdge]) -> int:
    """The first outline edge that the face stands on, or else whose line its plane rises from."""
    axis = 0 if plane.uphill[0] == 0.0 else 1
    feet = [point[axis] for point in ring if abs(plane.height(point)) < _SAME]
    in_line = [
        number
        for number, edge in enumerate(edges)
        if _uphill(edge) == plane.uphill and edge.start[1 - axis] == plane.origin[1 - axis]
    ]
    under = [
        number
        for number in in_line
        if feet and _shared((min(feet), max(feet)), (edges[number].start[axis], edges[number].end[axis])) > _SAME
    ]
    return (under or in_line)[0]


def _ordered(faces: Sequence[RoofFace]) -> tuple[RoofFace, ...]:
    """The faces in the order of their edges, then by their lowest corner; the sides name their new numbers."""
    order = sorted(range(len(faces)), key=lambda k: (faces[k].edge, min(faces[k].ring)))
    number: Mapping[int, int] = {old: new for new, old in enumerate(order)}

    def renumbered(side: RoofSide) -> RoofSide:
        return RoofSide(side.start, side.end, side.line, None if side.other is None else number[side.other])

    return tuple(
        RoofFace(one.edge, one.slope, one.origin, one.uphill, one.ring, tuple(map(renumbered, one.sides)))
        for one in (faces[k] for k in order)
    )
