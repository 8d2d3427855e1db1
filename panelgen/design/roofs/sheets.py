"""Sheathing of roof panels: rows of sheets across the rafters, their ends on rafters and staggered."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, inf
from typing import Any

import shapely

from panelgen.catalog import SheetProduct
from panelgen.design.brief import Span
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.outline import indoors, within
from panelgen.design.roofs.sticks import Sticks
from panelgen.design.sheathing.joints import LEAST_STRIP, Backing, JointLine, choose_joints
from panelgen.design.sheathing.piercing import pierce
from panelgen.geometry.frames import Frame
from panelgen.geometry.rings import bends
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Finding, Layer, LayerKind, Severity, Sheet, Sleeve, Why

__all__ = ["place_sheets"]

_EPS = 1e-6
_LEAST_PIECE = 25.0
"""Pieces narrower than this (mm) take no nail and are left out; common practice, no source."""

_PRACTICE = "common practice, no source"
_WHY = Why("sheet.roof", "sheet across the rafters, ends on rafters and staggered from row to row", _PRACTICE)


def place_sheets(brief: RoofBrief, sticks: Sticks, sleeves: Sequence[Sleeve] = ()) -> tuple[Sheet, ...]:
    """The sheets of both faces: outer ones first, low rows first, left to right.

    A sheet has square edges, so at plumb sides it stops where it first meets them through its thickness.
    Inner sheets end where they come down on the plate. Each sleeve gets its hole.
    """
    centres = sorted((low + high) / 2 for (low, high), _ in sticks.standing)
    placed: list[Sheet] = []
    for face in brief.layers:
        if face.kind is LayerKind.SHEATHING:
            cut = list(_one_face(brief, sticks, face, centres))
            sticks.findings += pierce(brief.label, face, cut, sleeves)
            placed += cut
    return tuple(placed)


def _one_face(brief: RoofBrief, sticks: Sticks, face: Layer, centres: Sequence[float]) -> Iterator[Sheet]:
    outer = face.z0 > 0.0
    product = brief.catalog.sheet(face.product)
    spec = brief.assembly.outer_sheathing if outer else brief.assembly.inner_sheathing
    half = 0.0 if spec is None else spec.gap / 2
    area, start = _area(brief, face, half)
    avoid: list[float] = []
    for number, row in _rows(brief, face, area, start, product):
        strip = shapely.intersection(area, shapely.box(area.bounds[0], row[0], area.bounds[2], row[1]), grid_size=_EPS)
        if strip.area < _EPS:
            continue
        if strip.geom_type == "GeometryCollection":  # where a side of the area is on a joint of rows
            strip = shapely.union_all([part for part in shapely.get_parts(strip) if part.geom_type == "Polygon"])
        span = (strip.bounds[0], strip.bounds[2])
        lines = [JointLine(x, Backing.WHOLE) for x in centres if span[0] + _EPS < x < span[1] - _EPS]
        widest = max(length for _, length in product.sizes)
        joints = choose_joints(lines, span, widest, (0.0, half, 0.0), avoid, brief.assembly.framing.spacing / 2)
        avoid = [joint.x for joint in joints]
        bounds = [span[0], *avoid, span[1]]
        for k, (x0, x1) in enumerate(pairwise(bounds)):
            x0, x1 = x0 + (half if k else 0.0), x1 - (half if k < len(bounds) - 2 else 0.0)
            low, high = row[0] + (half if row[0] > start + _EPS else 0.0), row[1] - half
            cell = shapely.intersection(strip, shapely.box(x0, low, x1, high), grid_size=_EPS)
            name = brief.id(f"{'outer' if outer else 'inner'}-sheet-{number + 1}", x0)
            yield from _pieces(brief, sticks, face, product, name, cell)


def _area(brief: RoofBrief, face: Layer, half: float) -> tuple[Any, float]:
    """What a layer covers of the panel, and the y where its rows start: one for all the plane, but for cross joints."""
    pitch = brief.pitch
    area = within(brief, face.z0, face.z1)
    x0, y0, x1, y1 = area.bounds
    for side in brief.sides:
        if side.line is RoofLine.JOINT:
            x0, x1 = (x0 + half, x1) if brief.is_left(side) else (x0, x1 - half)
        if side.line is RoofLine.CROSS:
            y0, y1 = (y0 + half, y1) if side.end[0] > side.start[0] else (y0, y1 - half)
    start = pitch.y_at(min(side.start[1] for side in brief.plane.sides), max(face.z0, face.z1))
    if face.z0 < 0.0:
        start = _lowest_inner(brief, face)
        x0, x1, y1 = _between_gables(brief, face, (x0, x1, y1))
        y0 = max(y0, start)
        area &= indoors(brief, face.z0) & indoors(brief, face.z1)
    start = start if brief.foot is None else y0
    area &= shapely.box(x0, y0, x1, y1)
    for hole in brief.holes:
        low, high = hole.clear(pitch, face.z0, face.z1)
        area -= shapely.box(hole.x[0], low, hole.x[1], high)
    return area, start


def _between_gables(brief: RoofBrief, face: Layer, limits: tuple[float, float, float]) -> tuple[float, float, float]:
    """Least and greatest x and greatest y of inner sheets, between gable walls that rise to the rafters."""
    x0, x1, y1 = limits
    for side in brief.sides:
        if side.line is RoofLine.RAKE and brief.is_left(side):
            x0 = max(x0, brief.gable_end(side) + brief.plane.inner)
        elif side.line is RoofLine.RAKE:
            x1 = min(x1, brief.gable_end(side) - brief.plane.inner)
    return x0, x1, min(y1, _highest(brief, face))


def _highest(brief: RoofBrief, face: Layer) -> float:
    """The y at which a wall under a level high edge stops inner sheets; endless elsewhere."""
    tops = [side.start[1] for side in brief.plane.sides if side.line is RoofLine.TOP]
    if face.z0 > 0.0 or not tops:
        return inf
    wall = min((run for _, run in brief.footprint), key=lambda run: abs(run - max(tops)))
    return brief.pitch.y_at(wall - brief.plane.inner, face.z0)


def _lowest_inner(brief: RoofBrief, face: Layer) -> float:
    """The y of the lower edge of the inner sheets: where their corner meets the plate, or the wall's inner face."""
    pitch = brief.pitch
    on_plate = (brief.plate_height - face.z0 * pitch.cosine) / pitch.sine - pitch.base
    return min(on_plate, pitch.y_at(brief.plane.inner, face.z1))


