"""Where the engineer wants panels to meet, and where not: the same two words for walls, floors, ceilings and roofs.

`joints` are places where panels must meet, `no_joints` stretches where they must not. Walls have theirs at the top of
the spec, by the wall's id; floors, ceilings and roofs in their own section.
"""

from __future__ import annotations

import math

from pydantic import ValidationInfo, field_validator

from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, Length, PositiveLength

__all__ = ["DeckJoint", "DeckNoJoint", "JointSpec", "NoJointSpec", "RoofJoint", "RoofNoJoint"]


class DeckJoint(SpecModel):
    """Cassettes meet `at` this plan coordinate across the joists, on their layout or off it."""

    at: Length


class DeckNoJoint(SpecModel):
    """No cassettes meet between `start` and `end`, plan coordinates across the joists."""

    start: Length
    end: Length

    @field_validator("end")
    @classmethod
    def _after_start(cls, end: float, info: ValidationInfo) -> float:
        if end <= info.data.get("start", -math.inf):
            raise BadValueError("end must be greater than start", "measure both from the same place")
        return end


class JointSpec(SpecModel):
    """Panels of `wall` meet `at` this distance from its start, on the stud layout or off it."""

    wall: Id
    at: PositiveLength


class NoJointSpec(DeckNoJoint):
    """No panels of `wall` meet between `start` and `end`, measured from its start."""

    wall: Id


class RoofJoint(DeckJoint):
    """Panels of the plane over `edge` meet `at` this distance from the start of the edge, on the layout or off it."""

    edge: Id


class RoofNoJoint(DeckNoJoint):
    """No panels of the plane over `edge` meet between `start` and `end`, measured from the start of the edge."""

    edge: Id
