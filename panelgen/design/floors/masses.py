"""What any cassette of a field weighs before it is designed: sheathing, sticks, insulation and straps.

Sticks are counted by the rules that place them, so that this is the mass of the finished cassette to within a few
parts in a hundred. What only the finished cassette tells is left out: joists that make way for a trimmer, blocks that
make way for a run, bores, and sheets that lap a joint.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.brief import Span
from panelgen.design.floors.ceiling_lines import ceiling_lines
from panelgen.design.floors.outline import Deck, WallBand
from panelgen.design.floors.stocks import BLOCKS_APART, NAILERS_APART, Stocks
from panelgen.design.framing.sticks import Stock, stock_of
from panelgen.design.straps.cavity import row_heights
from panelgen.geometry.frames import Floats
from panelgen.model import LayerKind

__all__ = ["CellMasses"]

_M3_PER_MM3 = 1e-9
_EPS = 1e-6
_AROUND = 4
"""Sticks beside an opening, and as many at its ends: doubled trimmers and headers."""


class CellMasses:
    """The cassettes from line p to q of `lines` (m,) and from stop i to j of `stops` (n,) of a deck, mm.

    The first and the last line are the ends of the field, where joists end at rims. Arrays are (m, m, n, n), or 1 long
    along axes that do not matter.
    """

    def __init__(
        self, deck: Deck, stocks: Stocks, stops: Sequence[float], lines: Sequence[float], catalog: Catalog
    ) -> None:
        self._deck, self._stocks, self._catalog = deck, stocks, catalog
        x, y = np.array(stops), np.array(lines)
        self._x0, self._x1 = x[None, None, :, None], x[None, None, None, :]
        self._y0, self._y1 = y[:, None, None, None], y[None, :, None, None]
        self.width: Floats = self._x1 - self._x0
        self.height: Floats = self._y1 - self._y0
        ends = np.add.outer(np.arange(len(y)) == 0, np.arange(len(y)) == len(y) - 1, dtype=float)
        self._rims: Floats = ends[:, :, None, None]
        layout = np.arange(ceil(x[0] / self._spacing), x[-1] / self._spacing) * self._spacing
        inside = (layout[:, None, None] > x[:, None] + _EPS) & (layout[:, None, None] < x[None, :] - _EPS)
        self._joists: Floats = 2.0 + inside.sum(axis=0)[None, None]

    @property
    def _spacing(self) -> float:
        return self._deck.assembly.framing.spacing

    @property
    def area(self) -> Floats:
        """What the sheathing of each covers, openings taken off, mm2."""
        holes = (self._shared((hole.x0, hole.x1), (hole.y0, hole.y1)) for hole in self._deck.openings)
        result: Floats = self.width * self.height - sum(holes, np.zeros((1, 1, 1, 1)))
        return result

    @property
    def mass(self) -> Floats:
        """Kg of each."""
        layers = [layer for layer in self._deck.layers if layer.kind is LayerKind.SHEATHING]
        surface = sum(self._catalog.sheet(layer.product).density * layer.thickness for layer in layers) * _M3_PER_MM3
        area, wood, joist = self.area, self._wood(), self._stocks.joist
        name = self._deck.assembly.framing.insulation
        filling = self._catalog.insulation(name).density * _M3_PER_MM3 if name else 0.0
        room = np.maximum(joist.width * area - wood / (joist.density * _M3_PER_MM3), 0.0)
        result: Floats = area * surface + wood + room * filling + self._straps()
        return result

    def _wood(self) -> Floats:
        """Kg of the sticks of the framing of each."""
        stocks, deck = self._stocks, self._deck
        joist, header, count = stocks.joist, stocks.header, self._joists
        long = self.height - self._rims * stocks.rim.thickness
        between = np.maximum(self.width - count * joist.thickness, 0.0)
        wood = count * long * _section(joist) + self._rims * self.width * _section(stocks.rim)
        wood = wood + (2.0 - self._rims) * between * _section(joist)
        for band, stock in self._bearings():
            x0, y0, x1, y1 = band.rect
            passed = (self._y0 + joist.thickness < y0) & (y1 < self._y1 - joist.thickness)
            share = self._shared((x0, x1), (y0, y1)) / (np.maximum(self.width, 1.0) * (y1 - y0))
            wood = wood + passed * share * between * _section(stock)
        for band, length in self._beside_walls():
            middle = (band.rect[0] + band.rect[2]) / 2
            here = (self._x0 < middle) & (middle < self._x1)
            along = np.minimum(self._y1, band.rect[3]) - np.maximum(self._y0, band.rect[1])
            wood = wood + here * np.maximum(along, 0.0) * length
        for hole in deck.openings:
            there = self._shared((hole.x0, hole.x1), (hole.y0, hole.y1)) > _EPS
            cut = max(0.0, (hole.x1 - hole.x0) / self._spacing - 1.0) * (hole.y1 - hole.y0)
            around = _AROUND * (long + hole.x1 - hole.x0) * _section(header)
            wood = wood + there * (around - cut * _section(joist))
        result: Floats = wood
        return result

    def _bearings(self) -> Iterator[tuple[WallBand, Stock]]:
        """The walls over which joists are blocked, and what the blocks are made of: solid under a bearing wall."""
        stocks = self._stocks
        above = [band.rect for band in self._deck.above if band.bearing and not band.is_along]
        for band in self._deck.below:
            if band.bearing and not band.is_along:
                loaded = any(low < band.rect[3] and band.rect[1] < high for _, low, _, high in above)
                yield band, stocks.header if loaded and stocks.joist.flange else stocks.joist

    def _beside_walls(self) -> Iterator[tuple[WallBand, float]]:
        """The walls along the joists, and kg of what is placed for them per mm: joists, blocks under, nailers over."""
        stocks, spacing = self._stocks, self._spacing
        bay = spacing - stocks.joist.thickness
        for band in self._deck.above:
            if band.is_along and not self._is_carried(band):
                each = 2.0 if band.bearing else bay / BLOCKS_APART
                yield band, each * _section(stocks.joist)
        for band in self._deck.below:
            if band.is_along:
                rows = self._bare_lines(band) if self._is_carried(band) else 1
                yield band, rows * bay * _section(stocks.nailer) / NAILERS_APART

    def _bare_lines(self, band: WallBand) -> int:
        """How many lines beside a wall, inside the field, have no joist on layout for the edge of a ceiling."""
        ends, half = (float(self._x0.min()), float(self._x1.max())), self._stocks.joist.thickness / 2
        lines = [line for line in ceiling_lines(band, self._deck.assembly) if ends[0] < line[0] and line[1] < ends[1]]
        nearest = [(line, round(sum(line) / 2 / self._spacing) * self._spacing) for line in lines]
        return sum(at - half > line[0] or at + half < line[1] for line, at in nearest)

    def _is_carried(self, band: WallBand) -> bool:
        """Whether a joist on layout stands under or over a wall, or an edge joist may."""
        low, high = band.rect[0], band.rect[2]
        ends = (float(self._x0.min()), float(self._x1.max()))
        return ceil(low / self._spacing) * self._spacing <= high or low <= ends[0] + _EPS or high >= ends[1] - _EPS

    def _straps(self) -> Floats:
        """Kg of the rows of straps of each."""
        spec = self._deck.assembly.strapping
        if spec is None:
            return np.zeros((1, 1, 1, 1))
        framing = self._deck.assembly.framing
        stock = stock_of(self._catalog, spec.stock, framing.species, framing.grade)
        last = np.maximum(self.height[:, :, 0, 0] - stock.width, 0.0).tolist()
        rows = [[len(row_heights(height, stock.width, spec.spacing)) for height in heights] for heights in last]
        result: Floats = np.array(rows, dtype=float)[:, :, None, None] * self.width * _section(stock)
        return result

    def _shared(self, across: Span, along: Span) -> Floats:
        """What each shares with a rectangle, mm2."""
        wide = np.minimum(self._x1, across[1]) - np.maximum(self._x0, across[0])
        long = np.minimum(self._y1, along[1]) - np.maximum(self._y0, along[0])
        result: Floats = np.maximum(wide, 0.0) * np.maximum(long, 0.0)
        return result


def _section(stock: Stock) -> float:
    """Kg per mm of a stick."""
    return stock.thickness * stock.width * stock.density * _M3_PER_MM3
