"""Roof planes split into panels: convex ones, as few as the line takes, their joints on the rafter layout.

A panel may lie on the line either way, so one that is longer up the slope than the line is high is built
lying along it, and is then no wider than the line is high.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import shapely

from panelgen.design.brief import Span
from panelgen.design.roofs.planes import PlaneSide, RoofPlane
from panelgen.design.split.lengths import legal_joints, split
from panelgen.geometry.frames import Point2
from panelgen.geometry.rings import bends, segments
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Finding, Severity
from panelgen.spec.house import Shop

__all__ = ["Patch", "layout_of", "patches_of"]

_SAME = 1e-4
_DUST = 1.0  # mm2


@dataclass(frozen=True, slots=True)
class Patch:
    """The place of one panel in its plane: `sides` counter-clockwise around a convex area, `x0` its least x."""

    plane: RoofPlane
    x0: float
    sides: tuple[PlaneSide, ...]


def layout_of(spacing: float, span: Span) -> tuple[tuple[int, float], ...]:
    """The numbers and middles (plane x, mm) of the rafters on layout in a stretch, counted from the edge's start."""
    first, last = math.ceil(span[0] / spacing), math.floor(span[1] / spacing)
    return tuple((number, number * spacing) for number in range(first, last + 1))


def patches_of(plane: RoofPlane, spacing: float, shop: Shop) -> tuple[tuple[Patch, ...], tuple[Finding, ...]]:
    """The panels of a plane, left to right, and where it could not be split as the line asks."""
    area = shapely.Polygon([side.start for side in plane.sides])
    cuts = _forced(plane)
    patches: list[Patch] = []
    findings: list[Finding] = []
    for span in pairwise(cuts):
        for piece in _between(area, span):
            spans = _spans(plane, piece, spacing, shop)
            if spans is None:
                findings.append(_no_joint(plane, piece, shop))
                spans = ((piece.bounds[0], piece.bounds[2]),)
            patches += [_patch(plane, part) for one in spans for part in _between(piece, one)]
    return tuple(patches), tuple(findings)


def _forced(plane: RoofPlane) -> list[float]:
    """Where a plane must be parted: at its ends, at inward corners, where a straight side changes, at pins."""
    xs = [side.start[0] for side in plane.sides]
    places = {min(xs), max(xs)}
    for before, side in zip((plane.sides[-1], *plane.sides[:-1]), plane.sides, strict=True):
        turn = _turn(before.start, side.start, side.end)
        if turn < -_SAME or (turn < _SAME and before.line is not side.line):
            places.add(side.start[0])
    places.update(one.at for one in plane.roof.joints if one.edge == plane.edge and min(xs) < one.at < max(xs))
    ordered = sorted(places)
    return [ordered[0], *(b for a, b in pairwise(ordered) if b - a > _SAME)]


def _turn(a: Point2, b: Point2, c: Point2) -> float:
    """The sine of the turn to the left at b."""
    size = math.dist(a, b) * math.dist(b, c)
    return ((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])) / size


def _between(area: Any, span: Span) -> list[Any]:
    """The parts of an area over a stretch of x, low ones first."""
    low, high = area.bounds[1] - 1.0, area.bounds[3] + 1.0
    cut = shapely.intersection(area, shapely.box(span[0], low, span[1], high), grid_size=1e-6)
    parts = [part for part in shapely.get_parts(cut) if part.geom_type == "Polygon" and part.area > _DUST]
    return sorted(parts, key=lambda part: (part.bounds[1], part.bounds[0]))


def _spans(plane: RoofPlane, piece: Any, spacing: float, shop: Shop) -> tuple[Span, ...] | None:
    """The panels of a convex piece as stretches of x; None where no legal split keeps them on the line.

    Joints keep clear of openings, of what pins ask, and of the corners of the walls below.
    """
    x0, low, x1, high = piece.bounds
    pitch = plane.pitch
    up = (high - low) * pitch.secant + pitch.depth * pitch.tangent
    widest = shop.line_length if up <= shop.line_height else shop.line_height
    clear = [
        (opening.at[0] - opening.size[0] / 2, opening.at[0] + opening.size[0] / 2)
        for opening in plane.roof.openings
        if opening.edge == plane.edge
    ]
    barred = [(one.start, one.end) for one in plane.roof.no_joints if one.edge == plane.edge]
    clear += [(x, x) for x, _ in plane.footprint]
    layout = [x for _, x in layout_of(spacing, (x0, x1))]
    joints = legal_joints(layout, (x0, x1), clear, shop.joint_clearance, shop.shortest_panel)
    joints = tuple(x for x in joints if not any(low < x < high for low, high in barred))
    return split((x0, x1), joints, widest, shop.shortest_panel)


def _patch(plane: RoofPlane, part: Any) -> Patch:
    ring = bends(list(shapely.geometry.polygon.orient(part).exterior.coords[:-1]))
    start = min(range(len(ring)), key=lambda k: (round(ring[k][1], 3), ring[k][0]))
    sides = tuple(_named(plane.sides, a, b) for a, b in segments((*ring[start:], *ring[:start])))
    return Patch(plane, min(x for x, _ in ring), sides)


def _named(sides: Sequence[PlaneSide], a: Point2, b: Point2) -> PlaneSide:
    """A side of a panel: what it is of its plane's boundary, or a joint."""
    middle = shapely.Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    for side in _along(sides, a, b):
        if shapely.LineString((side.start, side.end)).distance(middle) < _SAME:
            return PlaneSide(a, b, side.line, side.beyond)
    return PlaneSide(a, b, RoofLine.JOINT, None)


def _along(sides: Sequence[PlaneSide], a: Point2, b: Point2) -> Iterator[PlaneSide]:
    return (
        side
        for side in sides
        if abs(_turn(side.start, side.end, (side.end[0] + b[0] - a[0], side.end[1] + b[1] - a[1]))) < _SAME
    )


def _no_joint(plane: RoofPlane, piece: Any, shop: Shop) -> Finding:
    x0, low, x1, _ = piece.bounds
    return Finding(
        "panel.no-joint",
        Severity.STOP,
        f"plane {plane.id} cannot be split: no set of joints on the rafter layout, clear of openings, keeps every "
        "panel within the line; move an opening or allow a smaller joint clearance",
        parts=(plane.id,),
        house_point=plane.frame.point(*plane.pitch.point((x0, low))),
        value=x1 - x0,
        limit=shop.line_height,
        source="spec shop.line_height, shop.joint_clearance",
    )
