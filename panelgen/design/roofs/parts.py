"""Every panel that a convex part of a roof plane may be split into: where, within which limits, at what cost.

The best split has the fewest panels, then the least waste of sheathing, then the most even ones. Joints up the slope
fall on the rafter layout, clear of openings with their trimmers and of the corners of the walls below, or where the
spec asks for them; joints across the slope lie over purlins that carry the rafters.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from panelgen.design.brief import Span
from panelgen.design.roofs.brief import opening_plies
from panelgen.design.roofs.footprint import gable_face
from panelgen.design.roofs.masses import PartMasses
from panelgen.design.roofs.planes import PlaneSide
from panelgen.design.roofs.slabs import Slab
from panelgen.design.roofs.slope import Slope
from panelgen.design.split.best import Cost, pieces
from panelgen.design.split.covering import cover
from panelgen.design.split.grid import Grid
from panelgen.design.split.joints import Keep
from panelgen.design.split.lying import SIZE, Lying, least_panels, lying_limits, narrow_enough
from panelgen.design.split.stops import Stops, legal_joints, stops_between
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import LayerKind, ShopLimits
from panelgen.spec.house import Shop

__all__ = ["PartPieces", "layout_of"]

_EPS = 1e-6
_CM2 = 100.0
_TENTHS = 10  # of a kg


def layout_of(spacing: float, span: Span) -> tuple[tuple[int, float], ...]:
    """The numbers and middles (plane x, mm) of the rafters on layout in a stretch, counted from the edge's start."""
    first, last = math.ceil(span[0] / spacing), math.floor(span[1] / spacing)
    return tuple((number, number * spacing) for number in range(first, last + 1))


class PartPieces:
    """The panels of one convex part, by its `sides` in the plane, as a `grid` over x and runs (mm).

    Joints up the slope keep off the services in `keeps`.
    """

    def __init__(
        self,
        slope: Slope,
        sides: Sequence[PlaneSide],
        shop: Shop,
        limits: ShopLimits,
        keeps: Sequence[Keep] = (),
    ) -> None:
        self.keeps = tuple(keeps)
        self.slope, self.sides, self.shop, self.limits = slope, tuple(sides), shop, limits
        self.slab = Slab.of([side.start for side in sides])
        along, up = self.slab.low.along, self.slab.left.along
        self.span: Span = (float(along[0]), float(along[-1]))
        self.runs: Span = (float(up[0]), float(up[-1]))
        self.stops = self._stops()
        self.lines = (self.runs[0], *self._purlins(), self.runs[1])
        self.gables = _gables(slope, sides, self.span)
        masses = PartMasses(slope, self.slab, sides, self.gables, self.stops.at, self.lines)
        self.mass: Floats = masses.mass
        self.centre = lambda: masses.centre
        self._outer, self._inner = masses.areas
        self.width, self.height = self._sizes()
        found = lying_limits(limits, Lying(self.width, self.height, self.mass, self.centre))
        self._faces = tuple(self._face(outer) for outer in (True, False))
        self.grid = Grid(self.stops.at, self.lines, self._possible(), found, self.cost)

    @property
    def held(self) -> tuple[str, ...]:
        """The limits that are kept even where others cannot be."""
        return (SIZE,)

    @property
    def narrow(self) -> Bools:
        """(n, n) True where a panel would go on the line if only it were not too long up the slope."""
        return narrow_enough(self.limits, self.width[0, 0], self.height[0, -1])

    @property
    def least(self) -> int:
        """What no split has fewer panels than."""
        area = max(float(self._outer[0, -1, 0, -1]), float(self._inner[0, -1, 0, -1]))
        return least_panels(self.limits, area, float(self.mass[0, -1, 0, -1]))

    def cost(self, p: int, q: int, i: int, j: int) -> Cost:
        """Waste of sheathing (cm2), its sheets meeting on layout, and squared mass (in 0.1 kg) of a panel."""
        waste = 0.0
        for face, areas in zip(self._faces, (self._outer, self._inner), strict=True):
            waste += face.stock(self.slab, (self.stops.at[i], self.stops.at[j]), (self.lines[p], self.lines[q]))
            waste -= float(areas[p, q, i, j])
        return round(max(waste, 0.0) / _CM2), round(float(self.mass[p, q, i, j]) * _TENTHS) ** 2

    def _stops(self) -> Stops:
        """The ends of the part and where panels may meet."""
        plane, shop = self.slope.plane, self.shop
        room = shop.joint_clearance
        clear = [(x - room, x + room) for x, _ in plane.footprint]
        clear += [(one.start, one.end) for one in plane.roof.no_joints if one.edge == plane.edge]
        clear += [stretch for _, stretch in self.beside]
        clear += [(keep.start, keep.stop) for keep in self.keeps]
        layout = [x for _, x in layout_of(self.slope.spacing, self.span)]
        free = legal_joints(layout, self.span, clear, shop.shortest_panel)
        return stops_between(self.span, free, (one.at for one in plane.roof.joints if one.edge == plane.edge))

    @property
    def beside(self) -> tuple[tuple[str, Span], ...]:
        """The openings and the stretches around them that joints keep off: room for trimmers and the next rafter."""
        found = []
        for opening in self.slope.plane.roof.openings:
            if opening.edge == self.slope.plane.edge:
                (x, _), (width, _) = opening.at, opening.size
                framed = (opening_plies(self.slope.rules, opening) + 1) * self.slope.rafter.thickness
                half = width / 2 + max(self.shop.joint_clearance, framed)
                found.append((f"opening {opening.id}", (x - half, x + half)))
        return tuple(found)

    def _purlins(self) -> list[float]:
        """The runs of the purlins over which rafters may meet, upward."""
        plane, least = self.slope.plane, self.shop.shortest_panel * self.slope.plane.pitch.cosine
        runs = (one.at for one in plane.roof.purlins if one.edge == plane.edge)
        return sorted(run for run in runs if self.runs[0] + least <= run <= self.runs[1] - least)

    def _reach(self) -> tuple[Floats, Floats]:
        """(n, n) the least and the greatest run of each column."""
        at = np.array(self.stops.at)
        start, end = np.broadcast_arrays(at[:, None], at[None])
        return self.slab.low.least(start, end), self.slab.high.most(start, end)

    def _sizes(self) -> tuple[Floats, Floats]:
        """(m, m, n, n) length along the edge and up the slope of the framing, which ends in plumb planes."""
        pitch, runs, at = self.slope.plane.pitch, np.array(self.lines), np.array(self.stops.at)
        low, high = self._reach()
        first, last = np.maximum(low, runs[:, None, None, None]), np.minimum(high, runs[None, :, None, None])
        height = (last - first) * pitch.secant + pitch.depth * pitch.tangent
        return np.broadcast_to(at[None] - at[:, None], height.shape), height

    def _possible(self) -> Bools:
        """(m, m, n, n) True for each panel that may be, whatever it measures."""
        shortest = self.shop.shortest_panel
        along = pieces(self.lines, math.inf, shortest * self.slope.plane.pitch.cosine)
        along[0, -1] = True
        parted = np.array([self._may_meet(run) for run in self.lines])
        parted[[0, -1]] = True
        result: Bools = along[:, :, None, None] & self.stops.allowed(shortest) & parted[:, None] & parted[None]
        return result

    def _may_meet(self, run: float) -> Bools:
        """(n, n) True where the rafters of a column may meet over a purlin: within it, and off its openings."""
        plane, at = self.slope.plane, np.array(self.stops.at)
        low, high = self._reach()
        least = self.shop.shortest_panel * plane.pitch.cosine
        may = (low + least <= run) & (run <= high - least)
        for opening in plane.roof.openings:
            (x, up), (width, length) = opening.at, opening.size
            if opening.edge == plane.edge and abs(up * plane.pitch.cosine - run) < (
                (length / 2 + self.shop.joint_clearance) * plane.pitch.cosine
            ):
                may &= (at[None] <= x - width / 2) | (at[:, None] >= x + width / 2)
        return may

    def _face(self, outer: bool) -> _Face:
        """The sheets of one face and where their rows begin."""
        slope = self.slope
        layers = [one for one in slope.layers if one.kind is LayerKind.SHEATHING and (one.z0 > 0.0) is outer]
        sizes = [size for layer in layers for size in slope.catalog.sheet(layer.product).sizes]
        start = min(side.start[1] for side in slope.plane.sides) if outer else slope.plane.inner
        return _Face(slope, sizes, start, self.span if outer else self.gables)


