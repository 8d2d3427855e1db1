"""What lifts a panel and what carries it: limits on its size and mass besides those of the line."""

from __future__ import annotations

from itertools import pairwise

from pydantic import Field, model_validator

from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Mass, PositiveLength
from panelgen.spec.walls import PlanPoint

__all__ = ["CraneReach", "CraneSpec", "TruckSpec"]


class CraneReach(SpecModel):
    """The greatest `mass` that the crane lifts out to `radius`, rigging and hook block taken off."""

    radius: PositiveLength
    mass: Mass


class CraneSpec(SpecModel):
    """A crane that stands at the plan point `at`, and what its load chart allows by radius, nearest first.

    Only what the shop copies from the chart is known here: between two radii the mass of the greater one
    counts, and nothing is lifted beyond the last. The crane's own load chart and a qualified person decide.
    """

    at: PlanPoint
    table: tuple[CraneReach, ...] = Field(min_length=1, max_length=100)

    @model_validator(mode="after")
    def _falls_with_the_radius(self) -> CraneSpec:
        for near, far in pairwise(self.table):
            if far.radius <= near.radius:
                raise BadValueError("the radii of a crane's table grow from row to row", "list the nearest first")
            if far.mass > near.mass:
                raise BadValueError("a crane lifts no more at a greater radius", "compare the rows with its chart")
        return self


class TruckSpec(SpecModel):
    """The longest, highest and heaviest panel that goes on the truck; what is left out is no limit."""

    length: PositiveLength | None = None
    height: PositiveLength | None = None
    mass: Mass | None = None

    @model_validator(mode="after")
    def _limits_something(self) -> TruckSpec:
        if self.length is None and self.height is None and self.mass is None:
            raise BadValueError("nothing says what the truck can take", "give length, height or mass, or leave it out")
        return self
