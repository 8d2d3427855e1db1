"""How much stock sheathing covers a stretch, before anybody lays it."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations_with_replacement, count
from math import floor

__all__ = ["cover"]

_EPS = 1e-6


@lru_cache(maxsize=16384)
def cover(lengths: tuple[float, ...], width: float, bay: float) -> float:
    """The least length (mm) of stock sheets, as few as can be end to end, that covers a width from one stick on.

    `lengths` are those of the stock. Sheets meet on sticks that are `bay` apart, so all but one are cut to whole bays:

    >>> cover((2438.4, 2743.2), 5000.0, 406.4)
    5181.6
    """
    bays = [(floor(length / bay + _EPS) * bay or length, length) for length in lengths]
    for number in count(1):
        fitting = [
            sum(length for _, length in lot)
            for lot in combinations_with_replacement(bays, number)
            if sum(cut for cut, _ in lot) + max(length - cut for cut, length in lot) >= width - _EPS
        ]
        if fitting:
            return min(fitting)
    raise AssertionError("numbers do not end")
