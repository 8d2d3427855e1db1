"""What any panel of a convex part of a roof plane weighs before it is designed, and where its mass is.

Sheathing, insulation, boards, rafters and what frames openings are summed along the part once, so that every
panel is a difference of sums. Cuts at the ends of sticks and their birdsmouths are left out: masses are a few parts
in a hundred too great rather than too small.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot, sqrt

import numpy as np

from panelgen.design.brief import Span
from panelgen.design.framing.sticks import Stock
from panelgen.design.roofs.brief import opening_plies
from panelgen.design.roofs.planes import PlaneSide
from panelgen.design.roofs.slabs import Slab
from panelgen.design.roofs.slope import Slope
from panelgen.geometry.frames import Floats
from panelgen.geometry.rings import segments
from panelgen.geometry.rods import Bools
from panelgen.geometry.roof_planes import RoofLine

__all__ = ["PartMasses"]

_M3_PER_MM3 = 1e-9
_EPS = 1e-6
_GAUSS = (0.5 - sqrt(1 / 12), 0.5 + sqrt(1 / 12))
"""Two-point Gauss places on (0, 1): exact for moments of what is linear along a part."""

_BOARDED = (RoofLine.EAVE, RoofLine.RIDGE, RoofLine.TOP, RoofLine.HIP, RoofLine.VALLEY)


class PartMasses:
    """The panels of a part from line p to q of `lines` (m,) and from stop i to j of `stops` (n,): runs and x, mm.

    `sides` are those of the part in its plane, counter-clockwise; `gables` the x of the gable walls' outer framing
    faces at its left and right, the part's ends where there are none. Arrays are (m, m, n, n).
    """

    def __init__(
        self,
        slope: Slope,
        slab: Slab,
        sides: Sequence[PlaneSide],
        gables: Span,
        stops: Sequence[float],
        lines: Sequence[float],
    ) -> None:
        self._slope, self._slab, self._sides, self._gables = slope, slab, sides, gables
        self._stops, self._lines = np.array(stops), np.array(lines)
        self._holes = tuple(_holes(slope, (stops[0], stops[-1])))
        edges = self._edges()
        width = np.diff(edges)
        places = np.concatenate([edges[:-1] + share * width for share in _GAUSS])
        each = np.stack([self._steady(places, band) for band in range(len(lines) - 1)])
        steady = (each[..., : len(width)] + each[..., len(width) :]) / 2 * width
        at = self._rafters()
        sticks = np.stack([self._standing(at, band) for band in range(len(lines) - 1)])
        ends = np.stack([self._end_sticks(band) for band in range(len(lines) - 1)])
        sums = self._between(edges, steady) + self._inside(at, sticks) + ends[..., :, None] + ends[..., None, :]
        total = np.concatenate((np.zeros_like(sums[:1]), sums.cumsum(axis=0)))
        self._cells: Floats = total[None] - total[:, None] + self._around_holes() + self._ladders()
        boards = np.add.outer(np.arange(len(lines)) > 0, np.arange(len(lines)) < len(lines) - 1, dtype=float)
        across = np.maximum(self._stops[None] - self._stops[:, None], 0.0) * _section(slope.rafter)
        self.mass: Floats = self._cells[:, :, 0] + boards[:, :, None, None] * across
        """Kg of each."""

    @property
    def areas(self) -> tuple[Floats, Floats]:
        """What the outer and the inner sheathing of each cover, openings taken off, mm2."""
        return self._cells[:, :, 3], self._cells[:, :, 4]

    @property
    def centre(self) -> Floats:
        """(m, m, n, n, 2) plan points of the centres of gravity."""
        kg = np.maximum(self._cells[:, :, 0], _EPS)
        x, run = self._cells[:, :, 1] / kg, self._cells[:, :, 2] / kg
        frame, up = self._slope.plane.frame, run * self._slope.plane.pitch.secant
        places = [frame.origin[k] + x * frame.x[k] + up * frame.y[k] for k in (0, 1)]
        result: Floats = np.stack(places, axis=-1)
        return result

    def _edges(self) -> Floats:
        """Between these places everything is linear in x."""
        slab, slope = self._slab, self._slope
        runs = [*self._lines[1:-1].tolist(), 0.0, slope.rafter.thickness, slope.plane.inner]
        runs += [run for hole in self._holes for run in (hole.low, hole.high)]
        crossed = [x for run in runs for side in (slab.low, slab.high) for x in side.crossings(run)]
        walls = [x for x, _ in slope.plane.footprint]
        holes = [x for hole in self._holes for x in (hole.x0, hole.x1)]
        every = np.concatenate((self._stops, slab.low.along, slab.high.along, crossed, walls, holes, self._gables))
        return np.unique(np.clip(every, self._stops[0], self._stops[-1]))

    def _reach(self, x: Floats, band: int, least: float = -np.inf) -> tuple[Floats, Floats]:
        """The run at which the part begins and ends at each x, in a band between two lines and from `least` up."""
        low = np.maximum(np.maximum(self._slab.low.at(x), self._lines[band]), least)
        return low, np.maximum(np.minimum(self._slab.high.at(x), self._lines[band + 1]), low)

    def _steady(self, x: Floats, band: int) -> Floats:
        """(5, k) per mm of x: kg, kg by x, kg by run, and mm2 of the outer and the inner sheathing."""
        slope = self._slope
        secant, depth = slope.plane.pitch.secant, slope.rafter.width
        within = (x > self._gables[0]) & (x < self._gables[1])
        low, high = self._reach(x, band)
        outer = self._net(x, low, high) * secant
        inner = within * self._net(x, *self._reach(x, band, slope.plane.inner)) * secant
        filled = within * self._net(x, *self._reach(x, band, slope.rafter.thickness)) * secant
        inner = inner * (slope.surface(False) > 0.0)
        kg = outer * slope.surface(True) + inner * slope.surface(False) + filled * depth * slope.filling
        kg = kg + self._boards(x, band) + self._blocks(x, band)
        middle = (low + high) / 2
        return np.stack((kg, kg * x, kg * middle, outer, inner))

    def _net(self, x: Floats, low: Floats, high: Floats) -> Floats:
        """The run from low to high less that of openings."""
        result = high - low
        for hole in self._holes:
            shared = np.minimum(high, hole.high) - np.maximum(low, hole.low)
            result = result - ((x > hole.x0) & (x < hole.x1)) * np.maximum(shared, 0.0)
        return result

    def _boards(self, x: Floats, band: int) -> Floats:
        """Kg per mm of x of the boards along eaves, ridges, hips and valleys."""
        secant = self._slope.plane.pitch.secant
        kg: Floats = np.zeros(len(x))
        for side in self._sides:
            (xa, ra), (xb, rb) = side.start, side.end
            if side.line in _BOARDED and abs(xb - xa) > _EPS:
                slant = (rb - ra) / (xb - xa)
                run = ra + slant * (x - xa)
                here = (x > min(xa, xb)) & (x < max(xa, xb))
                here &= (run >= self._lines[band] - _EPS) & (run <= self._lines[band + 1] + _EPS)
                kg += np.where(here, _section(self._slope.boards[side.line]) * hypot(1.0, slant * secant), 0.0)
        return kg

    def _blocks(self, x: Floats, band: int) -> Floats:
        """Kg per mm of x of the blocks between rafters on the plate."""
        low, high = self._reach(x, band)
        slope = self._slope
        over = np.zeros(len(x), dtype=bool)
        for (xa, ra), (xb, rb) in segments(slope.plane.footprint):
            if max(abs(ra), abs(rb)) < _EPS and xa < xb:
                over |= (x > xa) & (x < xb)
        share = 1.0 - slope.rafter.thickness / slope.spacing
        return np.where(over & (low < 0.0) & (high > 0.0), _section(slope.rafter) * share, 0.0)

    def _rafters(self) -> Floats:
        """The middles of the rafters on layout between the gable walls."""
        spacing, room = self._slope.spacing, self._slope.rafter.thickness / 2
        first, last = np.ceil(self._stops[0] / spacing), np.floor(self._stops[-1] / spacing)
        at = np.arange(first, last + 1) * spacing
        result: Floats = at[(at >= self._gables[0] + room) & (at <= self._gables[1] - room)]
        return result

    def _standing(self, x: Floats, band: int) -> Floats:
        """(5, k) of a rafter at each x: kg less that of the insulation it displaces, and its moments."""
        low, high = self._reach(x, band)
        inside = np.subtract(*self._reach(x, band, self._slope.rafter.thickness)[::-1])
        secant, rafter = self._slope.plane.pitch.secant, self._slope.rafter
        within = (x > self._gables[0] - _EPS) & (x < self._gables[1] + _EPS)
        fill = rafter.thickness * rafter.width * self._slope.filling
        kg = secant * ((high - low) * _section(rafter) - within * inside * fill)
        return _moments(kg, x, (low + high) / 2)

    def _around_holes(self) -> Floats:
        """(m, m, 5, n, n) of trimmers, as long as the panel, and headers, less the rafters that openings cut."""
        rafter, secant, rafters = self._slope.rafter, self._slope.plane.pitch.secant, self._rafters()
        found = self._nothing()
        for hole in self._holes:
            cut = int(((rafters > hole.x0) & (rafters < hole.x1)).sum())
            x, run = (hole.x0 + hole.x1) / 2, (hole.low + hole.high) / 2
            long = 2 * hole.plies * (self._length_at(x) + hole.x1 - hole.x0) - cut * (hole.high - hole.low) * secant
            long *= (self._lines[:, None] < run) & (self._lines[None] > run)
            here = (self._stops[:, None] < x) & (self._stops[None] > x)
            found += _cell_moments(np.maximum(long, 0.0) * _section(rafter), here, x, run)
        return found

    def _ladders(self) -> Floats:
        """(m, m, 5, n, n) of the lookouts between a rake and the gable wall, spaced as the rafters."""
        slope, rafter = self._slope, self._slope.rafter
        found = self._nothing()
        for n, gable in ((0, self._gables[0]), (-1, self._gables[1])):
            beyond = abs(gable - float(self._stops[n]))
            if beyond > rafter.thickness:
                here = np.zeros(found.shape[3:], dtype=bool)
                here[(0, slice(None)) if n == 0 else (slice(None), -1)] = True
                kg = self._length_at(gable) // slope.spacing * beyond * _section(rafter)
                run = float(self._slab.low.at(np.array([gable]))[0] + self._slab.high.at(np.array([gable]))[0]) / 2
                found += _cell_moments(kg, here, gable, run)
        return found

    def _length_at(self, x: float) -> Floats:
        """(m, m) how long the slope is at x from line p to q."""
        low, high = self._slab.low.at(np.array([x])), self._slab.high.at(np.array([x]))
        run = np.minimum(high, self._lines[None]) - np.maximum(low, self._lines[:, None])
        result: Floats = np.maximum(run, 0.0) * self._slope.plane.pitch.secant
        return result

    def _nothing(self) -> Floats:
        lines, count = len(self._lines), len(self._stops)
        return np.zeros((lines, lines, 5, count, count))

    def _end_sticks(self, band: int) -> Floats:
        """(5, n) of the rafter with which a panel ends at each stop; at a rake also of the one over the gable wall."""
        sticks = self._standing(self._stops, band)
        for n, gable in ((0, self._gables[0]), (-1, self._gables[1])):
            if abs(gable - float(self._stops[n])) > self._slope.rafter.thickness:
                sticks[:, n] += self._standing(np.array([gable]), band)[:, 0]
        return sticks

    def _between(self, edges: Floats, steady: Floats) -> Floats:
        """(b, 5, n, n) sums of what is given per stretch between `edges`, from stop i to j."""
        up_to = _up_to(steady)
        at_stops = up_to[..., np.searchsorted(edges, self._stops)]
        result: Floats = at_stops[..., None, :] - at_stops[..., :, None]
        return result

    def _inside(self, at: Floats, sticks: Floats) -> Floats:
        """(b, 5, n, n) sums of sticks that stand between stop i and j, not on them."""
        up_to = _up_to(sticks)
        after = up_to[..., np.searchsorted(at, self._stops + _EPS)]
        before = up_to[..., np.searchsorted(at, self._stops - _EPS)]
        result: Floats = before[..., None, :] - after[..., :, None]
        return result


@dataclass(frozen=True, slots=True)
class _Hole:
    """An opening in plan: x and run, mm."""

    x0: float
    x1: float
    low: float
    high: float
    plies: int


def _holes(slope: Slope, span: Span) -> Iterator[_Hole]:
    """The openings of the plane in a stretch of x."""
    plane = slope.plane
    for opening in plane.roof.openings:
        (x, up), (width, length) = opening.at, opening.size
        if opening.edge == plane.edge and x - width / 2 >= span[0] and x + width / 2 <= span[1]:
            low, high = ((up + way * length / 2) * plane.pitch.cosine for way in (-1.0, 1.0))
            yield _Hole(x - width / 2, x + width / 2, low, high, opening_plies(slope.rules, opening))


def _up_to(each: Floats) -> Floats:
    """(..., k + 1) the sums of the first 0 to k along the last axis."""
    return np.concatenate((np.zeros((*each.shape[:-1], 1)), each.cumsum(axis=-1)), axis=-1)


def _cell_moments(kg: Floats, here: Bools, x: float, run: float) -> Floats:
    """(m, m, 5, n, n) of masses (m, m) at a place, in the panels (n, n) that hold it."""
    each = kg[:, :, None, None] * here
    nothing = np.zeros_like(each)
    return np.stack((each, each * x, each * run, nothing, nothing), axis=2)


def _moments(kg: Floats, x: Floats, run: Floats) -> Floats:
    """(5, k) of masses at places; they cover nothing."""
    return np.stack((kg, kg * x, kg * run, np.zeros_like(kg), np.zeros_like(kg)))


def _section(stock: Stock) -> float:
    """Kg per mm of a stick."""
    return stock.thickness * stock.width * stock.density * _M3_PER_MM3
