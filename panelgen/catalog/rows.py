"""Catalog rows. Every row names its source, edition and grade.

Grade A was read in the primary text or public law, B second-hand or recomputed, C from memory: shown
as "unverified" wherever it decides something. Lengths are mm, densities kg/m3, loads kPa.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

__all__ = [
    "BoreLimit",
    "BoxProduct",
    "Fact",
    "Fastener",
    "HeaderCell",
    "Insulation",
    "JointNailing",
    "Lumber",
    "NotchLimit",
    "ServiceSize",
    "SheetNailing",
    "SheetProduct",
    "SleeveProduct",
    "Species",
]

Grade = Literal["A", "B", "C"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """What every row carries."""

    source: str
    edition: str = ""
    grade: Grade = "C"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lumber(Fact):
    """A dressed stick size: thickness is the narrow face, width the wide one."""

    name: str
    thickness: float
    width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Species(Fact):
    """A species combination: `gravity` is oven-dry specific gravity, `density` kg/m3 in service."""

    name: str
    gravity: float
    density: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetProduct(Fact):
    """A sheet product: stock `sizes` are (width, length) with width <= length."""

    name: str
    thickness: float
    density: float
    sizes: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fastener(Fact):
    """A nail or screw."""

    name: str
    length: float
    shank: float
    kind: Literal["nail", "screw"] = "nail"


@dataclass(frozen=True, slots=True, kw_only=True)
class JointNailing(Fact):
    """How two sticks are joined: `count` at each place, or one every `spacing` along the joint."""

    joint: str
    fastener: str
    count: int
    spacing: float
    manner: Literal["end", "face", "toe"]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetNailing(Fact):
    """How a sheet is nailed: spacing along its edges and in its field, least distance from its edge."""

    fastener: str
    edge_spacing: float
    field_spacing: float
    edge_distance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaderCell(Fact):
    """One cell of a header table: the clear `span` that `plies` of `stock` allow, with `jacks` each end.

    `carries` is ``roof``, ``roof+1 floor`` or ``roof+2 floors``; `snow` kPa; `building_width` mm.
    """

    plies: int
    stock: str
    carries: str
    snow: float
    building_width: float
    span: float
    jacks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class BoreLimit(Fact):
    """Greatest bore as a share of the member's width, and least wood left to its edge."""

    member: str
    share: float
    edge_distance: float
    severity: Literal["stop", "warn"] = "stop"
    remedy: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchLimit(Fact):
    """Greatest notch depth as a share of the member's width."""

    member: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceSize(Fact):
    """A pipe, tube, cable or duct by its outside diameter (a flat cable by its larger side).

    `bore_clearance` is added to the diameter for a hole through wood.
    """

    name: str
    diameter: float
    bore_clearance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxProduct(Fact):
    """A device box: width, height, depth; `volume` in mm3."""

    name: str
    width: float
    height: float
    depth: float
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveProduct(Fact):
    """A sealing sleeve: it takes runs up to `inside` and cuts a hole of `outside`."""

    name: str
    inside: float
    outside: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Insulation(Fact):
    """Loose or batt insulation at its target density."""

    name: str
    density: float
