"""Header tables: the smallest built-up header that a prescriptive table allows.

Between building-width columns spans are interpolated linearly, as the table's footnote permits
(read second-hand). Between snow columns they are interpolated too, for which no source was read: such
a result is unverified. Before the first column its value holds, and where a column is missing a
heavier one serves: both the safe side. Past the last column the table has ended. Interpolated spans are
floored to whole millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from panelgen.catalog.rows import Fact, Grade, HeaderCell, Lumber, UnbracedHeader

__all__ = ["HeaderAnswer", "HeaderTable"]

_TOLERANCE = 1e-6
"""Far below any step of the tables, mm and kPa: 24 ft is 24 ft however it was computed."""


@dataclass(frozen=True, slots=True)
class HeaderAnswer:
    """The header to use, or None and the reason in words. `cell.span` is the span it allows, mm."""

    cell: HeaderCell | None
    reason: str


@dataclass(frozen=True, slots=True, eq=False)
class HeaderTable:
    """One edition's cells, its factors by stock for headers not braced sideways, and the sizes of the stock."""

    cells: tuple[HeaderCell, ...]
    unbraced: Mapping[str, UnbracedHeader]
    lumber: Mapping[str, Lumber]

    def pick(
        self,
        span: float,
        carries: str,
        snow: float,
        width: float,
        available_depth: float,
        available_thickness: float,
        braced: bool,
    ) -> HeaderAnswer:
        """The adequate header with the fewest plies and then the least depth, of those that fit.

        `span` is the clear span, `width` the building's, both mm; `snow` is the ground snow load, kPa.
        A header fits if it is no deeper than `available_depth` and no thicker than
        `available_thickness`, mm. It is `braced` where plates or joists hold its top sideways, and
        not where cripples stand on it.
        """
        sizes = _sizes(self, carries)
        if not sizes:
            return _no(f"the header table has no part for a wall that carries {carries}")
        fitting = [
            cells
            for (plies, stock), cells in sizes.items()
            if self.lumber[stock].width <= available_depth + _TOLERANCE
            and self.lumber[stock].thickness * plies <= available_thickness + _TOLERANCE
        ]
        if not fitting:
            return _no(f"no header of the table fits {available_depth:.0f} mm deep, {available_thickness:.0f} mm thick")
        longest: HeaderCell | None = None
        for cells in fitting:
            cell = self._cell(cells, snow, width, braced)
            if cell is None:
                continue
            if span <= cell.span + _TOLERANCE:
                return HeaderAnswer(cell, "")
            if longest is None or cell.span > longest.span:
                longest = cell
        if longest is None:
            return _no(f"the header table ends before ground snow {snow:.2f} kPa, building width {width:.0f} mm")
        return _no(
            f"the longest span the table allows here is {longest.span:.0f} mm "
            f"({longest.plies}-{longest.stock}), and {span:.0f} mm is asked"
        )

    def cell(self, plies: int, stock: str, carries: str, snow: float, width: float, braced: bool) -> HeaderCell | None:
        """What the table allows a header of that size, as in `pick`; None where the table does not reach."""
        return self._cell(_sizes(self, carries).get((plies, stock), ()), snow, width, braced)

    def _cell(self, cells: Iterable[HeaderCell], snow: float, width: float, braced: bool) -> HeaderCell | None:
        cell = _at_snow(cells, snow, width)
        return cell if braced or cell is None else self._without_brace(cell)

    def _without_brace(self, cell: HeaderCell) -> HeaderCell:
        factor = self.unbraced.get(cell.stock)
        if factor is None:
            return cell
        return replace(cell, span=_whole(cell.span * factor.factor), grade=_worse(cell, factor))


@lru_cache(maxsize=32)
def _sizes(table: HeaderTable, carries: str) -> dict[tuple[int, str], list[HeaderCell]]:
    """Cells by (plies, stock), fewest plies first, then least depth."""
    sizes: dict[tuple[int, str], list[HeaderCell]] = {}
    for cell in table.cells:
        if cell.carries == carries:
            sizes.setdefault((cell.plies, cell.stock), []).append(cell)
    return {key: sizes[key] for key in sorted(sizes, key=lambda key: (key[0], table.lumber[key[1]].width))}


def _no(reason: str) -> HeaderAnswer:
    return HeaderAnswer(None, f"{reason}: needs an engineer")


def _at_snow(cells: Iterable[HeaderCell], snow: float, width: float) -> HeaderCell | None:
    columns: dict[float, list[HeaderCell]] = {}
    for cell in cells:
        columns.setdefault(cell.snow, []).append(cell)
    lighter = max((load for load in columns if load < snow - _TOLERANCE), default=None)
    heavier = sorted(load for load in columns if load >= snow - _TOLERANCE)
    for load in heavier:
        upper = _at_width(columns[load], width)
        if upper is None:
            continue  # this column does not reach the width; a heavier one that does is safe
        if lighter is None or load <= snow + _TOLERANCE or load != heavier[0]:
            return upper
        lower = _at_width(columns[lighter], width)
        if lower is None:
            return upper
        return replace(_between(lower, upper, (snow - lighter) / (load - lighter)), snow=snow, grade="C")
    return None


def _at_width(cells: Iterable[HeaderCell], width: float) -> HeaderCell | None:
    narrower: HeaderCell | None = None
    for cell in sorted(cells, key=lambda cell: cell.building_width):
        if cell.building_width >= width - _TOLERANCE:
            if narrower is None or cell.building_width <= width + _TOLERANCE:
                return cell
            share = (width - narrower.building_width) / (cell.building_width - narrower.building_width)
            return replace(_between(narrower, cell, share), building_width=width)
        narrower = cell
    return None


def _between(a: HeaderCell, b: HeaderCell, share: float) -> HeaderCell:
    span = a.span + (b.span - a.span) * share
    return replace(a, span=_whole(span), jacks=max(a.jacks, b.jacks), grade=_worse(a, b))


def _whole(span: float) -> float:
    return float(math.floor(span + _TOLERANCE))


def _worse(a: Fact, b: Fact) -> Grade:
    return max(a.grade, b.grade)
