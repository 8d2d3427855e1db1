"""Service runs, boxes, sleeves and backing, as a trade or the designer asks for them."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator, model_validator

from panelgen.catalog import FittingKind
from panelgen.errors import BadValueError
from panelgen.spec.base import SpecModel
from panelgen.spec.quantities import Depth, Id, Length, PositiveLength, SomeLength, Text

__all__ = ["BackingSpec", "BoxFillSpec", "BoxSpec", "FittingSpec", "RunSpec", "SleeveSpec", "System", "WireSpec"]

System = Literal[
    "cold water", "hot water", "drain", "vent", "supply air", "return air", "power", "data", "low voltage", "gas",
    "heating",
]  # fmt: skip


class FittingSpec(SpecModel):
    """A fitting that does not follow from the run's shape, at a distance along the path or a share (0 to 1) of it.

    Elbows at bends, couplings between stock lengths and tees at branches are placed anyway. An elbow
    here replaces the bend of a run that would be bent; it sits at the bend nearest to its place.
    """

    kind: FittingKind
    at: SomeLength | None = None
    share: Annotated[float, Field(ge=0, le=1)] | None = None

    @model_validator(mode="after")
    def _place(self) -> FittingSpec:
        if (self.at is None) == (self.share is None):
            given = "neither" if self.at is None else "each"
            raise BadValueError(
                f"{given} of at and share is given", "give the distance along the path, or a share of it from 0 to 1"
            )
        return self


class RunSpec(SpecModel):
    """A run by its centre line. Give a catalog `size` (such as ``pex-1/2``) or an outside `diameter`.

    With `wall`, each point is (along the wall, above its bottom, depth): depth is a z in panel terms
    (0 at the inner face of the framing, positive toward the weather) or a word: ``cavity`` for the
    middle of the service cavity, ``framing`` for the middle of the framing. `wall` may also name a floor or
    ceiling, its points in plan, or a plane of a roof by roof and edge (``R2-2S``): along the edge from its start,
    and up the slope from the outer face of the wall framing. Without `wall`, points are house coordinates.

    `insulation` is its thickness around the run. A run with `branch_of` starts on that run. `bend` is the
    least radius of the centre line: a run that gives one is bent, whatever its size, and has no elbows.
    `flow` says which way along the path a drain or vent falls. A rectangular size lies ``flat``, its larger
    side along the wall, or ``on edge``.
    """

    id: Id
    system: System
    size: Text | None = None
    diameter: PositiveLength | None = None
    wall: Id | None = None
    path: tuple[tuple[Length, Length, Depth], ...] = Field(min_length=2, max_length=1000)
    insulation: SomeLength = 0.0
    fittings: tuple[FittingSpec, ...] = Field((), max_length=200)
    branch_of: Id | None = None
    bend: PositiveLength | None = None
    flow: Literal["forward", "backward"] = "forward"
    lay: Literal["flat", "on edge"] = "flat"

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
    """A sealed way for one run through the barrier sheets of a wall, centred at (along, above bottom), square to it.

    `wall` may name a floor, a ceiling or a plane of a roof, as in a run. With `at` left out the sleeve is where the
    run goes through the sheets, and leans as the run does: as a stack does through a roof.
    """

    id: Id
    run: Id
    wall: Id
    at: tuple[Length, Length] | None = None
    product: Text
    seal: Text


class WireSpec(SpecModel):
    """Conductors of one gauge (AWG) in a box, ground wires apart."""

    gauge: int
    count: Annotated[int, Field(gt=0)]


class BoxFillSpec(SpecModel):
    """What takes room in a box: conductors, devices, and whether it holds cable clamps and ground wires."""

    wires: tuple[WireSpec, ...] = Field(min_length=1, max_length=20)
    devices: Annotated[int, Field(ge=0)] = 1
    clamps: bool = True
    grounds: bool = True


class BoxSpec(SpecModel):
    """A box for devices or a manifold, its front flush with the inside of the strapping (or of bare framing).

    `wall` may name a floor, a ceiling or a plane of a roof, as in a run. `back` is the clear depth wanted behind it.
    """

    id: Id
    wall: Id
    product: Text
    at: tuple[Length, Length]
    fill: BoxFillSpec | None = None
    back: SomeLength = 0.0


class BackingSpec(SpecModel):
    """Wood for later trades, centred `height` above the wall's bottom, from `start` to `end` along it.

    It rises or falls to `end_height` at the end where that is given. ``strap`` adds a strap on the cavity side;
    ``blocking`` puts flat stock between the studs, flush with the inner face of the framing, or with the ``outer`` one
    where `face` says so.
    """

    id: Id
    wall: Id
    start: Length
    end: Length
    height: PositiveLength
    end_height: PositiveLength | None = None
    kind: Literal["strap", "blocking"] = "strap"
    face: Literal["inner", "outer"] = "inner"
    stock: Text | None = None
    reason: Text

    @field_validator("end")
    @classmethod
    def _after_start(cls, end: float, info: ValidationInfo) -> float:
        if end <= info.data.get("start", -math.inf):
            raise BadValueError("end must be greater than start", "measure both from the start of the wall")
        return end

    @property
    def last_height(self) -> float:
        """The height of its middle at the end, mm."""
        return self.height if self.end_height is None else self.end_height
