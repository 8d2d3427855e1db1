"""What members and openings leave empty of a panel's framing, as regions of constant depth.

The profile is cut into upright strips at every corner of every member and opening. In a strip each of
them is a trapezoid, so what is free between them is trapezoids too; those that open into each other
in neighbouring strips make up one region. Areas are exact sums: no polygon is clipped.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import dist

import shapely

from panelgen.design.bays.footprints import Edges, Footprint, box_footprint, footprint_of
from panelgen.design.brief import PanelBrief
from panelgen.geometry.frames import Point2
from panelgen.model import LayerKind, Member

__all__ = ["Cell", "Void", "voids"]

_EPS = 1e-6

Cell = tuple[float, float, float, float, float, float]
"""A trapezoid between two plumb lines: x0, x1, its lower edge's y at each, its upper edge's y at each, mm."""

_Free = list[list[Cell]]
"""The free cells of each strip, bottom to top."""


@dataclass(frozen=True, slots=True)
class Void:
    """A region of the framing layer, the union of `cells`, that is empty from z0 to z1. Lengths mm, `area` mm2.

    `bounds` is the least x and y and the greatest x and y.
    """

    cells: tuple[Cell, ...]
    z0: float
    z1: float
    bounds: tuple[float, float, float, float]
    area: float

    @property
    def volume(self) -> float:
        """In m3."""
        return self.area * (self.z1 - self.z0) * 1e-9

    @property
    def is_monotone(self) -> bool:
        """True where no plumb line meets the region in two stretches."""
        return all(b[0] >= a[1] - _EPS for a, b in pairwise(self.cells))

    def rings(self) -> list[tuple[Point2, ...]]:
        """The outline, counter-clockwise, then the holes; without repeated or needless points."""
        if self.is_monotone:
            below = [point for x0, x1, a, b, _, _ in self.cells for point in ((x0, a), (x1, b))]
            above = [point for x0, x1, _, _, c, d in reversed(self.cells) for point in ((x1, d), (x0, c))]
            return [_corners([*below, *above])]
        corners = [((x0, a), (x1, b), (x1, d), (x0, c)) for x0, x1, a, b, c, d in self.cells]
        region = shapely.geometry.polygon.orient(shapely.union_all(shapely.polygons(corners)))
        return [_corners(ring.coords[:-1]) for ring in (region.exterior, *region.interiors)]


def voids(brief: PanelBrief, members: Sequence[Member], narrow: float) -> list[Void]:
    """Every void of the framing layer, left to right; together they are exactly what is not wood or opening.

    The depth falls into slabs where members take part of it only; voids that are the same in
    neighbouring slabs are one. A passage lower than `narrow` (mm) does not join two voids. Members
    shipped loose are not in the panel yet.
    """
    layer = next(layer for layer in brief.layers if layer.kind is LayerKind.FRAMING)
    solids = [footprint_of(member) for member in members if member.layer == layer.name and not member.loose]
    solids += [box_footprint(hole.x0, hole.x1, hole.y0, hole.y1, layer.z0, layer.z1) for hole in brief.openings]
    levels = _distinct([layer.z0, layer.z1, *(z for solid in solids for z in (solid.z0, solid.z1))])
    begun: dict[tuple[Cell, ...], float] = {}
    done: list[Void] = []
    levels = [z for z in levels if layer.z0 <= z <= layer.z1]
    for z0, free in zip(levels, _free_by_slab(brief, solids, levels), strict=False):
        now = _regions(free, narrow)
        done += [_void(cells, since, z0) for cells, since in begun.items() if cells not in now]
        begun = {cells: begun.get(cells, z0) for cells in now}
    done += [_void(cells, since, layer.z1) for cells, since in begun.items()]
    return sorted(done, key=lambda void: (void.bounds, void.z0))


def _void(cells: tuple[Cell, ...], z0: float, z1: float) -> Void:
    bounds = (
        cells[0][0],
        min(low for cell in cells for low in cell[2:4]),
        max(cell[1] for cell in cells),
        max(high for cell in cells for high in cell[4:6]),
    )
    return Void(cells, z0, z1, bounds, sum((x1 - x0) * (c - a + d - b) / 2 for x0, x1, a, b, c, d in cells))


def _distinct(values: Iterable[float]) -> list[float]:
    """The values in order; of those nearer than rounding to each other, the first."""
    ordered = sorted(values)
    return [ordered[0], *(b for a, b in pairwise(ordered) if b - a > _EPS)]


def _free_by_slab(brief: PanelBrief, solids: Sequence[Footprint], levels: Sequence[float]) -> Iterator[_Free]:
    """The free cells of each slab of depth between neighbouring `levels`; the strips are the same in all of them."""
    places = _distinct([*(x for solid in solids for x, _ in solid.ring), *(x for x, _ in brief.top)])
    tops = [brief.top_at(x) for x in places]
    through = [solid for solid in solids if solid.z0 < levels[0] + _EPS and solid.z1 > levels[-1] - _EPS]
    shallow = [solid for solid in solids if solid.z0 > levels[0] + _EPS or solid.z1 < levels[-1] - _EPS]
    filled = _strips(places, through)
    always = [_free_cells(places, tops, n, edges) for n, edges in enumerate(filled)]
    for z0, z1 in pairwise(levels):
        free = list(always)
        here = [solid for solid in shallow if solid.z0 < z0 + _EPS and solid.z1 > z1 - _EPS]
        for n, edges in enumerate(_strips(places, here)):
            if edges:
                free[n] = _free_cells(places, tops, n, [*filled[n], *edges])
        yield free


def _strips(places: Sequence[float], solids: Iterable[Footprint]) -> list[list[Edges]]:
    """The lower and upper edges of the solids in each strip between neighbouring `places`."""
    strips: list[list[Edges]] = [[] for _ in places[1:]]
    for solid in solids:
        xs = [x for x, _ in solid.ring]
        inside = range(bisect_left(places, min(xs) - _EPS), bisect_left(places, max(xs) - _EPS))
        level = solid.edges(min(xs), max(xs)) if solid.is_box else None
        for n in inside:
            strips[n].append(level or solid.edges(places[n], places[n + 1]))
    return strips


def _free_cells(places: Sequence[float], tops: Sequence[float], n: int, filled: Sequence[Edges]) -> list[Cell]:
    """What the solids leave free of strip n, from the floor to the top."""
    x0, x1 = places[n], places[n + 1]
    cells: list[Cell] = []
    low0 = low1 = 0.0
    for a, b, c, d in (*sorted(filled), (tops[n], tops[n + 1], tops[n], tops[n + 1])):
        if a - low0 > _EPS or b - low1 > _EPS:
            cells.append((x0, x1, low0, low1, max(a, low0), max(b, low1)))
        low0, low1 = max(c, low0), max(d, low1)
    return cells


def _regions(free: _Free, narrow: float) -> dict[tuple[Cell, ...], None]:
    """Cells gathered into regions: those of neighbouring strips that open into each other by `narrow` or more."""
    cells = [cell for strip in free for cell in strip]
    leader = list(range(len(cells)))

    def first_of(n: int) -> int:
        while leader[n] != n:
            leader[n] = leader[leader[n]]
            n = leader[n]
        return n

    start = 0
    for left, right in pairwise(free):
        following = start + len(left)
        for i, (_, _, _, below, _, above) in enumerate(left, start):
            for j, (_, _, low, _, high, _) in enumerate(right, following):
                if (
                    above - low >= narrow
                    and high - below >= narrow
                    and above - below >= narrow
                    and high - low >= narrow
                ):
                    one, other = first_of(i), first_of(j)
                    leader[max(one, other)] = min(one, other)
        start = following
    regions: dict[int, list[Cell]] = {}
    for n, cell in enumerate(cells):
        regions.setdefault(first_of(n), []).append(cell)
    return {tuple(region): None for region in regions.values()}


def _corners(points: Sequence[Point2]) -> tuple[Point2, ...]:
    """A ring without points that repeat or lie on the line between their neighbours."""
    apart = [p for p, q in zip(points, (*points[1:], points[0]), strict=True) if dist(p, q) > _EPS]
    triples = zip((apart[-1], *apart), apart, (*apart[1:], apart[0]), strict=False)
    return tuple(
        b
        for a, b, c in triples
        if abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) > _EPS * dist(a, c)
    )
