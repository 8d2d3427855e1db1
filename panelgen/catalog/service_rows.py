"""Catalog rows of the services: pipes, conduits, cables and ducts, their fittings, boxes and the rules for them.

A size belongs to a series: sizes of one material and one way of joining, such as ``pex`` or ``pvc``.
Lengths are mm, volumes mm3, angles degrees.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from panelgen.catalog.rows import Fact

__all__ = [
    "BendRadius",
    "BoreClearance",
    "BoxFillShare",
    "BoxKind",
    "BoxProduct",
    "DrainSlope",
    "Family",
    "FittingKind",
    "FittingProduct",
    "ScrewZone",
    "Section",
    "ServiceSeries",
    "ServiceSize",
    "ShieldPlate",
    "ShieldRule",
    "SleeveProduct",
    "SupportRule",
    "SystemClearance",
    "TurnFitting",
    "WireVolume",
]

BoxKind = Literal["device", "manifold"]
Family = Literal["pipe", "conduit", "cable", "duct", "other"]
FittingKind = Literal["adapter", "coupling", "elbow", "tee"]
Section = tuple[float, float]
"""Width and depth of a rectangular run."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceSeries(Fact):
    """How the sizes of a series are turned and joined: by bending or with elbows, from lengths of `stock`.

    `stock` is infinite where a run is never joined along its length, as from a coil.
    """

    name: str
    turns: Literal["bend", "elbow"]
    stock: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoreClearance(Fact):
    """What a hole through wood is wider than the outside diameter of a run of `family`."""

    family: Family
    clearance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceSize(Fact):
    """A pipe, tube, cable or duct by its outside diameter (a flat cable by its larger side).

    A rectangular duct has a `section`, the larger side first; its diameter is that of the circle around it.
    """

    name: str
    family: Family
    series: str
    diameter: float
    clearance: BoreClearance
    section: Section | None = None

    @property
    def bore_clearance(self) -> float:
        """Added to the diameter for a hole through wood, mm."""
        return self.clearance.clearance


@dataclass(frozen=True, slots=True, kw_only=True)
class BendRadius(Fact):
    """Least radius of a bend of a `series`, or of one `size` of it: the greater of `times` the diameter and `least`.

    `at_inner_edge` says that the rule measures to the inner edge of the bend, not to the centre line.
    """

    series: str
    size: str
    times: float
    least: float
    at_inner_edge: bool

    def to_centre_line(self, diameter: float) -> float:
        """The least radius of the centre line of a run of `diameter`, mm."""
        radius = max(self.times * diameter, self.least)
        return radius + diameter / 2 if self.at_inner_edge else radius


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnFitting(Fact):
    """An elbow of a series: it turns by `angle`, or by up to `tolerance` less or more."""

    series: str
    name: str
    angle: float
    tolerance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingProduct(Fact):
    """A fitting of a size: its outside `diameter`, and arms that begin where the `sweep` of a turn ends.

    `arm` is the straight part of each end, `sweep` the radius of the centre line between two arms. A
    fitting of a rectangular duct has a `section`; its diameter is that of the circle around it.
    """

    size: str
    kind: FittingKind
    diameter: float
    arm: float
    sweep: float
    section: Section | None = None

    @property
    def name(self) -> str:
        """What the parts list calls it, such as ``pvc-2 coupling``."""
        return f"{self.size} {self.kind}"

    def reach(self, angle: float) -> float:
        """From the middle of the fitting to the end of each arm where it turns by `angle` degrees."""
        return self.arm + self.sweep * math.tan(math.radians(angle) / 2)


@dataclass(frozen=True, slots=True, kw_only=True)
class SupportRule(Fact):
    """Greatest distance between supports of the sizes of a series up to the diameter `largest`.

    `from_box` is the greatest distance from a box to the first support; infinite where the rule does not ask.
    """

    series: str
    largest: float
    horizontal: float
    vertical: float
    from_box: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DrainSlope(Fact):
    """Least fall of drains up to the diameter `largest`, as a share of the way along them.

    `with_cleanout` is what the rule allows instead where a full-size cleanout is given.
    """

    largest: float
    least: float
    with_cleanout: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ShieldRule(Fact):
    """A run of `family` closer than `edge_distance` to a wood face is shielded by steel of `thickness`.

    At plates of a wall the steel reaches `past_plate` beyond them into the wall.
    """

    family: Family
    edge_distance: float
    thickness: float
    past_plate: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ShieldPlate(Fact):
    """A steel plate for the face of a stick: as wide as the stick is thick, `length` along the stick."""

    name: str
    width: float
    length: float
    thickness: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SystemClearance(Fact):
    """Least distance between the outsides of runs of two systems; ``any`` stands for every system."""

    system: str
    other: str
    distance: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewZone(Fact):
    """How far behind the face it is hung on the screws of an interior `board` reach: `depth`."""

    board: str
    fastener: str
    depth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxProduct(Fact):
    """A box for devices, or for a manifold: width, height, depth; `volume` in mm3."""

    name: str
    kind: BoxKind
    width: float
    height: float
    depth: float
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WireVolume(Fact):
    """Volume allowance in a box for each conductor of `gauge` (AWG), mm3."""

    gauge: int
    volume: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxFillShare(Fact):
    """How many conductor allowances an `item` in a box counts for."""

    item: str
    allowances: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SleeveProduct(Fact):
    """A sealing sleeve: it takes runs up to `inside` and cuts a hole of `outside`."""

    name: str
    inside: float
    outside: float
