"""Places along a strip where its panels may meet: on the layout, clear of openings, and wherever the spec asks."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from panelgen.design.brief import Span
from panelgen.design.split.best import pieces, without
from panelgen.geometry.rods import Bools

__all__ = ["Stops", "legal_joints", "stops_between"]

_EPS = 1e-6


class Stops(NamedTuple):
    """The ends of a strip and where its panels may meet, ascending, mm; `fixed` are the numbers of its ends and of
    the joints that the spec asks for."""

    at: tuple[float, ...]
    fixed: tuple[int, ...]

    @property
    def pins(self) -> tuple[int, ...]:
        """The numbers of the joints that the spec asks for."""
        return self.fixed[1:-1]

    def allowed(self, shortest: float, longest: float = math.inf) -> Bools:
        """(n, n) True at [i, j] where a panel from stop i to j > i reaches over no pin and is neither longer than
        `longest` nor shorter than `shortest` (mm), unless both of its ends are fixed."""
        kept = without(pieces(self.at, longest, shortest), self.pins)
        for a, b in pairwise(self.fixed):
            kept[a, b] = self.at[b] - self.at[a] <= longest + _EPS
        return kept


def stops_between(span: Span, places: Iterable[float], pins: Iterable[float]) -> Stops:
    """The stops of a strip over `span`, given the places where joints may and those where they must be (mm)."""
    start, end = span
    asked = sorted({x for x in pins if start + _EPS < x < end - _EPS})
    free = (x for x in places if all(abs(x - pin) > _EPS for pin in asked))
    at = (start, *sorted((*free, *asked)), end)
    return Stops(at, tuple(n for n, x in enumerate(at) if n in (0, len(at) - 1) or x in asked))


def legal_joints(layout: Sequence[float], span: Span, keep_clear: Sequence[Span], shortest: float) -> tuple[float, ...]:
    """Layout lines (mm along the strip) where a joint may fall: `shortest` away from the ends of `span`, and in none of
    the stretches `keep_clear`."""
    lo, hi = span
    return tuple(
        x
        for x in layout
        if lo + shortest - _EPS <= x <= hi - shortest + _EPS
        and all(x <= a + _EPS or x >= b - _EPS for a, b in keep_clear)
    )
