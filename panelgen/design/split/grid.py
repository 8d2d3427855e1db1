"""The best split of a field of a floor, ceiling or roof: into columns, and each column along its sticks.

Columns meet on the layout. A column is parted at lines across its sticks where something carries their ends. Every
column is parted the best way by itself, so the best field is made of best columns, and the split that is
found is what trying every one of them would find.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import reduce
from itertools import pairwise

import numpy as np

from panelgen.design.brief import Span
from panelgen.design.split.best import BestSplit, Cost, Parts, best_split
from panelgen.geometry.rods import Bools
from panelgen.model.partition import Partition, SplitCost

__all__ = ["Column", "Grid", "GridSplit"]

_CM2_PER_M2 = 1e4
_TENTHS_PER_KG = 10


@dataclass(frozen=True, slots=True)
class Column:
    """A stretch of a field, and the panels along its sticks that it is parted into, mm."""

    span: Span
    rows: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class GridSplit:
    """The columns of a field, first to last. `legal`, `fewest` and `cost` are as in `BestSplit`."""

    columns: tuple[Column, ...]
    cost: Cost | None
    legal: int
    fewest: int

    @property
    def panels(self) -> int:
        """How many panels that makes."""
        return sum(len(column.rows) for column in self.columns)


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """Every panel of a field: from line p to q > p of `lines` (m,), and from stop i to j > i of `stops` (n,), mm.

    `possible` (m, m, n, n) says which of them [p, q, i, j] may be whatever it measures, `limits` which keep each
    limit, by name. `cost` of p, q, i, j is the waste of sheathing in cm2 and the squared mass in tenths of a kg.
    """

    stops: tuple[float, ...]
    lines: tuple[float, ...]
    possible: Bools
    limits: Mapping[str, Bools]
    cost: Callable[[int, int, int, int], Cost]
    _parted: dict[bytes, BestSplit | None] = field(default_factory=dict, init=False)

    def best(self, names: Iterable[str] | None = None) -> GridSplit | None:
        """The best split within the limits with these names, by default all; None where there is none."""
        chosen = self.limits if names is None else names
        return self._best(reduce(lambda one, name: one & self.limits[name], chosen, self.possible))

    def best_effort(self, names: Iterable[str], narrow: Bools) -> tuple[GridSplit, tuple[Column, ...]]:
        """The best split within the limits with these names, and the columns that break them.

        Columns that cannot be parted so may stay whole where they are `narrow` (n, n). Where that leaves no split
        either the field is split only where it must be.
        """
        cells = reduce(lambda one, name: one & self.limits[name], names, self.possible)
        whole = np.zeros_like(cells)
        for i, j in np.argwhere(self.possible[0, -1] & narrow).tolist():
            whole[0, -1, i, j] = self._parts(cells, i, j) is None
        best = self._best(cells | whole) or self._best(self.possible)
        assert best is not None  # between stops that are fixed any panel is possible
        places = {x: n for n, x in enumerate(self.stops)}
        broken = [one for one in best.columns if self._parts(cells, *(places[x] for x in one.span)) is None]
        return best, tuple(broken)

    def binding(self) -> tuple[str, ...]:
        """The limits each of which alone stands in the way of a split; all where only several do together."""
        lifted = [name for name in self.limits if self.best([one for one in self.limits if one != name]) is not None]
        return tuple(lifted or self.limits)

    def partition(self, kind: str, name: str, chosen: GridSplit, legal: GridSplit | None, least: int) -> Partition:
        """What the model keeps of the split of a field: of a `kind`, and in the floor, ceiling or plane of that name.

        `least` is what no split could have fewer panels than; the best legal one, if there is any, is sure to be that.
        """
        start, end = self.stops[0], self.stops[-1]
        cost = None
        if legal is not None and legal.cost is not None:
            cost = SplitCost(legal.panels, legal.cost[0] / _CM2_PER_M2, legal.cost[1] / _TENTHS_PER_KG**2)
        return Partition(
            name,
            start,
            end - start,
            tuple(column.span[1] for column in chosen.columns[:-1]),
            len(self.stops) - 2,
            legal.legal if legal else 0,
            legal.fewest if legal else 0,
            cost,
            kind,
            tuple((*column.span, row[1]) for column in chosen.columns for row in column.rows[:-1]),
            legal.panels if legal else least,
        )

    def _best(self, cells: Bools) -> GridSplit | None:
        """The best split into some of the panels."""
        if len(self.lines) == 2:  # nothing parts a column
            best = best_split(self.stops, lambda i, j: self.cost(0, 1, i, j), cells[0, 1])
            return None if best is None else self._chosen(best, [(self.lines,)] * (len(best.stops) - 1))
        parted = np.zeros(cells.shape[2:], dtype=bool)
        for i, j in np.argwhere(cells.any(axis=(0, 1))).tolist():
            parted[i, j] = self._parts(cells, i, j) is not None

        def parts(i: int, j: int) -> Parts:
            found = self._parts(cells, i, j)
            assert found is not None  # only such columns are asked about
            return Parts(found.panels, found.legal, found.fewest)

        best = best_split(self.stops, lambda i, j: self._column(cells, i, j)[1], parted, parts)
        if best is None:
            return None
        return self._chosen(best, [self._column(cells, i, j)[0] for i, j in pairwise(best.stops)])

    def _chosen(self, best: BestSplit, rows: Sequence[tuple[Span, ...]]) -> GridSplit:
        columns = zip(best.spans(self.stops), rows, strict=True)
        return GridSplit(tuple(Column(*one) for one in columns), best.cost, best.legal, best.fewest)

    def _parts(self, cells: Bools, i: int, j: int) -> BestSplit | None:
        """How many panels the column is parted into, whatever these cost: the same for all with the same cells."""
        allowed = cells[:, :, i, j]
        key = allowed.tobytes()
        if key not in self._parted:
            self._parted[key] = best_split(self.lines, _free, allowed)
        return self._parted[key]

    def _column(self, cells: Bools, i: int, j: int) -> tuple[tuple[Span, ...], Cost]:
        """The best way to part a column, and what that costs in all."""
        best = best_split(self.lines, lambda p, q: self.cost(p, q, i, j), cells[:, :, i, j])
        assert best is not None  # only such columns are asked about
        costs = [self.cost(p, q, i, j) for p, q in pairwise(best.stops)]
        return best.spans(self.lines), tuple(map(sum, zip(*costs, strict=True)))


def _free(_low: int, _high: int) -> Cost:
    return ()
