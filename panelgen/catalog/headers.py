"""Header tables: the smallest built-up header that a prescriptive table allows.

Between building-width columns spans are interpolated linearly, as the table's footnote permits
(read second-hand). Between snow columns they are interpolated too, for which no source was read: such
a result is unverified. Left of the first column its value holds, the safe side; past the last column the
table has ended. Interpolated spans are floored to whole millimetres.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from panelgen.catalog.rows import Grade, HeaderCell, Lumber

__all__ = ["HeaderAnswer", "HeaderTable"]

_TOLERANCE = 1e-6


@dataclass(frozen=True, slots=True)
class HeaderAnswer:
    """The header to use, or None and the reason in words. `cell.span` is the span it allows, mm."""

    cell: HeaderCell | None
    reason: str


@dataclass(frozen=True, slots=True, eq=False)
class HeaderTable:
    """One edition's cells."""

    cells: tuple[HeaderCell, ...]

    def pick(
        self,
        span: float,
        carries: str,
        snow: float,
        width: float,
        available_depth: float,
        available_thickness: float,
        lumber: Mapping[str, Lumber],
    ) -> HeaderAnswer:
        """The adequate header with the fewest plies and then the least depth, of those that fit.

        `span` is the clear span, `width` the building's, both mm; `snow` is the ground snow load, kPa.
        A header fits if it is no deeper than `available_depth` and no thicker than
        `available_thickness`, mm.
        """
        sizes = self._sizes(carries, lumber)
        if not sizes:
            return _no(f"the header table has no part for a wall that carries {carries}")
        fitting = [
            key
            for key in sizes
            if lumber[key[1]].width <= available_depth + _TOLERANCE
            and key[0] * lumber[key[1]].thickness <= available_thickness + _TOLERANCE
        ]
        if not fitting:
            return _no(f"no header of the table fits {available_depth:.0f} mm deep, {available_thickness:.0f} mm thick")
        allowed = [cell for key in fitting if (cell := _at_snow(sizes[key], snow, width)) is not None]
        if not allowed:
            return _no(f"the header table ends before ground snow {snow:.2f} kPa, building width {width:.0f} mm")
        for cell in allowed:
            if span <= cell.span + _TOLERANCE:
                return HeaderAnswer(cell, "")
        longest = max(allowed, key=lambda cell: cell.span)
        return _no(
            f"the longest span the table allows here is {longest.span:.0f} mm "
            f"({longest.plies}-{longest.stock}), and {span:.0f} mm is asked"
        )

    def _sizes(self, carries: str, lumber: Mapping[str, Lumber]) -> dict[tuple[int, str], list[HeaderCell]]:
        """Cells by (plies, stock), fewest plies first, then least depth."""
        sizes: dict[tuple[int, str], list[HeaderCell]] = {}
        for cell in self.cells:
            if cell.carries == carries:
                sizes.setdefault((cell.plies, cell.stock), []).append(cell)
        return {key: sizes[key] for key in sorted(sizes, key=lambda key: (key[0], lumber[key[1]].width))}


def _no(reason: str) -> HeaderAnswer:
    return HeaderAnswer(None, f"{reason}: needs an engineer")


def _at_snow(cells: Iterable[HeaderCell], snow: float, width: float) -> HeaderCell | None:
    columns: dict[float, list[HeaderCell]] = {}
    for cell in cells:
        columns.setdefault(cell.snow, []).append(cell)
    heavier = min((load for load in columns if load >= snow), default=None)
    if heavier is None:
        return None
    upper = _at_width(columns[heavier], width)
    lighter = max((load for load in columns if load < snow), default=None)
    if lighter is None or heavier == snow or upper is None:
        return upper
    lower = _at_width(columns[lighter], width)
    if lower is None:
        return None
    between = _between(lower, upper, (snow - lighter) / (heavier - lighter))
    return replace(between, snow=snow, grade="C")


def _at_width(cells: Iterable[HeaderCell], width: float) -> HeaderCell | None:
    narrower: HeaderCell | None = None
    for cell in sorted(cells, key=lambda cell: cell.building_width):
        if cell.building_width >= width:
            if narrower is None or cell.building_width == width:
                return cell
            share = (width - narrower.building_width) / (cell.building_width - narrower.building_width)
            return replace(_between(narrower, cell, share), building_width=width)
        narrower = cell
    return None


def _between(a: HeaderCell, b: HeaderCell, share: float) -> HeaderCell:
    span = math.floor(a.span + (b.span - a.span) * share + _TOLERANCE)
    worse: Grade = max(a.grade, b.grade)
    return replace(a, span=float(span), jacks=max(a.jacks, b.jacks), grade=worse)
