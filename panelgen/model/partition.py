"""How a wall was split into panels, and how good that split is."""

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
    """The split of one wall, or of a rectangle of a floor across its joists, from `start` (mm along it), at `joints`.

    `candidates` counts the places where a joint may fall, `legal` the splits that keep every limit, `fewest` those of
    them with the fewest panels. The split is the best of these by `cost`, and proven so: every one was
    weighed. `cost` is None where there was one choice only, and where `legal` is 0: then the limits that are broken
    are a finding.
    """

    wall: str
    start: float
    length: float
    joints: tuple[float, ...]
    candidates: int
    legal: int
    fewest: int
    cost: SplitCost | None = None
