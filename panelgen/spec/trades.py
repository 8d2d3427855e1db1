"""What later trades will hang on a wall, from which the backing follows."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import ValidationInfo, field_validator, model_validator

from panelgen.catalog.trades import Trade
from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, Length, Mass, PositiveLength, Text

__all__ = ["TradeSpec"]

_RISING: tuple[Trade, ...] = ("handrail", "stair")


class TradeSpec(SpecModel):
    """What will hang on one face of a wall, from `start` to `end` along it or all along it.

    Heights come from the catalog; `height` is the middle of a single row instead: of a bar, a rail or equipment, or a
    ceiling below the top of the wall that a board ends at. The row of a stair or handrail rises or falls from `height`
    at its `start` to `end_height` at its `end`. Equipment gives its `mass`. The ``outer`` face is side A of an interior
    wall.
    """

    id: Id
    wall: Id
    hang: Trade
    face: Literal["inner", "outer"] = "inner"
    start: Length | None = None
    end: Length | None = None
    height: PositiveLength | None = None
    end_height: PositiveLength | None = None
    mass: Mass | None = None
    reason: Text | None = None

    @field_validator("end")
    @classmethod
    def _after_start(cls, end: float | None, info: ValidationInfo) -> float | None:
        if end is not None and end <= (info.data.get("start") or -math.inf):
            raise BadValueError("end must be greater than start", "measure both from the start of the wall")
        return end

    @model_validator(mode="after")
    def _complete(self) -> TradeSpec:
        if self.hang == "equipment" and (self.height is None or self.mass is None):
            raise BadValueError("equipment needs a height and a mass", "give both, such as height: 60 in, mass: 80 lb")
        if self.hang == "stair" and self.height is None:
            raise BadValueError(
                "a stair needs the height of its stringer", "give height, and end_height where it rises"
            )
        if self.end_height is not None and self.hang not in _RISING:
            raise BadValueError(f"a row of a {self.hang} is level", "leave end_height out")
        if self.end_height is not None and None in (self.height, self.start, self.end):
            raise BadValueError("a row that rises needs both its ends", "give start, end and height besides end_height")
        if self.hang == "kitchen" and self.height is not None:
            raise BadValueError("a kitchen has rows at several heights", "leave the height out, or use backing rows")
        return self
