"""Catalog rows. Every row names its source, edition and grade.

Grade A was read in the primary text or public law, B second-hand or recomputed, C from memory: shown
as "unverified" wherever it decides something. Lengths are mm, densities kg/m3, loads kPa.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "BoreLimit",
    "Fact",
    "Fastener",
    "FlatHeader",
    "Grade",
    "HeaderCell",
    "Insulation",
    "JointNailing",
    "JoistLimits",
    "KingStuds",
    "Lumber",
    "NotchLimit",
    "PlateLap",
    "PlateTie",
    "RoofFraming",
    "SheetKind",
    "SheetNailing",
    "SheetProduct",
    "Source",
    "Species",
    "StockKind",
    "StudLimit",
    "UnbracedHeader",
]

_ROUNDING = 1e-6

Grade = Literal["A", "B", "C"]
SheetKind = Literal["wood", "gypsum", "roof"]
StockKind = Literal["sawn", "i-joist", "rim board", "lvl"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A published text that rows cite by `key`; `where` says how it was read."""

    key: str
    title: str
    edition: str
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """What every row carries."""

    source: str
    edition: str = ""
    grade: Grade = "C"

    @property
    def unverified(self) -> bool:
        """True for a value from memory, which a person has yet to read in the source."""
        return self.grade == "C"

    @property
    def cited(self) -> str:
        """Source and edition as a finding prints them, marked where unverified."""
        edition = f", {self.edition}" if self.edition else ""
        return f"{self.source}{edition}{' (unverified)' if self.unverified else ''}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lumber(Fact):
    """A dressed stick size: thickness is the narrow face, width the wide one.

    An engineered stick is its envelope; `mass_per_length` is kg/m, and None for sawn lumber, whose
    density is that of its species. `flange` is how much of its width each flange of an I section takes
    up, 0 for a solid section.
    """

    name: str
    thickness: float
    width: float
    kind: StockKind = "sawn"
    mass_per_length: float | None = None
    flange: float = 0.0

    @property
    def is_engineered(self) -> bool:
        """True for sticks that only their maker's data allow to be cut or bored."""
        return self.kind != "sawn"

    @property
    def density(self) -> float | None:
        """Mass over the volume of the envelope, kg/m3; None for sawn lumber."""
        return None if self.mass_per_length is None else self.mass_per_length / (self.area * 1e-6)

    @property
    def area(self) -> float:
        """Cross-section A = b d, mm2."""
        return self.thickness * self.width

    @property
    def section_modulus(self) -> float:
        """S = b d² / 6 about the strong axis, mm3."""
        return self.thickness * self.width**2 / 6

    @property
    def second_moment(self) -> float:
        """I = b d³ / 12 about the strong axis, mm4."""
        return self.thickness * self.width**3 / 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Species(Fact):
    """A species combination: `gravity` is oven-dry weight on oven-dry volume, `density` kg/m3 at `moisture` percent."""

    name: str
    gravity: float
    moisture: float
    density: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetProduct(Fact):
    """A sheet product: stock `sizes` are (width, length) with width <= length."""

    name: str
    thickness: float
    density: float
    sizes: tuple[tuple[float, float], ...]
    kind: SheetKind = "wood"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener(Fact):
    """A nail or screw."""

    name: str
    length: float
    shank: float
    kind: Literal["nail", "screw"] = "nail"


@dataclass(frozen=True, slots=True, kw_only=True)
class JointNailing(Fact):
    """How two sticks are joined.

    `spacing` 0: `count` fasteners at the one place (for a splice, at each side of the joint).
    Otherwise `count` lines of fasteners run along the joint, one fastener every `spacing`.
    """

    joint: str
    fastener: str
    count: int
    spacing: float
    manner: Literal["end", "face", "toe"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetNailing(Fact):
    """How a sheet is nailed: spacing along its edges and in its field, least distance from its edge.

    The row is for sheets of `kind` from `thinnest` to `thickest`.
    """

    kind: SheetKind
    thinnest: float
    thickest: float
    fastener: str
    edge_spacing: float
    field_spacing: float
    edge_distance: float

    def holds(self, thickness: float) -> bool:
        """Whether the row is for sheets of a `thickness`, mm."""
        return self.thinnest - _ROUNDING <= thickness <= self.thickest + _ROUNDING


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderCell(Fact):
    """One cell of a header table: the clear `span` that `plies` of `stock` allow, with `jacks` each end.

    `carries` is ``roof``, ``roof+1 floor`` or ``roof+2 floors``; `snow` kPa; `building_width` mm. Both
    are infinite where the rule asks for neither.
    """

    plies: int
    stock: str
    carries: str
    snow: float
    building_width: float
    span: float
    jacks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class UnbracedHeader(Fact):
    """What the tabulated span of a header of `stock` is multiplied by where nothing braces its top sideways."""

    stock: str
    factor: float


@dataclass(frozen=True, slots=True, kw_only=True)
class KingStuds(Fact):
    """Full-height studs at each end of a header up to `span`, for studs at `spacing` (infinite for any)."""

    span: float
    spacing: float
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoreLimit(Fact):
    """Greatest bore as a share of the member's width, and least wood left to its edge.

    `successive` is how many such members in a row may be bored; None for any number.
    """

    member: str
    share: float
    edge_distance: float
    severity: Literal["stop", "warn"] = "stop"
    remedy: str = ""
    successive: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchLimit(Fact):
    """Greatest notch depth as a share of the member's width."""

    member: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateTie(Fact):
    """A top plate of a bearing wall cut more than `share` of its width needs a steel tie across the cut."""

    share: float
    thickness: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateLap(Fact):
    """Least distance between end joints of the two top plates."""

    offset: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatHeader(Fact):
    """Widest opening that a single flat plate may head in a wall that carries no load."""

    span: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StudLimit(Fact):
    """Greatest stud spacing and laterally unsupported height."""

    stock: str
    bearing: bool
    storeys_above: int | None
    spacing: float
    height: float


@dataclass(frozen=True, slots=True, kw_only=True)
class JoistLimits(Fact):
    """What a sawn joist may lose, as shares of its depth; notches keep out of the middle third of the span."""

    notch_depth: float
    notch_length: float
    end_notch_depth: float
    bore: float
    bore_edge_distance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RoofFraming(Fact):
    """How roofs are framed by rule, mm.

    Trimmers and headers of openings wider than `single_trimmer` are doubled. Rakes that overhang more than
    `ladder` need lookouts that reach over the gable wall.
    """

    single_trimmer: float
    ladder: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation(Fact):
    """Loose or batt insulation at its target density."""

    name: str
    density: float
