"""The sticks of a deck: joists and blocks, rims, trimmers and headers."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.catalog.rows import StockKind
from panelgen.design.floors.outline import Deck
from panelgen.design.framing.sticks import Stock, stock_of

__all__ = ["BLOCKS_APART", "NAILERS_APART", "Stocks", "stocks_of"]

BLOCKS_APART = 1219.2
"""Blocks under a wall along the joists are no farther apart (mm): four feet, as IRC R502.4 spaces them."""

NAILERS_APART = 609.6
"""Nailers over a wall along the joists are no farther apart (mm): two feet, common practice, no source."""

_SAME = 1.0
"""Sticks whose depths differ by less (mm) go together; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Stocks:
    """`joist` makes joists and blocks, `header` trimmers and headers. All hang level with the top of the joists."""

    joist: Stock
    rim: Stock
    header: Stock
    nailer: Stock

    def z(self, stock: Stock) -> float:
        """Panel z of the lower edge of a stick of that stock on edge."""
        return self.joist.width - stock.width


def stocks_of(deck: Deck, catalog: Catalog) -> Stocks:
    """What the spec names, or else: sawn joists go with their like, engineered ones with rim board and LVL.

    Raises CatalogError for unknown stock.
    """
    framing = deck.assembly.framing

    def of(name: str) -> Stock:
        return stock_of(catalog, name, framing.species, framing.grade)

    rim = deck.spec.rim or _like(catalog, framing.stock, "rim board")
    header = deck.spec.header or _like(catalog, framing.stock, "lvl")
    return Stocks(of(framing.stock), of(rim), of(header), of(_NAILER))


_NAILER = "2x6"
"""Lies flat between joists where a wall below needs something to be nailed to; common practice, no source."""


def _like(catalog: Catalog, joist: str, kind: StockKind) -> str:
    """The first stick of a kind as deep as engineered joists; their own stock where there is none, or they are sawn."""
    own = catalog.stock(joist)
    if not own.is_engineered:
        return joist
    fitting = (row.name for row in catalog.lumber.values() if row.kind == kind and abs(row.width - own.width) < _SAME)
    return next(fitting, joist)
