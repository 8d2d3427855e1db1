"""What seals the joints of panels, where the catalog's choice for the kind of joint does not do."""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Text

__all__ = ["NO_SEAL", "SealSpec"]

NO_SEAL = "none"
"""Stands for no seal."""

_JointName = Literal[
    "in line",
    "corner",
    "tee",
    "stacked",
    "wall to floor",
    "wall to ceiling",
    "wall to roof",
    "wall on roof",
    "floor to floor",
    "ceiling to ceiling",
    "roof to ceiling",
    "roof to roof",
    "ridge",
    "hip",
    "valley",
    "lay-over",
    "foundation",
    "opening",
    "seam",
]


class SealSpec(SpecModel):
    """Seals for every joint of a kind, or for the one `between` a panel and another, `foundation`, or an opening.

    Later entries win. `air` and `weather` name products of the catalog, or ``none``; what is left out stays.
    """

    joint: _JointName | None = None
    between: tuple[Text, Text] | None = None
    air: Text | None = None
    weather: Text | None = None

    @model_validator(mode="after")
    def _says_where_and_what(self) -> SealSpec:
        if self.joint is None and self.between is None:
            raise BadValueError("nothing says which joint this is for", "give joint: KIND or between: [PANEL, PANEL]")
        if self.air is None and self.weather is None:
            raise BadValueError("nothing says what seals the joint", "give air or weather: a product, or none")
        return self
