"""Windows, doors and bare openings."""

from __future__ import annotations

from typing import Literal

from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, Name, PositiveLength, SomeLength

__all__ = ["Clearance", "OpeningSpec", "UnitType"]


class Clearance(SpecModel):
    """What the rough opening adds to the unit: at each side, above the head, below the sill (mm)."""

    side: SomeLength = 12.7
    head: SomeLength = 12.7
    sill: SomeLength = 12.7


class UnitType(SpecModel):
    """A unit by its outside frame size. A door's rough opening starts at the floor."""

    kind: Literal["window", "door", "opening"]
    width: PositiveLength
    height: PositiveLength
    clearance: Clearance = Clearance()

    @property
    def rough_width(self) -> float:
        """Width of the rough opening, mm."""
        return self.width + 2 * self.clearance.side

    def rough_height(self, sill: float) -> float:
        """Height of the rough opening with its bottom at `sill`, mm; at the floor there is no clearance below."""
        return self.height + self.clearance.head + (self.clearance.sill if sill > 0 else 0.0)


class OpeningSpec(SpecModel):
    """One opening in a wall. `center` is along the wall from its start, left to right seen from outside.

    `sill` is the height of the rough opening's bottom above the bottom of the wall; doors and bare
    openings start at 0 unless it is given.
    """

    id: Id
    wall: Id
    type: Name
    center: PositiveLength
    sill: SomeLength | None = None

    @property
    def bottom(self) -> float:
        """Height of the rough opening's bottom above the bottom of the wall, mm."""
        return self.sill or 0.0

    def rough_opening(self, unit: UnitType) -> tuple[float, float, float, float]:
        """The rough opening for `unit` in wall coordinates, mm: left, bottom, right, top."""
        half = unit.rough_width / 2
        return (self.center - half, self.bottom, self.center + half, self.bottom + unit.rough_height(self.bottom))
