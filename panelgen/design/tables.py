"""Tables of equal-length arrays: rows taken out of one, and several joined into one."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Self

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools

__all__ = ["Table", "columns", "pairs_within"]


class Table:
    """A frozen dataclass with slots all of whose fields are arrays with one entry per row."""

    __slots__: tuple[str, ...] = ()

    def __len__(self) -> int:
        return len(getattr(self, self.__slots__[0]))

    def take(self, rows: Ints) -> Self:
        """The rows with these numbers, in that order."""
        make: Callable[..., Self] = type(self)
        return make(*(getattr(self, name).take(rows, axis=0) for name in self.__slots__))

    def where(self, mask: Bools) -> Self:
        """The rows for which `mask` is True: itself where all are."""
        return self if mask.all() else self.take(np.flatnonzero(mask))

    @classmethod
    def joined(cls, tables: Sequence[Self]) -> Self:
        """All rows of some tables, in that order; at least one table."""
        make: Callable[..., Self] = cls
        return make(*(np.concatenate([getattr(table, name) for table in tables]) for name in cls.__slots__))


def columns(*parts: Floats) -> Floats:
    """(n, k) from k arrays (n,)."""
    return np.array(parts).T


def pairs_within(first: Ints, second: Ints) -> tuple[Ints, Ints]:
    """Rows of `first` and of `second` that are of one group, (p,) each, ordered by the first and then the second.

    Both name the group of each row; the groups of `second` ascend.
    """
    start = np.searchsorted(second, first, side="left")
    count = np.searchsorted(second, first, side="right") - start
    one = np.arange(len(first)).repeat(count)
    other = np.arange(len(one)) + (start - count.cumsum() + count).repeat(count)
    return one, other
