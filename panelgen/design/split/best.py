"""The best way to split a strip, exactly: fewest pieces first, then the least sum of what each piece costs.

A strip runs from the first of its `candidates` to the last, and may be split at any of those between. Walls,
floors and roofs differ only in which pieces are allowed, how many panels each is at least, and what they cost:

>>> stops = (0.0, 1200.0, 2400.0, 3600.0, 4800.0)
>>> best_split(stops, lambda i, j: (round(stops[j] - stops[i]) ** 2,), pieces(stops, 3000.0)).stops
(0, 2, 4)

Costs are tuples of whole numbers, compared as tuples are: the first number leads. Sums of such tuples keep their
order when the same is added to both, so a best split is made of best parts, and whole numbers leave no
room for rounding: what is found is what trying every split would find.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from panelgen.geometry.rods import Bools

__all__ = ["BestSplit", "Cost", "Parts", "best_split", "pieces", "without"]

Cost = tuple[int, ...]
"""What a piece costs, the most important first; all pieces of a strip have as many numbers."""

_EPS = 1e-6


class Parts(NamedTuple):
    """What a piece may be parted into itself: the fewest panels, how many ways there are, and how many into so few."""

    panels: int = 1
    legal: int = 1
    fewest: int = 1


_ONE = Parts()


@dataclass(frozen=True, slots=True)
class BestSplit:
    """The best split: `stops` are the numbers of the candidates taken, both ends among them.

    `panels` is how many it makes. `legal` counts all splits into allowed pieces, `fewest` those of them with as few
    panels as this one. Where that is the only one nothing had to be weighed and `cost`, the sum over the pieces,
    is None.
    """

    stops: tuple[int, ...]
    panels: int
    cost: Cost | None
    legal: int
    fewest: int

    def spans(self, candidates: Sequence[float]) -> tuple[tuple[float, float], ...]:
        """The pieces as stretches of the strip, from its start to its end."""
        return tuple((candidates[i], candidates[j]) for i, j in pairwise(self.stops))


def pieces(candidates: Sequence[float], longest: float, shortest: float = 0.0) -> Bools:
    """(n, n) True at [i, j] where a piece from candidate i to j is between `shortest` and `longest` (mm) long."""
    at = np.asarray(candidates, dtype=float)
    length = at[None, :] - at[:, None]
    result: Bools = (length > 0.0) & (length >= shortest - _EPS) & (length <= longest + _EPS)
    return result


def without(allowed: Bools, pins: Iterable[int]) -> Bools:
    """The allowed pieces without those that reach across a pinned candidate: every split then has a joint there."""
    kept = allowed.copy()
    for pin in pins:
        kept[:pin, pin + 1 :] = False
    return kept


def best_split(
    candidates: Sequence[float],
    cost: Callable[[int, int], Cost],
    allowed: Bools,
    parts: Callable[[int, int], Parts] | None = None,
) -> BestSplit | None:
    """The best split of a strip at its `candidates`, ascending; None where no split has allowed pieces only.

    `allowed` (n, n) says which pieces may be, from candidate i to j > i; `parts` what each is parted into, left out
    one panel. `cost` is that of a piece parted the best way. It is asked only for pieces that some split into the
    fewest panels is made of, once each, and not at all where there is one such split. Among equally good splits
    the one with the earliest last joint is taken, and so on backward.
    """
    of = parts or _whole
    last = len(candidates) - 1
    before = [np.flatnonzero(allowed[:j, j]).tolist() for j in range(last + 1)]
    count: list[int | None] = [0]
    legal, fewest = [1], [1]
    for j in range(1, last + 1):
        ways = [(i, so_far, of(i, j)) for i in before[j] if (so_far := count[i]) is not None]
        least = min((so_far + part.panels for _, so_far, part in ways), default=None)
        count.append(least)
        legal.append(sum(legal[i] * part.legal for i, _, part in ways))
        fewest.append(sum(fewest[i] * part.fewest for i, so_far, part in ways if so_far + part.panels == least))
    panels = count[last]
    if panels is None:
        return None
    shortest = _on_shortest(before, count, of)
    best: dict[int, tuple[Cost, int]] = {0: ((), 0)}
    weighed = fewest[last] > 1
    for j, origins in shortest:
        best[j] = min((_sum(best[i][0], cost(i, j)) if weighed else (), i) for i in origins)
    stops = [last]
    while stops[-1]:
        stops.append(best[stops[-1]][1])
    return BestSplit(tuple(reversed(stops)), panels, best[last][0] if weighed else None, legal[last], fewest[last])


def _whole(_start: int, _stop: int) -> Parts:
    """A piece that is one panel."""
    return _ONE


def _on_shortest(
    before: Sequence[Sequence[int]], count: Sequence[int | None], of: Callable[[int, int], Parts]
) -> list[tuple[int, list[int]]]:
    """The candidates that splits into the fewest panels pass, ascending, each with those they come from."""
    wanted = {len(before) - 1}
    found = []
    for j in range(len(before) - 1, 0, -1):
        if j in wanted:
            ways = ((i, so_far, of(i, j)) for i in before[j] if (so_far := count[i]) is not None)
            origins = [i for i, so_far, part in ways if so_far + part.panels == count[j]]
            wanted.update(origins)
            found.append((j, origins))
    return found[::-1]


def _sum(one: Cost, other: Cost) -> Cost:
    return tuple(a + b for a, b in zip(one, other, strict=True)) if one else other
