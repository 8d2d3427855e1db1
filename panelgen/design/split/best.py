"""The best way to split a strip, exactly: fewest pieces first, then the least sum of what each piece costs.

A strip runs from the first of its `candidates` to the last, and may be split at any of those between. Walls,
floors and roofs differ only in which pieces are allowed and what they cost:

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

import numpy as np

from panelgen.geometry.rods import Bools

__all__ = ["BestSplit", "Cost", "best_split", "pieces", "without"]

Cost = tuple[int, ...]
"""What a piece costs, the most important first; all pieces of a strip have as many numbers."""

_EPS = 1e-6


@dataclass(frozen=True, slots=True)
class BestSplit:
    """The best split: `stops` are the numbers of the candidates taken, both ends among them.

    `legal` counts all splits into allowed pieces, `fewest` those of them with as few pieces as this one. Where
    that is the only one nothing had to be weighed and `cost`, the sum over the pieces, is None.
    """

    stops: tuple[int, ...]
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


def best_split(candidates: Sequence[float], cost: Callable[[int, int], Cost], allowed: Bools) -> BestSplit | None:
    """The best split of a strip at its `candidates`, ascending; None where no split has allowed pieces only.

    `allowed` (n, n) says which pieces may be, from candidate i to j > i. `cost` is asked only for pieces that
    some split into the fewest is made of, once each, and not at all where there is one such split. Among equally
    good splits the one with the earliest last joint is taken, and so on backward.
    """
    last = len(candidates) - 1
    before = [np.flatnonzero(allowed[:j, j]).tolist() for j in range(last + 1)]
    count: list[int | None] = [0]
    legal, fewest = [1], [1]
    for j in range(1, last + 1):
        counts = [count[i] for i in before[j]]
        least = min((one for one in counts if one is not None), default=None)
        count.append(None if least is None else least + 1)
        legal.append(sum(legal[i] for i in before[j]))
        fewest.append(sum(fewest[i] for i in before[j] if count[i] == least) if least is not None else 0)
    if count[last] is None:
        return None
    shortest = _on_shortest(before, count)
    best: dict[int, tuple[Cost, int]] = {0: ((), 0)}
    weighed = fewest[last] > 1
    for j, origins in shortest:
        ways = ((_sum(best[i][0], cost(i, j)) if weighed else (), i) for i in origins)
        best[j] = min(ways)
    stops = [last]
    while stops[-1]:
        stops.append(best[stops[-1]][1])
    return BestSplit(tuple(reversed(stops)), best[last][0] if weighed else None, legal[last], fewest[last])


def _on_shortest(before: Sequence[Sequence[int]], count: Sequence[int | None]) -> list[tuple[int, list[int]]]:
    """The candidates that splits into the fewest pieces pass, ascending, each with those they come from."""
    wanted = {len(before) - 1}
    found = []
    for j in range(len(before) - 1, 0, -1):
        steps = count[j]
        if j in wanted and steps is not None:
            origins = [i for i in before[j] if count[i] == steps - 1]
            wanted.update(origins)
            found.append((j, origins))
    return found[::-1]


def _sum(one: Cost, other: Cost) -> Cost:
    return tuple(a + b for a, b in zip(one, other, strict=True)) if one else other
