"""Roof planes split into panels: convex ones, the best of all splits that line, hands, crane and truck allow.

A plane is first parted into convex parts at its inward corners; each part is then split the best way. A panel may
lie on the line and the truck either way.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import shapely

from panelgen.design.brief import Span
from panelgen.design.roofs.parts import PartPieces
from panelgen.design.roofs.planes import PlaneSide, RoofPlane
from panelgen.design.roofs.slope import Slope
from panelgen.design.roofs.unsplit import off_the_plane, pinned, unsplit
from panelgen.design.split.joints import Keep
from panelgen.design.split.services import joints_on_services
from panelgen.geometry.frames import Point2
from panelgen.geometry.rings import bends, segments
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Finding, ShopLimits
from panelgen.model.partition import Partition
from panelgen.spec.house import Shop

__all__ = ["Patch", "PlaneSplit", "parts_of", "pieces_of", "split_plane"]

_SAME = 1e-4
_DUST = 1.0  # mm2


@dataclass(frozen=True, slots=True)
class Patch:
    """The place of one panel in its plane: `sides` counter-clockwise around a convex area, `x0` its least x, and `foot`
    the run at which it begins where others of its column are below it."""

    plane: RoofPlane
    x0: float
    sides: tuple[PlaneSide, ...]
    foot: float | None = None


@dataclass(frozen=True, slots=True)
class PlaneSplit:
    """The panels of a plane, left to right and then up, how each convex part was split, and what is said of that."""

    patches: tuple[Patch, ...]
    partitions: tuple[Partition, ...]
    findings: tuple[Finding, ...]


def split_plane(slope: Slope, shop: Shop, limits: ShopLimits, keeps: Sequence[Keep] = ()) -> PlaneSplit:
    """The best of all legal splits of each part of a plane; where there is none the best that the line takes.

    Joints keep off the services in `keeps` where any legal split can; where none can is a finding.
    """
    plane = slope.plane
    patches: list[Patch] = []
    partitions: list[Partition] = []
    parts = parts_of(plane)
    findings = list(off_the_plane(plane, [part.bounds[::2] for part in parts]))
    for part in parts:
        pieces = pieces_of(slope, part, shop, limits, keeps)
        chosen = pieces.grid.best()
        if chosen is None and keeps:
            anywhere = pieces_of(slope, part, shop, limits)
            chosen = anywhere.grid.best()
            if chosen is not None:
                pieces = anywhere
                joints = [column.span[1] for column in chosen.columns[:-1]]
                up = plane.pitch.y_at(sum(pieces.runs) / 2)
                findings += joints_on_services(f"plane {plane.id}", joints, keeps, plane.frame, up)
        grid, legal = pieces.grid, chosen
        findings += pinned(pieces)
        if chosen is None:
            chosen, too_long = grid.best_effort(pieces.held, pieces.narrow)
            findings += unsplit(pieces, too_long)
        partitions.append(grid.partition("roof", plane.id, chosen, legal, pieces.least))
        for column in chosen.columns:
            for row in column.rows:
                foot = row[0] if row[0] > pieces.lines[0] else None
                patches += [_patch(plane, panel, foot) for panel in _between(part, column.span, row)]
    return PlaneSplit(tuple(patches), tuple(partitions), tuple(findings))


def parts_of(plane: RoofPlane) -> tuple[Any, ...]:
    """The convex parts of a plane, left to right, as areas over x and run (mm)."""
    area = shapely.Polygon([side.start for side in plane.sides])
    return tuple(part for span in pairwise(_forced(plane)) for part in _between(area, span))


def pieces_of(slope: Slope, part: Any, shop: Shop, limits: ShopLimits, keeps: Sequence[Keep] = ()) -> PartPieces:
    """Every panel that a convex part may be split into, its joints clear of the services in `keeps`."""
    return PartPieces(slope, _patch(slope.plane, part).sides, shop, limits, keeps)


def _forced(plane: RoofPlane) -> list[float]:
    """Where a plane must be parted: at its ends, at inward corners, where a straight side changes."""
    xs = [side.start[0] for side in plane.sides]
    places = {min(xs), max(xs)}
    for before, side in zip((plane.sides[-1], *plane.sides[:-1]), plane.sides, strict=True):
        turn = _turn(before.start, side.start, side.end)
        if turn < -_SAME or (turn < _SAME and before.line is not side.line):
            places.add(side.start[0])
    ordered = sorted(places)
    return [ordered[0], *(b for a, b in pairwise(ordered) if b - a > _SAME)]


def _turn(a: Point2, b: Point2, c: Point2) -> float:
    """The sine of the turn to the left at b."""
    size = math.dist(a, b) * math.dist(b, c)
    return ((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])) / size


def _between(area: Any, span: Span, runs: Span = (-math.inf, math.inf)) -> list[Any]:
    """The parts of an area over a stretch of x, and between two runs, low ones first."""
    low, high = max(area.bounds[1] - 1.0, runs[0]), min(area.bounds[3] + 1.0, runs[1])
    cut = shapely.intersection(area, shapely.box(span[0], low, span[1], high), grid_size=1e-6)
    parts = [part for part in shapely.get_parts(cut) if part.geom_type == "Polygon" and part.area > _DUST]
    return sorted(parts, key=lambda part: (part.bounds[1], part.bounds[0]))


def _patch(plane: RoofPlane, part: Any, foot: float | None = None) -> Patch:
    ring = bends(list(shapely.geometry.polygon.orient(part).exterior.coords[:-1]))
    start = min(range(len(ring)), key=lambda k: (round(ring[k][1], 3), ring[k][0]))
    sides = tuple(_named(plane.sides, a, b) for a, b in segments((*ring[start:], *ring[:start])))
    return Patch(plane, min(x for x, _ in ring), sides, foot)


def _named(sides: Sequence[PlaneSide], a: Point2, b: Point2) -> PlaneSide:
    """A side of a panel: what it is of its plane's boundary, or a joint."""
    middle = shapely.Point((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    for side in _along(sides, a, b):
        if shapely.LineString((side.start, side.end)).distance(middle) < _SAME:
            return PlaneSide(a, b, side.line, side.beyond)
    return PlaneSide(a, b, RoofLine.CROSS if abs(b[1] - a[1]) < _SAME else RoofLine.JOINT, None)


def _along(sides: Sequence[PlaneSide], a: Point2, b: Point2) -> Iterator[PlaneSide]:
    return (
        side
        for side in sides
        if abs(_turn(side.start, side.end, (side.end[0] + b[0] - a[0], side.end[1] + b[1] - a[1]))) < _SAME
    )
