"""How a field of a deck is split: into columns across its joists, and each column over walls that carry its joists.

The best split has the fewest cassettes, then the least waste of sheathing, then the most even ones. Columns meet on
the joist layout, clear of openings, or where the spec asks for it. Joists meet over a wall that carries the whole
column.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.brief import Span
from panelgen.design.floors.masses import CellMasses
from panelgen.design.floors.outline import CRACK, Deck
from panelgen.design.floors.stocks import Stocks
from panelgen.design.intervals import overlap, subtract
from panelgen.design.sheathing.joints import rows
from panelgen.design.split.best import Cost, pieces
from panelgen.design.split.covering import cover
from panelgen.design.split.grid import Column, Grid, GridSplit
from panelgen.design.split.joints import Keep
from panelgen.design.split.lying import RACK, SIZE, Lying, least_panels, lying_limits, narrow_enough
from panelgen.design.split.stops import Stops, legal_joints, stops_between
from panelgen.geometry.frames import Floats
from panelgen.geometry.rectangles import Rect
from panelgen.geometry.rods import Bools
from panelgen.model import LayerKind, ShopLimits
from panelgen.model.partition import Partition
from panelgen.spec.house import Shop

__all__ = ["Columns", "FieldPieces", "split_field"]

_EPS = 1e-6
_CM2 = 100.0
_TENTHS = 10  # of a kg

_SPARE = 0.96
"""Share of the greatest mass that may be used up by what is known before the cassette is designed; sheets that lap a
joint have the rest. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a field, first to last, and how they were found.

    `too_long` are those that no wall parts as line and rack need, and `binding` the limits that stand in the way of
    a split, both empty where there is one. `on_services` says that there is one only where joints fall on services.
    """

    columns: tuple[Column, ...]
    partition: Partition
    too_long: tuple[Column, ...]
    binding: tuple[str, ...]
    on_services: bool


class FieldPieces:
    """Every cassette that a field (`rect`, deck coordinates, mm) may be split into, as a `grid`.

    Joints keep off the services in `keeps`. Joists are no longer than `longest_joist`.
    """

    def __init__(
        self,
        deck: Deck,
        rect: Rect,
        stocks: Stocks,
        shop: Shop,
        limits: ShopLimits,
        longest_joist: float,
        catalog: Catalog,
        keeps: Sequence[Keep] = (),
    ) -> None:
        self.deck, self.rect, self.shop, self.limits, self.catalog = deck, rect, shop, limits, catalog
        y0, y1 = rect[1], rect[3]
        self.stops = self._stops(
            [*((keep.start, keep.stop) for keep in keeps), *_beside_openings(deck, rect, stocks, shop)]
        )
        self.lines = (y0, *self._bearing_lines(), y1)
        self._cells = CellMasses(deck, stocks, self.stops.at, self.lines, catalog)
        self.mass: Floats = self._cells.mass
        self._area: Floats = self._cells.area
        self._sheets = [
            tuple((long, wide) for wide, long in catalog.sheet(layer.product).sizes)
            for layer in deck.layers
            if layer.kind is LayerKind.SHEATHING
        ]
        found = lying_limits(limits, Lying(self._cells.width, self._cells.height, self.mass / _SPARE, self._middles))
        if longest_joist < y1 - y0 - _EPS:
            found[RACK] = np.broadcast_to(self._cells.height <= longest_joist + _EPS, self.mass.shape)
        self.grid = Grid(self.stops.at, self.lines, self._possible(), found, self.cost)

    @property
    def held(self) -> tuple[str, ...]:
        """The limits that are kept even where others cannot be."""
        return tuple(name for name in (SIZE, RACK) if name in self.grid.limits)

    @property
    def narrow(self) -> Bools:
        """(n, n) True where a column would go on the line if only its joists were not too long."""
        return narrow_enough(self.limits, self._cells.width[0, 0], self._cells.height[0, -1])

    @property
    def least(self) -> int:
        """What no split has fewer cassettes than."""
        return least_panels(self.limits, float(self._area[0, -1, 0, -1]), float(self.mass[0, -1, 0, -1]))

    def cost(self, p: int, q: int, i: int, j: int) -> Cost:
        """Waste of sheathing (cm2), as if no sheet lapped a joint, and squared mass (in 0.1 kg) of a cassette."""
        wide, long = self.stops.at[j] - self.stops.at[i], self.lines[q] - self.lines[p]
        stock, spacing = 0.0, self.deck.assembly.framing.spacing
        for sizes in self._sheets:
            lengths = tuple(sorted({length for length, _ in sizes}))
            for row in rows(round(long, 3), sizes):
                stock += cover(lengths, round(wide, 3), spacing) * min(
                    w for _, w in sizes if w >= row.y1 - row.y0 - _EPS
                )
        waste = stock - len(self._sheets) * float(self._area[p, q, i, j])
        return round(waste / _CM2), round(float(self.mass[p, q, i, j]) * _TENTHS) ** 2

    def _stops(self, keep_clear: Sequence[Span]) -> Stops:
        """The ends of the field and where columns may meet, deck x."""
        deck, (x0, _, x1, _) = self.deck, self.rect
        spacing = deck.assembly.framing.spacing
        barred = [_ordered(deck.across(one.start), deck.across(one.end)) for one in deck.spec.no_joints]
        layout = [n * spacing for n in range(math.ceil(x0 / spacing), math.floor(x1 / spacing) + 1)]
        free = legal_joints(layout, (x0, x1), [*keep_clear, *barred], self.shop.shortest_panel)
        return stops_between((x0, x1), free, (deck.across(joint.at) for joint in deck.spec.joints))

    def _bearing_lines(self) -> list[float]:
        """The middles of the walls over which joists may meet, deck y."""
        x0, y0, x1, y1 = self.rect
        shortest = self.shop.shortest_panel
        return sorted(
            {
                (band.rect[1] + band.rect[3]) / 2
                for band in self.deck.below
                if band.bearing
                and not band.is_along
                and overlap((band.rect[0], band.rect[2]), (x0, x1)) > _EPS
                and y0 + shortest <= (band.rect[1] + band.rect[3]) / 2 <= y1 - shortest
            }
        )

    def _possible(self) -> Bools:
        """(m, m, n, n) True for each cassette that may be, whatever it measures."""
        shortest = self.shop.shortest_panel
        along = pieces(self.lines, math.inf, shortest)
        along[0, -1] = True
        parted = np.array([self._may_meet(y) for y in self.lines])
        parted[[0, -1]] = True
        result: Bools = along[:, :, None, None] & self.stops.allowed(shortest) & parted[:, None] & parted[None]
        return result

    def _may_meet(self, y: float) -> Bools:
        """(n, n) True where joists of a column may meet at a line: walls carry it all, and no opening is near."""
        deck, at = self.deck, np.array(self.stops.at)
        room = self.shop.joint_clearance
        under = [(b.rect[0], b.rect[2]) for b in deck.below if b.bearing and b.rect[1] <= y <= b.rect[3]]
        may = np.ones((len(at), len(at)), dtype=bool)
        for low, high in subtract((self.rect[0], self.rect[2]), under):
            may &= np.minimum(at[None], high) - np.maximum(at[:, None], low) <= CRACK
        for hole in deck.openings:
            if hole.y0 - room < y < hole.y1 + room:
                may &= np.minimum(at[None], hole.x1) - np.maximum(at[:, None], hole.x0) <= _EPS
        return may

    def _middles(self) -> Floats:
        """(m, m, n, n, 2) plan points of the middles of the cassettes."""
        at, up = np.array(self.stops.at), np.array(self.lines)
        x, y = (at[:, None] + at[None]) / 2, (up[:, None] + up[None]) / 2
        (ox, oy, _), right, along = self.deck.frame.origin, self.deck.frame.x, self.deck.frame.y
        x, y = x[None, None], y[:, :, None, None]
        result: Floats = np.stack((ox + x * right[0] + y * along[0], oy + x * right[1] + y * along[1]), axis=-1)
        return result


def split_field(pieces: FieldPieces, beside_services: Callable[[], FieldPieces] | None = None) -> Columns:
    """The best of all legal splits of a field; where there is none the best that line and rack take.

    Before that, joints may fall on services: `beside_services` are the same cassettes where these bar no joint.
    """
    legal, on_services = pieces.grid.best(), False
    if legal is None and beside_services is not None:
        anywhere = beside_services()
        legal = anywhere.grid.best()
        if legal is not None:
            pieces, on_services = anywhere, True
    grid = pieces.grid
    chosen: GridSplit | None = legal
    too_long: tuple[Column, ...] = ()
    binding: tuple[str, ...] = ()
    if chosen is None:
        chosen, too_long = grid.best_effort(pieces.held, pieces.narrow)
        binding = grid.binding()
    partition = grid.partition(pieces.deck.kind.value, pieces.deck.id, chosen, legal, pieces.least)
    return Columns(chosen.columns, partition, too_long, binding, on_services)


def _beside_openings(deck: Deck, rect: Rect, stocks: Stocks, shop: Shop) -> Iterator[Span]:
    """Where joints keep off the openings of a field, their doubled trimmers and the joist of the next cassette."""
    room = max(shop.joint_clearance, 2 * stocks.header.thickness + stocks.joist.thickness)
    for hole in deck.openings:
        if overlap((hole.y0, hole.y1), (rect[1], rect[3])) > _EPS:
            yield hole.x0 - room, hole.x1 + room


def _ordered(a: float, b: float) -> Span:
    return min(a, b), max(a, b)
