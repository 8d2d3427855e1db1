"""How a wall, a floor, a ceiling or a roof plane was split into panels, and how good that split is."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Partition", "SplitCost"]


@dataclass(frozen=True, slots=True)
class SplitCost:
    """What a split is weighed by, the first first: panels, waste of both sheathings (m2), and the sum of the
    squared masses of its panels (kg2), which is least where they weigh the same."""

    panels: int
    waste: float
    squared_masses: float


@dataclass(frozen=True, slots=True)
class Partition:
    """The split of one `wall`, of a rectangle of a floor or ceiling, or of a convex part of a roof plane.

    It runs from `start` (mm along it) over `length` and is split at `joints`. What is not a wall may also be parted
    along its sticks: each of `across` has where the column begins and ends, and how far along its sticks it is parted.
    `kind` is ``wall``, ``floor``, ``ceiling`` or ``roof``.

    `candidates` counts the places where a joint may fall, `legal` the splits that keep every limit, `fewest` those of
    them with the fewest panels. The split is the best of these by `cost`, and proven so: every one was
    weighed. `cost` is None where there was one choice only, and where `legal` is 0: then the limits that are broken
    are a finding, and `least` is a bound: no split has fewer panels than that.
    """

    wall: str
    start: float
    length: float
    joints: tuple[float, ...]
    candidates: int
    legal: int
    fewest: int
    cost: SplitCost | None = None
    kind: str = "wall"
    across: tuple[tuple[float, float, float], ...] = ()
    least: int = 1

    @property
    def panels(self) -> int:
        """How many panels there are."""
        return len(self.joints) + len(self.across) + 1

    @property
    def gap(self) -> int | None:
        """How many panels more than the least possible there are; None where no split keeps every limit."""
        return self.panels - self.least if self.legal else None

    @property
    def method(self) -> str:
        """How the split was found, in words."""
        return "exact: the best of all legal splits" if self.legal else "none is legal: the best that the line takes"
