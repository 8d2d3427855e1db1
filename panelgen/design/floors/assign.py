"""From the decks of a house to the briefs of their cassettes."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from panelgen.catalog import Catalog
from panelgen.design.floors.brief import CassetteBrief, cassette_briefs
from panelgen.design.floors.cassettes import cassettes
from panelgen.design.floors.outline import Deck, seat_findings
from panelgen.design.floors.stocks import stocks_of
from panelgen.design.limits import shop_limits
from panelgen.design.services.runs import Served, Space
from panelgen.design.split.joints import Keep
from panelgen.design.walls.junctions import ResolvedWall
from panelgen.model import Finding, PanelKind
from panelgen.model.partition import Partition
from panelgen.spec.house import HouseSpec

__all__ = ["deck_briefs", "served_decks"]


def served_decks(decks: Sequence[Deck], catalog: Catalog) -> tuple[Served, ...]:
    """The decks as their services see them."""
    found = []
    for deck in decks:
        low, high = min(layer.z0 for layer in deck.layers), max(layer.z1 for layer in deck.layers)
        wide, long = (max(corner[axis] for corner in deck.ring) for axis in (0, 1))
        space = Space(deck.frame, (0.0, 0.0, low), (wide, long, high))
        found.append(Served(deck.id, catalog.stock(deck.assembly.framing.stock).thickness, space))
    return tuple(found)


def deck_briefs(
    spec: HouseSpec,
    decks: Sequence[Deck],
    walls: Sequence[ResolvedWall],
    keeps: Mapping[str, Sequence[Keep]],
    catalog: Catalog,
) -> tuple[tuple[CassetteBrief, ...], tuple[Partition, ...], tuple[Finding, ...]]:
    """Split every deck and brief every cassette, numbered through the decks of one kind and level.

    Besides the briefs it gives how each field of a deck was split, and what stood in the way. `keeps` are the stretches
    of each deck, by its id, where joints would fall on a service.

    Engineered joists are as long as the line takes; sawn ones are no longer than the rack's sticks.
    """
    briefs: list[CassetteBrief] = []
    findings = seat_findings(spec, decks, walls)
    partitions: list[Partition] = []
    limits = shop_limits(spec.shop)
    counts: dict[tuple[str, PanelKind], int] = {}
    for deck in decks:
        stocks = stocks_of(deck, catalog)
        longest = math.inf if stocks.joist.engineered else spec.shop.longest_stock
        placed, split, faults = cassettes(deck, stocks, spec.shop, limits, longest, catalog, keeps[deck.id])
        partitions += split
        first = counts.get((deck.level.id, deck.kind), 0) + 1
        counts[deck.level.id, deck.kind] = first + len(placed) - 1
        briefs += cassette_briefs(deck, placed, stocks, spec, catalog, first)
        findings += faults
    return tuple(briefs), tuple(partitions), tuple(findings)