class _Face:
    """Rows of sheets across the rafters from the run `start` up, between two places along the edge."""

    def __init__(self, slope: Slope, sizes: Sequence[tuple[float, float]], start: float, within: Span) -> None:
        self._lengths = tuple(sorted({length for _, length in sizes}))
        self._wide = max((wide for wide, _ in sizes), default=0.0)
        self._start, self._within, self._bay = start, within, slope.spacing
        self._row = self._wide * slope.plane.pitch.cosine
        self._known: dict[Span, list[tuple[float, float]]] = {}

    def stock(self, slab: Slab, span: Span, runs: Span) -> float:
        """The stock (mm2) that covers what lies of a part in a stretch of x between two runs."""
        if not self._lengths:
            return 0.0
        total = 0.0
        for left, right in self._rows(slab, runs):
            width = min(span[1], right, self._within[1]) - max(span[0], left, self._within[0])
            if width > _EPS:
                total += cover(self._lengths, round(width, 3), self._bay) * self._wide
        return total

    def _rows(self, slab: Slab, runs: Span) -> list[tuple[float, float]]:
        """How far each row of sheets between two runs reaches along the edge, from and to."""
        if runs not in self._known:
            low = max(runs[0], self._start)
            count = max(0, math.ceil((runs[1] - low) / self._row - _EPS))
            first: Floats = low + self._row * np.arange(count, dtype=float)
            last: Floats = np.minimum(first + self._row, runs[1])
            ends = slab.left.least(first, last), slab.right.most(first, last)
            self._known[runs] = list(zip(*(end.tolist() for end in ends), strict=True))
        return self._known[runs]


def _gables(slope: Slope, sides: Sequence[PlaneSide], span: Span) -> Span:
    """The outer faces of the gable walls under the rakes of a part, its own ends where it has none."""
    found: dict[bool, float] = {}
    for side in _rakes(sides):
        is_left = side.end[1] < side.start[1]
        found[is_left] = gable_face(slope.plane.footprint, side.start, side.end)
    return found.get(True, span[0]), found.get(False, span[1])


def _rakes(sides: Sequence[PlaneSide]) -> Iterator[PlaneSide]:
    return (side for side in sides if side.line is RoofLine.RAKE)
