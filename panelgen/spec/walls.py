"""Levels, outlines and wall lines."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, Length, LevelId, Name, PositiveLength, SomeLength

__all__ = ["Corner", "Gable", "Level", "Outline", "PlanPoint", "WallLine"]

PlanPoint = tuple[Length, Length]


class Gable(SpecModel):
    """A wall top that rises from `eave` at `rise` in `run` to a peak and falls at the same slope, seen from outside.

    `peak` is where along the wall the top is highest: the middle if left out, so both ends are at `eave`;
    elsewhere `eave` is the lower end; 0 or the wall's length gives a single slope.
    """

    eave: SomeLength
    rise: PositiveLength
    run: PositiveLength = 304.8
    peak: SomeLength | None = None

    def top(self, length: float) -> tuple[PlanPoint, ...]:
        """The top of a wall of that `length` as points (along the wall, height), mm, from start to end."""
        peak = length / 2 if self.peak is None else min(self.peak, length)
        slope = self.rise / self.run
        height = self.eave + slope * max(peak, length - peak)
        points = ((0.0, height - slope * peak), (peak, height), (length, height - slope * (length - peak)))
        return tuple(dict.fromkeys(points))


class _WallOptions(SpecModel):
    assembly: Name | None = None
    bearing: bool | None = None
    height: PositiveLength | None = None
    gable: Gable | None = None
    ends: Literal["auto", "through", "butt"] = "auto"

    def top(self, level: Level, length: float) -> tuple[PlanPoint, ...]:
        """The top of the wall as points (along the wall, height), mm, from start to end."""
        if self.gable is not None:
            return self.gable.top(length)
        height = self.height or level.height
        return ((0.0, height), (length, height))


class Corner(_WallOptions):
    """A point of an outline, and the wall that starts there and runs to the next point."""

    wall: Id
    at: PlanPoint


class Outline(SpecModel):
    """Exterior walls, counter-clockwise seen from above, along the outer face of the framing.

    A `closed` outline returns to its first point; an open one ends at its last point, whose wall
    options are not used.
    """

    assembly: Name
    corners: tuple[Corner, ...] = Field(min_length=2, max_length=200)
    closed: bool = True


class WallLine(_WallOptions):
    """A single wall along a line. `along` says what the line is: the middle or the outer face of the framing.

    The weather side (or side A of an interior wall) is on the right, walking from start to end.
    """

    wall: Id
    assembly: Name
    start: PlanPoint
    end: PlanPoint
    exterior: bool = False
    along: Literal["center", "outer face"] = "center"


class Level(SpecModel):
    """A storey: its walls stand on `elevation` and are `height` high, bottom of plate to top of plates.

    Left out, `elevation` is that of the top of the level listed before, and of the level's floor over it.

    `has_floor` says whether walls below carry a floor here; false for gable walls on top of a storey.
    """

    id: LevelId
    elevation: Length | None = None
    height: PositiveLength
    has_floor: bool = True
    outlines: tuple[Outline, ...] = ()
    walls: tuple[WallLine, ...] = ()

    @model_validator(mode="after")
    def _some_wall(self) -> Level:
        if not self.outlines and not self.walls:
            raise BadValueError(
                "a level needs at least one outline or wall", "add outlines or walls to it, or leave it out"
            )
        return self

    @property
    def base(self) -> float:
        """Where its walls stand, mm; only in a house whose heights are settled."""
        if self.elevation is None:
            raise ValueError(f"the heights of level {self.id} are not settled")
        return self.elevation
