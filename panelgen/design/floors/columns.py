"""Columns of a deck: where a field is split across its joists, by the best of all splits that the shop allows.

The best has the fewest cassettes, then the least waste of sheathing, then the most even ones. Joints fall on
the joist layout, clear of openings, or where the spec pins them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations_with_replacement, pairwise

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.brief import Span
from panelgen.design.floors.outline import Deck
from panelgen.design.intervals import overlap
from panelgen.design.split.best import Cost, best_split, pieces, without
from panelgen.design.split.lengths import legal_joints
from panelgen.geometry.frames import Floats, Point2
from panelgen.geometry.rectangles import Rect
from panelgen.geometry.rods import Bools
from panelgen.model import LayerKind, ShopLimits
from panelgen.model.partition import Partition, SplitCost
from panelgen.spec.house import Shop

__all__ = ["Columns", "split_field"]

_EPS = 1e-6
_CM2 = 100.0
_M2 = 1e6

_SPARE = 0.85
"""Share of the greatest mass that sheets and common joists may use up; rims, blocks and headers have the rest.
Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a field, left to right, and how they were found; `is_legal` is False where no split was."""

    spans: tuple[Span, ...]
    partition: Partition
    is_legal: bool


@dataclass(frozen=True, slots=True)
class _Field:
    """A field of a deck that weighs about `mass` kg/m2 and is cut into pieces of `height` mm along its joists.

    `stops` are its ends and where columns may meet, deck x; `sheets` the stock lengths of each sheathing.
    """

    deck: Deck
    rect: Rect
    mass: float
    height: float
    stops: tuple[float, ...]
    sheets: tuple[tuple[float, ...], ...]

    def sized(self, limits: ShopLimits, shop: Shop) -> Bools:
        """(n, n) True where a cassette from stop i to j goes through the line and on the truck, turned as fits."""
        long, short = min(limits.line_length, limits.truck.length), min(limits.line_height, limits.truck.height)
        return pieces(self.stops, long if self.height <= short + _EPS else short, shop.shortest_panel)

    def lifted(self, limits: ShopLimits) -> Bools:
        """(n, n) True where a cassette from stop i to j is no heavier than shop, truck and crane take there."""
        at = np.array(self.stops)
        masses = (at[None] - at[:, None]) * self.height / _M2 * self.mass / _SPARE
        light: Bools = masses <= min(limits.panel_mass, limits.truck.mass)
        if limits.crane is not None:
            light &= masses <= limits.crane.allowed(self._farthest(at, limits.crane.at))
        return light

    def cost(self, i: int, j: int) -> Cost:
        """Waste of sheathing, cm2, and squared width, mm2, of the column from stop i to j."""
        width = self.stops[j] - self.stops[i]
        waste = sum(_cover(lengths, round(width, 3)) - width for lengths in self.sheets) * self.height
        return round(waste / _CM2), round(width) ** 2

    def _farthest(self, at: Floats, crane: Point2) -> Floats:
        """(n, n, 2) plan points of the middles of the pieces of each column that are farthest from the crane."""
        middle = (at[:, None] + at[None]) / 2
        ends = []
        for y in (self.rect[1] + self.height / 2, self.rect[3] - self.height / 2):
            local = np.stack((middle, np.full_like(middle, y), np.zeros_like(middle)), axis=2)
            ends.append(self.deck.frame.to_parent(local.reshape(-1, 3))[:, :2].reshape(*middle.shape, 2))
        first, second = (np.hypot(plan[..., 0] - crane[0], plan[..., 1] - crane[1]) for plan in ends)
        result: Floats = np.where((first > second)[..., None], ends[0], ends[1])
        return result


def split_field(
    deck: Deck, rect: Rect, mass: float, longest: float, shop: Shop, limits: ShopLimits, catalog: Catalog
) -> Columns:
    """Split a field of a deck that weighs about `mass` kg/m2, its joists no longer than `longest` (mm).

    Exact: the best of all splits. Where none is legal it is the best that the line takes, whatever the pieces
    weigh, and where there is none of these either the field is split at its pins only.
    """
    x0, y0, x1, y1 = rect
    pins = sorted(x for x in (deck.across(joint.at) for joint in deck.spec.joints) if x0 + _EPS < x < x1 - _EPS)
    free = [x for x in _joints(deck, rect, shop) if all(abs(x - pin) > _EPS for pin in pins)]
    stops = (x0, *sorted((*free, *pins)), x1)
    sheets = tuple(
        tuple(sorted({max(size) for size in catalog.sheet(layer.product).sizes}))
        for layer in deck.layers
        if layer.kind is LayerKind.SHEATHING
    )
    field = _Field(deck, rect, mass, min(y1 - y0, longest), stops, sheets)
    sized = without(field.sized(limits, shop), [stops.index(pin) for pin in pins])
    legal = best_split(stops, field.cost, sized & field.lifted(limits))
    best = legal or best_split(stops, field.cost, sized)
    spans = best.spans(stops) if best else tuple(pairwise((x0, *pins, x1)))
    cost = None
    if legal and legal.cost is not None:
        weights = sum(((b - a) * (y1 - y0) / _M2 * mass) ** 2 for a, b in spans)
        cost = SplitCost(len(spans), legal.cost[0] * _CM2 / _M2, weights)
    partition = Partition(
        deck.id,
        x0,
        x1 - x0,
        tuple(b for _, b in spans[:-1]),
        len(stops) - 2,
        legal.legal if legal else 0,
        legal.fewest if legal else 0,
        cost,
    )
    return Columns(spans, partition, legal is not None)


def _joints(deck: Deck, rect: Rect, shop: Shop) -> list[float]:
    """Where columns of a field may meet, deck x: on the layout, clear of openings and of what the spec forbids."""
    x0, y0, x1, y1 = rect
    spacing = deck.assembly.framing.spacing
    clear = [(hole.x0, hole.x1) for hole in deck.openings if overlap((hole.y0, hole.y1), (y0, y1)) > _EPS]
    layout = [n * spacing for n in range(math.ceil(x0 / spacing), math.floor(x1 / spacing) + 1)]
    joints = legal_joints(layout, (x0, x1), clear, shop.joint_clearance, shop.shortest_panel)
    barred = [tuple(sorted((deck.across(one.start), deck.across(one.end)))) for one in deck.spec.no_joints]
    return [x for x in joints if not any(low < x < high for low, high in barred)]


@lru_cache(maxsize=4096)
def _cover(lengths: tuple[float, ...], width: float) -> float:
    """The least length of stock sheets, as few as can be end to end, that covers a width, mm."""
    count = math.ceil(width / lengths[-1] - _EPS)
    return min(total for total in map(sum, combinations_with_replacement(lengths, count)) if total >= width - _EPS)
