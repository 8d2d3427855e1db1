"""What any stretch of a wall weighs before it is designed: densities along the wall framed whole, summed once.

Sticks, sheathing, straps and insulation count as in a designed panel, to within a few parts in a hundred: what
stands between rows of sheets, bores, and what runs take from the insulation are left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.extents import extent_of
from panelgen.design.framing.sticks import Stock, stock_of
from panelgen.design.sheathing.faces import Side, sheathing_on
from panelgen.design.straps.cavity import row_heights
from panelgen.geometry.frames import Floats
from panelgen.model import Member
from panelgen.model.volumes import member_volume

__all__ = ["StretchMasses", "stretch_masses"]

_SIDES: tuple[Side, ...] = ("outer", "inner")
_M3_PER_MM3 = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class StretchMasses:
    """(n, n) over n stops of a wall: `mass` (kg) of the panel from stop i to j > i, and its `centre` (wall x, mm)."""

    mass: Floats
    centre: Floats


def stretch_masses(whole: PanelBrief, members: Sequence[Member], stops: Sequence[float]) -> StretchMasses:
    """Mass and centre of every panel between two of `stops`: the wall's ends and the joints between, panel x.

    `whole` is the brief of the wall as if it were one panel, `members` are its sticks.
    """
    at = np.array(stops)
    sticks = _Sticks.of(whole, members)
    openings = np.array([(hole.x0, hole.x1, hole.y0, hole.y1) for hole in whole.openings]).reshape(-1, 4)
    bends = np.array([x for x, _ in whole.top])
    edges = np.concatenate((at, sticks.span.ravel(), openings[:, :2].ravel(), bends))
    edges = np.unique(np.clip(edges, at[0], at[-1]))
    middle, width = (edges[1:] + edges[:-1]) / 2, np.diff(edges)
    wood, volume = sticks.densities(middle)
    height = np.interp(middle, bends, [y for _, y in whole.top])
    across = (openings[:, :1] < middle) & (openings[:, 1:2] > middle)
    high = np.maximum(np.minimum(openings[:, 3:], height) - openings[:, 2:3], 0.0)
    net = height - (across * high).sum(axis=0)
    fill = np.maximum(whole.framing_depth * net - volume, 0.0) * _filling(whole)
    sheets = np.array([_surface(whole, side) for side in _SIDES])
    mass = width * (wood + net * sheets.sum() + fill + net / height * _straps(whole))
    first, last = at == at[0], at == at[-1]
    laps = (
        (-whole.outer_span[0], -whole.inner_span[0]),
        (
            whole.outer_span[1] - whole.length,
            whole.inner_span[1] - whole.length,
        ),
    )
    ends = np.where(first, whole.top[0][1] * (sheets @ laps[0]), _half_stud(whole, at))
    ends = np.where(last, whole.top[-1][1] * (sheets @ laps[1]), ends)
    places = np.searchsorted(edges, at)
    up_to = np.concatenate(([0.0], mass.cumsum()))[places]
    moment = np.concatenate(([0.0], (mass * middle).cumsum()))[places]
    total = up_to[None] - up_to[:, None] + ends[None] + ends[:, None]
    turning = moment[None] - moment[:, None] + (ends * at)[None] + (ends * at)[:, None]
    return StretchMasses(total, turning / np.where(total > 0.0, total, 1.0))


@dataclass(frozen=True, slots=True, eq=False)
class _Sticks:
    """n sticks: where each lies along the wall (n, 2), mm, its mass (kg), and the volume (mm3) it takes from the
    insulation, (n,)."""

    span: Floats
    mass: Floats
    volume: Floats

    @classmethod
    def of(cls, whole: PanelBrief, members: Sequence[Member]) -> _Sticks:
        rows = [(*extent_of(one).x, one.density, member_volume(one), member_volume(one)) for one in members]
        rows += [
            (*span, stock.density, stock.thickness * stock.width * length, 0.0)
            for span, stock, length in (*_around_openings(whole), *_backing(whole))
        ]
        table = np.array(rows)
        return cls(table[:, :2], table[:, 2] * table[:, 3] * _M3_PER_MM3, table[:, 4])

    def densities(self, x: Floats) -> tuple[Floats, Floats]:
        """Mass and volume of wood per mm of wall at each of `x` (k,)."""
        there = ((self.span[:, :1] < x) & (self.span[:, 1:] > x)) / (self.span[:, 1] - self.span[:, 0])[:, None]
        return self.mass @ there, self.volume @ there


def _around_openings(whole: PanelBrief) -> Iterator[tuple[Span, Stock, float]]:
    """The straps around each opening as one stick: where, of what, and how long in all (mm)."""
    spec = whole.assembly.strapping
    if spec is not None:
        stock = _stock(whole, spec.stock)
        for hole in whole.openings:
            span = (hole.x0 - stock.width, hole.x1 + stock.width)
            rows = 1 if hole.to_floor else 2
            yield span, stock, rows * (span[1] - span[0]) + 2 * (hole.y1 - hole.y0)


def _backing(whole: PanelBrief) -> Iterator[tuple[Span, Stock, float]]:
    """The wood for later trades, each as one stick."""
    framing, strapping = whole.assembly.framing, whole.assembly.strapping
    for one in whole.backing:
        usual = strapping.stock if one.kind == "strap" and strapping is not None else framing.stock
        span = (one.start - whole.wall_start, one.end - whole.wall_start)
        yield span, _stock(whole, one.stock or usual), hypot(span[1] - span[0], one.last_height - one.height)


def _stock(whole: PanelBrief, name: str) -> Stock:
    spec = whole.assembly.framing
    return stock_of(whole.catalog, name, spec.species, spec.grade)


def _surface(whole: PanelBrief, side: Side) -> float:
    """Mass of the sheathing on a side, kg/mm2."""
    face = sheathing_on(whole, side)
    return face.thickness * whole.catalog.sheet(face.product).density * _M3_PER_MM3 if face else 0.0


def _filling(whole: PanelBrief) -> float:
    """Density of the insulation, kg/mm3."""
    name = whole.assembly.framing.insulation
    return whole.catalog.insulation(name).density * _M3_PER_MM3 if name else 0.0


def _straps(whole: PanelBrief) -> float:
    """Mass of the rows of straps, kg per mm of wall."""
    spec = whole.assembly.strapping
    if spec is None:
        return 0.0
    stock = _stock(whole, spec.stock)
    rows = len(row_heights(whole.height - stock.width, stock.width, spec.spacing))
    return rows * stock.thickness * stock.width * stock.density * _M3_PER_MM3


def _half_stud(whole: PanelBrief, at: Floats) -> Floats:
    """(n,) kg that each panel has at a joint besides its half of the wall's stud there: the rest of its end stud."""
    spec = whole.assembly.framing
    stock = _stock(whole, spec.stock)
    height = np.array([whole.top_at(x) for x in at.tolist()]) - (1 + spec.top_plates) * stock.thickness
    result: Floats = height * stock.thickness * stock.width * stock.density / 2 * _M3_PER_MM3
    return result
