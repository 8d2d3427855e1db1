"""Windows, doors and bare openings."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, Length, PositiveLength

__all__ = ["Clearance", "OpeningSpec", "UnitType"]


class Clearance(SpecModel):
    """What the rough opening adds to the unit: at each side, above the head, below the sill (mm)."""

    side: Length = Field(default=12.7, ge=0)
    head: Length = Field(default=12.7, ge=0)
    sill: Length = Field(default=12.7, ge=0)


class UnitType(SpecModel):
    """A unit by its outside frame size. A door's rough opening starts at the floor."""

    kind: Literal["window", "door", "opening"]
    width: PositiveLength
    height: PositiveLength
    clearance: Clearance = Clearance()


class OpeningSpec(SpecModel):
    """One opening in a wall. `center` is along the wall from its start, left to right seen from outside.

    `sill` is the height of the rough opening's bottom above the bottom of the wall; doors and bare
    openings start at 0 unless it is given.
    """

    id: Id
    wall: Id
    type: str
    center: Length
    sill: Length | None = Field(default=None, ge=0)

    @model_validator(mode="after")
    def _finite(self) -> OpeningSpec:
        if self.center <= 0:
            raise ValueError("center must be greater than 0: it is measured along the wall from its start")
        return self
