"""Roofs of rafter panels, and trusses that a supplier makes."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Id, Length, LevelId, Mass, Name, PositiveLength, SomeLength, Spacing, Text
from panelgen.spec.splits import RoofJoint, RoofNoJoint
from panelgen.spec.walls import Level, PlanPoint

__all__ = ["DormerSpec", "RoofCorner", "RoofEdge", "RoofOpening", "RoofPurlin", "RoofSpec", "TrussSpec"]


class RoofCorner(SpecModel):
    """A corner of a roof's footprint, and the edge that starts there and runs to the next corner."""

    edge: Id
    at: PlanPoint


class RoofEdge(SpecModel):
    """What differs at one edge: a gable, or another slope. A gable has no plane; its overhang is the rake's."""

    edge: Id
    kind: Literal["eave", "gable"] = "eave"
    rise: PositiveLength | None = None
    run: PositiveLength = 304.8
    overhang: SomeLength | None = None


class DormerSpec(SpecModel):
    """The walls and the roof of a dormer, which stand on the sheathing of the roof around its opening.

    Its front wall stands at the lower edge of the opening, the cheeks beside it, their inner faces flush with it.
    `height` is from the sheathing at the outer face of the front wall's framing to the top of the plates that bear
    the rafters. A shed falls to the front; a gable has its ridge square to the front. Either lies on the sheathing
    of the roof where it meets it. `walls` and `assembly` are the assemblies of its walls and of its roof.
    """

    form: Literal["shed", "gable"]
    height: PositiveLength
    walls: Name
    assembly: Name
    rise: PositiveLength
    run: PositiveLength = 304.8
    overhang: SomeLength = 152.4
    rake_overhang: SomeLength = 152.4


class RoofOpening(SpecModel):
    """A rough opening square to the plane that rises from `edge`.

    `at` is its middle: along the edge from its start, and up the slope from the outer face of the wall
    framing; `size` is its width and its length up the slope. What stands on a dormer's opening is `dormer`;
    without it the opening is framed and left bare. Openings of its front wall name `wall: ID-front`.
    """

    id: Id
    edge: Id
    at: tuple[Length, PositiveLength]
    size: tuple[PositiveLength, PositiveLength]
    kind: Literal["skylight", "dormer"] = "skylight"
    dormer: DormerSpec | None = None

    @property
    def front(self) -> str:
        """The id of the front wall of its dormer."""
        return f"{self.id}-front"


class RoofPurlin(SpecModel):
    """A purlin or a wall by others under the plane of an edge, level and along it, its top where rafters bear.

    `at` is the level distance of its middle from the outer face of the wall framing, `width` that of its top. Rafters
    may meet over it. Its size and what carries it are its engineer's.
    """

    id: Id
    edge: Id
    at: PositiveLength
    width: PositiveLength


class RoofSpec(SpecModel):
    """A roof over the outer faces of the framing that bears it, its rafters those of the assembly's framing.

    `footprint` has square corners and runs counter-clockwise; left out, it is the level's one closed
    outline, whose walls are its edges. Edges that are not listed are eaves with the roof's slope. `plate`
    is the height of the plates in the house, by default the top of the level's walls and of the ceiling on them.
    Overhangs are level distances; steeper eaves overhang less, so that all are at one height. `joints` say where
    panels of a plane must meet, `no_joints` where they must not.
    """

    id: Id
    level: LevelId
    assembly: Name
    footprint: tuple[RoofCorner, ...] = Field(default=(), max_length=60)
    edges: tuple[RoofEdge, ...] = ()
    plate: Length | None = None
    rise: PositiveLength
    run: PositiveLength = 304.8
    overhang: SomeLength = 304.8
    rake_overhang: SomeLength = 304.8
    ridge: Text | None = None
    hip: Text | None = None
    valley: Text | None = None
    fascia: Text | None = None
    openings: tuple[RoofOpening, ...] = ()
    purlins: tuple[RoofPurlin, ...] = Field(default=(), max_length=40)
    joints: tuple[RoofJoint, ...] = ()
    no_joints: tuple[RoofNoJoint, ...] = ()

    @property
    def seat(self) -> float:
        """The height of its plates in the house, mm; only in a house whose heights are settled."""
        if self.plate is None:
            raise ValueError(f"the heights of roof {self.id} are not settled")
        return self.plate

    def corners(self, level: Level) -> tuple[tuple[str, PlanPoint], ...]:
        """The edges by id, each with the corner where it starts; none where the level has not one closed outline."""
        if self.footprint:
            return tuple((corner.edge, corner.at) for corner in self.footprint)
        closed = [outline for outline in level.outlines if outline.closed]
        return tuple((corner.wall, corner.at) for corner in closed[0].corners) if len(closed) == 1 else ()

    def plane(self, edge: str, number: int = 1) -> str:
        """The id of the plane that rises from an edge, or of another over the same edge: ``R1-2S``, ``R1-2S.2``."""
        return f"{self.id}-{edge}" + (f".{number}" if number > 1 else "")

    def edge(self, name: str) -> RoofEdge:
        """What is asked of an edge."""
        return next((edge for edge in self.edges if edge.edge == name), RoofEdge(edge=name))


class TrussSpec(SpecModel):
    """A row of equal trusses on two walls, `spacing` apart along the first from its start.

    `bearings` are the walls they stand on, `span` the length over their bottom chords, `heel` the height of
    their top over the plate there, `overhang` the level length of their tails. `bracing_rows` are the rows of
    lateral bracing that their engineer asks for. Trusses of several `plies` are girders, whose `mass` is that of all
    plies. Their design is their engineer's.
    """

    id: Id
    level: LevelId
    bearings: tuple[Id, Id]
    first: SomeLength = 0.0
    count: int = Field(gt=0, le=500)
    spacing: Spacing = 609.6
    span: PositiveLength
    rise: PositiveLength
    run: PositiveLength = 304.8
    heel: PositiveLength
    overhang: SomeLength = 304.8
    mass: Mass
    bracing_rows: int = Field(default=0, ge=0, le=50)
    plies: int = Field(default=1, ge=1, le=6)
