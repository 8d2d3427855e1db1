"""Every split of a field into columns, and of each column along its sticks, tried one by one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from itertools import combinations, combinations_with_replacement, pairwise, product

from panelgen.model import Partition

__all__ = ["Panel", "Score", "Tried", "disagreement", "least_stock", "try_all"]

Panel = tuple[float, float, float, float]
"""A panel of a field: from x to x, and from y to y along its sticks, mm."""
Score = tuple[int, int, int]
"""Panels, waste in cm2, and the sum of their squared masses in tenths of a kg."""
Cost = Callable[[Panel], tuple[int, int] | None]
"""Waste and squared mass of a panel, None for one that some limit forbids."""


@dataclass
class Tried:
    """How many legal splits there are, by their number of panels, and the best of them."""

    counts: Counter[int] = field(default_factory=Counter)
    best: Score | None = None

    @property
    def legal(self) -> int:
        """How many there are in all."""
        return sum(self.counts.values())


def try_all(
    ends: tuple[float, float],
    joints: Sequence[float],
    pins: Sequence[float],
    lines: Callable[[float, float], Sequence[float]],
    cost: Cost,
) -> Tried:
    """Every split at some of `joints` and all `pins`; `lines` are the ends of a column and where it may be parted."""
    tried = Tried()
    for count in range(len(joints) + 1):
        for chosen in combinations(joints, count):
            stops = sorted((*ends, *pins, *chosen))
            columns = [_columns(a, b, tuple(lines(a, b)), cost) for a, b in pairwise(stops)]
            for parts in product(*columns):
                score = (sum(n for n, _, _ in parts), sum(w for _, w, _ in parts), sum(m for _, _, m in parts))
                tried.counts[score[0]] += 1
                tried.best = score if tried.best is None else min(tried.best, score)
    return tried


def _columns(a: float, b: float, lines: Sequence[float], cost: Cost) -> list[Score]:
    """Every legal way to part a column."""
    return list(_ways(a, b, lines, cost))


def _ways(a: float, b: float, lines: Sequence[float], cost: Cost) -> Iterator[Score]:
    for count in range(len(lines) - 1):
        for chosen in combinations(lines[1:-1], count):
            costs = [cost((a, b, low, high)) for low, high in pairwise((lines[0], *chosen, lines[-1]))]
            legal = [one for one in costs if one is not None]
            if len(legal) == len(costs):
                yield len(costs), sum(waste for waste, _ in legal), sum(mass for _, mass in legal)


def disagreement(
    partition: Partition, ends: tuple[float, float], rows: tuple[float, float], tried: Tried, cost: Cost
) -> str:
    """What a partition says that trying every split does not."""
    if tried.best is None:
        return "" if partition.legal == 0 and partition.gap is None else "a split where there is none"
    panels = []
    for a, b in pairwise((ends[0], *partition.joints, ends[1])):
        parted = [up for start, end, up in partition.across if start == a and end == b]
        panels += [(a, b, low, high) for low, high in pairwise((rows[0], *parted, rows[1]))]
    costs = [cost(panel) for panel in panels]
    if None in costs:
        return f"an illegal split at {partition.joints}, {partition.across}"
    found = (len(costs), sum(one[0] for one in costs if one), sum(one[1] for one in costs if one))
    fewest = tried.counts[tried.best[0]]
    if (found, partition.legal, partition.fewest, partition.gap) != (tried.best, tried.legal, fewest, 0):
        return f"{found} of {partition.legal}/{partition.fewest}, not {tried.best} of {tried.legal}/{fewest}"
    if partition.cost is not None:
        waste, masses = round(partition.cost.waste * 1e4), round(partition.cost.squared_masses * 100)
        if (partition.cost.panels, waste, masses) != tried.best:
            return f"{partition.cost} is not {tried.best}"
    return ""


@cache
def least_stock(lengths: tuple[float, ...], width: float, bay: float) -> float:
    """The least length of stock, of as few sheets as can be, of which all but one are cut to whole bays (mm)."""
    for count in range(1, 20):
        fitting = []
        for lot in combinations_with_replacement(lengths, count):
            cut = [int(length / bay + 1e-6) * bay for length in lot]
            if any(sum(cut) - cut[n] + lot[n] >= width - 1e-6 for n in range(count)):
                fitting.append(sum(lot))
        if fitting:
            return min(fitting)
    raise AssertionError("no stretch is so wide")
