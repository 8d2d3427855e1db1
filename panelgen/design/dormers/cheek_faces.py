"""What covers and fills a cheek: its sheets, cut to the triangle from whole stock, and its insulated bays."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import shapely

from panelgen.design.brief import Span
from panelgen.design.dormers.cheeks import Cheek
from panelgen.design.intervals import split_at
from panelgen.design.roofs.sticks import Sticks
from panelgen.design.sheathing.cutting import LEAST_PIECE
from panelgen.design.sheathing.faces import gap_of
from panelgen.design.sheathing.joints import rows
from panelgen.geometry.frames import Frame
from panelgen.geometry.rings import bends
from panelgen.model import Bay, Layer, LayerKind, Member, Sheet, Why

__all__ = ["cheek_bays", "cheek_sheets"]

_SLIVER = 6.0
"""Voids narrower than this (mm) take no insulation; common practice, no source."""

_EPS = 1e-6
_FAR = 1e5
_M3_PER_MM3 = 1e-9
_WHY = Why("cheek.sheet", "cut to the slopes from stock that holds it, joints on studs", "common practice, no source")


def cheek_sheets(cheek: Cheek, sticks: Sticks) -> Iterator[Sheet]:
    """The sheets of both faces, outer ones first: one that lies along the cheek, or upright ones that meet on studs."""
    brief = cheek.brief
    for face in brief.layers:
        if face.kind is LayerKind.SHEATHING:
            span = brief.outer_span if face.z0 > 0.0 else cheek.inner
            yield from _one_face(cheek, sticks, face, _lapped(cheek, span) if face.z0 > 0.0 else _lined(cheek, span))


def cheek_bays(cheek: Cheek, members: Sequence[Member]) -> Iterator[Bay]:
    """The voids between the sticks, left to right; none where the assembly asks for no insulation."""
    brief = cheek.brief
    name = brief.assembly.framing.insulation
    if name is None:
        return
    product = brief.catalog.insulation(name)
    why = Why("bay.void", f"void between members, filled with {name}", product.cited)
    wood = shapely.union_all([shapely.MultiPoint(member.corners()[:, :2]).convex_hull for member in members])
    room = _between(cheek, (0.0, brief.length)).difference(wood)
    for part in sorted(shapely.get_parts(room), key=lambda part: part.bounds[:2]):
        if part.buffer(-_SLIVER / 2, join_style="mitre").is_empty:
            continue
        ring = bends(list(shapely.geometry.polygon.orient(part).exterior.coords[:-1]))
        volume = part.area * brief.framing_depth * _M3_PER_MM3
        place = f"{brief.wall.id}/bay@{round(brief.wall_start + part.bounds[0])}-{round(part.bounds[1])}"
        yield Bay(place, ring, (), 0.0, brief.framing_depth, volume, volume, name, product.density, why)


def _lapped(cheek: Cheek, span: Span) -> Any:
    """What the outer sheets cover: beside the front wall no higher than the rafters that pass over its end."""
    x0, x1 = (span[0], cheek.front) if cheek.ahead > 0.0 else (cheek.front, span[1])
    return _between(cheek, span).difference(shapely.box(x0, cheek.eave, x1, _FAR))


def _lined(cheek: Cheek, span: Span) -> Any:
    """What the inner sheets cover: over an airtight roof up to the top of the back wall, and down in the opening."""
    if not cheek.lining:
        return _between(cheek, span)
    back = (span[1] if cheek.ahead > 0.0 else span[0]) - cheek.ahead * cheek.brief.framing_depth
    opening, behind = ((span[0], back), (back, span[1])) if cheek.ahead > 0.0 else ((back, span[1]), (span[0], back))
    above = shapely.box(behind[0], cheek.top.at(back), behind[1], _FAR)
    return _between(cheek, span).difference(above) | _between(cheek, opening, cheek.lining)


def _between(cheek: Cheek, span: Span, lining: float = 0.0) -> Any:
    """What lies between the lines of a cheek over a stretch of x, short of its tip, and `lining` (mm) below."""
    x0, x1 = span
    ends = (x0, min(x1, cheek.tip)) if cheek.ahead > 0.0 else (max(x0, cheek.tip), x1)
    low = [(x, cheek.base.at(x) - lining) for x in ends]
    high = [(x, cheek.top.at(x)) for x in reversed(ends)]
    return shapely.Polygon([*low, *high]).buffer(0)


def _one_face(cheek: Cheek, sticks: Sticks, face: Layer, area: Any) -> Iterator[Sheet]:
    brief = cheek.brief
    product = brief.catalog.sheet(face.product)
    half = gap_of(brief, face) / 2
    side = "outer" if face.z0 > 0.0 else "inner"
    x0, y0, x1, y1 = area.bounds
    lying = [(length, width) for width, length in product.sizes if length >= x1 - x0 and width >= y1 - y0]
    if lying:
        heights, places, sizes = [(y0, y1)], [(x0, x1)], lying
    else:
        heights = [(y0 + row.y0, y0 + row.y1) for row in rows(y1 - y0, product.sizes)]
        centres = sorted(sum(span) / 2 for span, _ in sticks.standing)
        widest = max(width for width, length in product.sizes if length >= heights[0][1] - heights[0][0] - _EPS)
        places, sizes = split_at((x0, x1), centres, widest), list(product.sizes)
    for number, (low, high) in enumerate(heights):
        for left, right in places:
            cell = shapely.box(
                left + (half if left > x0 else 0.0),
                low + (half if number else 0.0),
                right - (half if right < x1 else 0.0),
                high - (half if number < len(heights) - 1 else 0.0),
            )
            part = shapely.intersection(area, cell, grid_size=_EPS)
            name = f"{brief.wall.id}/{side}-sheet-{number + 1}@{round(brief.wall_start + left)}"
            if not part.is_empty and not part.buffer(-LEAST_PIECE / 2, join_style="mitre").is_empty:
                yield _sheet(name, face, product.density, sizes, part)


def _sheet(name: str, face: Layer, density: float, sizes: Sequence[tuple[float, float]], part: Any) -> Sheet:
    x0, y0, x1, y1 = part.bounds
    ring = [(x - x0, y - y0) for x, y in bends(list(shapely.geometry.polygon.orient(part).exterior.coords[:-1]))]
    first = min(range(len(ring)), key=lambda k: (ring[k][1], ring[k][0]))
    fitting = [size for size in sizes if size[0] >= x1 - x0 - _EPS and size[1] >= y1 - y0 - _EPS]
    return Sheet(
        name,
        face.name,
        face.product,
        min(fitting, key=lambda size: (size[0] * size[1], size)),
        face.thickness,
        density,
        (*ring[first:], *ring[:first]),
        Frame((x0, y0, face.z0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
        _WHY,
    )