def _rows(brief: RoofBrief, face: Layer, area: Any, start: float, product: SheetProduct) -> Iterator[tuple[int, Span]]:
    """The rows that the area reaches into and their numbers, the same in all panels of the plane.

    Each is as wide as a sheet from `start` up; the last joint comes down where the top row would be a narrow strip, and
    in a panel that ends below the others where its own would be too narrow to be cut.
    """
    _, low, _, high = area.bounds
    width = max(width for width, _ in product.sizes)
    top = min(brief.pitch.y_at(max(side.start[1] for side in brief.plane.sides), face.z0), _highest(brief, face))
    if any(side.line is RoofLine.CROSS and side.end[0] < side.start[0] for side in brief.sides):
        top = high
    heights = [start + n * width for n in range(ceil((top - start - _EPS) / width))]
    if len(heights) > 1 and top - heights[-1] < LEAST_STRIP:
        heights[-1] = top - LEAST_STRIP
    below = [n for n, height in enumerate(heights) if height < high - _EPS]
    if len(below) > 1 and high - heights[below[-1]] < _LEAST_PIECE:
        heights[below[-1]] = high - LEAST_STRIP
    for number, row in enumerate(pairwise([*heights, max(top, high) + 1.0])):
        if row[0] < high - _EPS and row[1] > low + _EPS:
            yield number, row


def _pieces(
    brief: RoofBrief, sticks: Sticks, face: Layer, product: SheetProduct, name: str, cell: Any
) -> Iterator[Sheet]:
    parts = [part for part in shapely.get_parts(cell) if part.geom_type == "Polygon" and part.area > _EPS]
    parts.sort(key=lambda part: (part.bounds[1], part.bounds[0]))
    for number, part in enumerate(parts):
        x0, y0, x1, y1 = part.bounds
        own = f"{name}{chr(ord('a') + number - 1) if number else ''}"
        if min(x1 - x0, y1 - y0) < _LEAST_PIECE or part.buffer(-_LEAST_PIECE / 2, join_style="mitre").is_empty:
            sticks.findings.append(_sliver(brief, face, own, part))
            continue
        turned = shapely.geometry.polygon.orient(part)
        ring, *cutouts = (
            tuple((x - x0, y - y0) for x, y in bends(list(ring.coords[:-1])))
            for ring in (turned.exterior, *turned.interiors)
        )
        first = min(range(len(ring)), key=lambda k: (ring[k][1], ring[k][0]))
        fitting = [size[::-1] for size in product.sizes if size[1] >= x1 - x0 - 1e-3 and size[0] >= y1 - y0 - 1e-3]
        yield Sheet(
            own,
            face.name,
            product.name,
            min(fitting, key=lambda size: (size[0] * size[1], size)),
            product.thickness,
            product.density,
            (*ring[first:], *ring[:first]),
            Frame((x0, y0, face.z0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
            _WHY,
            tuple(sorted(cutouts)),
        )


def _sliver(brief: RoofBrief, face: Layer, id: str, part: Any) -> Finding:
    x, y = part.representative_point().coords[0]
    return Finding(
        "sheet.sliver",
        Severity.NOTE,
        f"a piece of the {face.name} would be too narrow to nail and is left out",
        brief.label,
        (id,),
        (x, y, face.z0),
        value=part.area / max(part.bounds[2] - part.bounds[0], part.bounds[3] - part.bounds[1]),
        limit=_LEAST_PIECE,
        source=_PRACTICE,
    )
