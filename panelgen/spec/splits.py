"""Where the engineer wants panels of a wall to meet, and where not."""

from __future__ import annotations

import math

from pydantic import ValidationInfo, field_validator

from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, Length, PositiveLength

__all__ = ["JointSpec", "NoJointSpec"]


class JointSpec(SpecModel):
    """Panels of `wall` meet `at` this distance from its start, on the stud layout or off it."""

    wall: Id
    at: PositiveLength


class NoJointSpec(SpecModel):
    """No panels of `wall` meet between `start` and `end`, measured from its start."""

    wall: Id
    start: Length
    end: Length

    @field_validator("end")
    @classmethod
    def _after_start(cls, end: float, info: ValidationInfo) -> float:
        if end <= info.data.get("start", -math.inf):
            raise BadValueError("end must be greater than start", "measure both from the start of the wall")
        return end
