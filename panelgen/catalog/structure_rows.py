"""Rows of the structural tables: spans, bearing, wood the tables are for, design values of lumber.

Lengths are mm, loads kPa, stresses and moduli MPa; see `Fact` for source and grade.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from panelgen.catalog.rows import Fact

__all__ = [
    "Adjustment",
    "BearingLength",
    "BearingWallRule",
    "DeckOpeningRule",
    "DesignLoad",
    "DesignValues",
    "LoadPathRule",
    "MemberSpan",
    "RafterTieRule",
    "RoofBeamRule",
    "SizeFactor",
    "SpanUse",
    "TableWood",
]

SpanUse = Literal["floor joist", "ceiling joist", "rafter"]


@dataclass(frozen=True, slots=True, kw_only=True)
class MemberSpan(Fact):
    """One cell of a span table: the clear `span` of a joist, or the span in plan of a rafter.

    `live` is the live or ground snow load and `dead` the dead load the table is for, kPa.
    """

    use: SpanUse
    live: float
    dead: float
    species: str
    lumber_grade: str
    stock: str
    spacing: float
    span: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BearingLength(Fact):
    """The least `length` that a member of this kind bears on wood at its ends."""

    member: Literal["joist", "rafter", "header"]
    length: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadPathRule(Fact):
    """How a point load comes down: standing wood within `reach` of its middle carries it on.

    Wood bears where no more than `bearing_gap` lies between the faces.
    """

    reach: float
    bearing_gap: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BearingWallRule(Fact):
    """A bearing wall on joists: `offset` from the line that carries them, in depths of the joists, if across them.

    Along them it needs that line right beneath, or `plies` joists side by side.
    """

    offset: float
    plies: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckOpeningRule(Fact):
    """Openings in floors: a header no longer than `single_header` may be one stick.

    Single trimmers may carry a single header no farther than `single_trimmer` from their bearing.
    """

    single_header: float
    single_trimmer: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RafterTieRule(Fact):
    """Ties across the plates against the thrust of rafters: along them, `spacing` apart at most.

    They lie no higher than `height` above the plate, a share of the rafters' rise.
    """

    spacing: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofBeamRule(Fact):
    """Where ridges, hips and valleys carry load: ridges under roofs less steep than `least_slope` are beams.

    The upper end of a hip or valley stands on a brace no flatter than `brace_slope`, rise over run, on a bearing wall.
    """

    least_slope: float
    brace_slope: float


@dataclass(frozen=True, slots=True, kw_only=True)
class TableWood(Fact):
    """A species and lumber grade for which a table of the rule set is printed."""

    table: Literal["headers"]
    species: str
    lumber_grade: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignValues(Fact):
    """Reference design values, MPa: bending Fb, compression along Fc and across the grain Fc⊥, E and Emin."""

    species: str
    lumber_grade: str
    bending: float
    compression: float
    across: float
    modulus: float
    least_modulus: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SizeFactor(Fact):
    """The size factors CF of a lumber grade, for bending and for compression along the grain."""

    lumber_grade: str
    stock: str
    bending: float
    compression: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DesignLoad(Fact):
    """A load on an area, kPa, that is assumed where the spec does not give it."""

    name: str
    load: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment(Fact):
    """A factor on a reference design value, such as load duration."""

    name: str
    factor: float
