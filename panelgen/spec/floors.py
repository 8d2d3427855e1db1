"""Floors and ceilings: what spans between walls, split into cassettes that the shop builds in one piece."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, LevelId, Name, PositiveLength, Text
from panelgen.spec.splits import DeckJoint, DeckNoJoint
from panelgen.spec.walls import Level, PlanPoint

__all__ = ["CeilingSpec", "DeckBeam", "DeckOpening", "DeckSpec", "FloorSpec"]


class DeckOpening(SpecModel):
    """A rectangular hole in plan: `at` is its corner of least x and y, `size` its extent along x and y.

    A ``stair`` and a ``hatch`` keep services out; they may run through a ``shaft``.
    """

    id: Id
    at: PlanPoint
    size: tuple[PositiveLength, PositiveLength]
    kind: Literal["stair", "shaft", "hatch"] = "stair"


class DeckBeam(SpecModel):
    """A beam or foundation wall whose top is at the underside of a deck: the middle line of its top, and its width."""

    id: Id
    start: PlanPoint
    end: PlanPoint
    width: PositiveLength


class DeckSpec(SpecModel):
    """What floors and ceilings share.

    `outline` is a plan polygon with square corners, at the outer face of the framing; left out, it is the
    level's one closed outline. `joists` is the plan axis they run along. `bears_on` are the walls that
    carry it, left out all bearing walls below it; `beams` carry it too. `rim` is the stock of rims, `header` that of
    trimmers and headers, where the usual one does not do. `joints` are plan coordinates
    across the joists where cassettes must meet, `no_joints` stretches where they must not.
    """

    id: Id
    level: LevelId
    assembly: Name
    outline: Annotated[tuple[PlanPoint, ...], Field(max_length=60)] = ()
    joists: Literal["x", "y"]
    bears_on: tuple[Id, ...] = ()
    beams: tuple[DeckBeam, ...] = ()
    openings: tuple[DeckOpening, ...] = ()
    rim: Text | None = None
    header: Text | None = None
    joints: tuple[DeckJoint, ...] = ()
    no_joints: tuple[DeckNoJoint, ...] = ()

    def ring(self, level: Level) -> tuple[PlanPoint, ...]:
        """The outline in plan, counter-clockwise; empty where neither this nor the level gives just one."""
        if self.outline:
            return self.outline if _turns_left(self.outline) else self.outline[::-1]
        closed = [outline for outline in level.outlines if outline.closed]
        return tuple(corner.at for corner in closed[0].corners) if len(closed) == 1 else ()


class FloorSpec(DeckSpec):
    """A floor on the walls of the level below, the top of its sheathing at the elevation of `level`."""


class CeilingSpec(DeckSpec):
    """A ceiling on the walls of `level`: the attic is its weather side, the air barrier its inner sheathing."""


def _turns_left(ring: tuple[PlanPoint, ...]) -> bool:
    """True for a ring that runs counter-clockwise, by its signed area."""
    pairs = zip(ring, (*ring[1:], ring[0]), strict=True)
    return sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in pairs) > 0.0
