"""How a run is led over a grid."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Manner"]


@dataclass(frozen=True, slots=True)
class Manner:
    """How a run is led: whole numbers of grid units.

    A turn takes `reach` of each of its legs, but only `end_reach` of a leg that ends there; it counts as
    `bend_cost` more length. `closed` are directions that no leg takes: 0 and 1 ahead and back along x, 2
    and 3 along y, 4 and 5 along z.
    """

    reach: int
    end_reach: int
    bend_cost: int = 0
    closed: frozenset[int] = frozenset()
