"""Service runs, boxes, sleeves and backing, as a trade or the designer asks for them."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Depth, Id, Length, PositiveLength, Text

__all__ = ["BackingSpec", "BoxSpec", "RunSpec", "SleeveSpec", "System"]

System = Literal[
    "cold water", "hot water", "drain", "vent", "supply air", "return air", "power", "data", "low voltage", "gas",
    "heating",
]  # fmt: skip


class RunSpec(SpecModel):
    """A run by its centre line. Give a catalog `size` (such as ``pex-1/2``) or an outside `diameter`.

    With `wall`, each point is (along the wall, above its bottom, depth): depth is a z in panel terms
    (0 at the inner face of the framing, positive toward the weather) or a word: ``cavity`` for the
    middle of the service cavity, ``framing`` for the middle of the framing. Without `wall`, points
    are house coordinates.
    """

    id: Id
    system: System
    size: Text | None = None
    diameter: PositiveLength | None = None
    wall: Id | None = None
    path: tuple[tuple[Length, Length, Depth], ...] = Field(min_length=2, max_length=1000)

    @model_validator(mode="after")
    def _size(self) -> RunSpec:
        if (self.size is None) == (self.diameter is None):
            given = "neither" if self.size is None else "each"
            raise BadValueError(f"{given} of size and diameter is given", "give a size from the catalog, or a diameter")
        if self.wall is None and any(isinstance(point[2], str) for point in self.path):
            raise BadValueError(
                "a depth word such as cavity needs a wall", "name the wall, or give three lengths in house coordinates"
            )
        return self


class SleeveSpec(SpecModel):
    """A sealed way for one run through the barrier sheets of a wall, centred at (along, above bottom)."""

    id: Id
    run: Id
    wall: Id
    at: tuple[Length, Length]
    product: Text
    seal: Text


class BoxSpec(SpecModel):
    """A device box, its front flush with the inside of the strapping (or of the framing where there is none)."""

    id: Id
    wall: Id
    product: Text
    at: tuple[Length, Length]


class BackingSpec(SpecModel):
    """Wood for later trades, centred `height` above the wall's bottom, from `start` to `end` along it.

    ``strap`` adds a strap on the cavity side; ``blocking`` puts flat stock between the studs, flush
    with the inner face of the framing.
    """

    id: Id
    wall: Id
    start: Length
    end: Length
    height: PositiveLength
    kind: Literal["strap", "blocking"] = "strap"
    stock: Text | None = None
    reason: Text

    @field_validator("end")
    @classmethod
    def _after_start(cls, end: float, info: ValidationInfo) -> float:
        if end <= info.data.get("start", -math.inf):
            raise BadValueError("end must be greater than start", "measure both from the start of the wall")
        return end
