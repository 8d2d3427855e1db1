"""Service runs, their fittings, boxes and sleeves, and the small hardware that goes with them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from panelgen.geometry.frames import Frame, Point2, Vec3, scaled
from panelgen.model.why import Why

__all__ = ["Box", "Fitting", "Flow", "Hardware", "HardwareKind", "RunPart", "Section", "ServiceRun", "Sleeve"]

Flow = Literal["forward", "backward"]
"""Which way along its path what is in a drain or vent falls."""

Section = tuple[float, float]
"""Width and depth of a rectangular run, mm: depth is along panel z where the run lies in the plane of the
panel; where it goes through the panel, depth is up and width along the panel."""


class _Outside:
    """What a run takes up across its path, insulation included, mm."""

    __slots__ = ()

    diameter: float
    insulation: float
    section: Section | None

    @property
    def outside_section(self) -> Section | None:
        """Width and depth over the insulation; None for a round run."""
        if self.section is None:
            return None
        width, depth = self.section
        return (width + 2 * self.insulation, depth + 2 * self.insulation)

    @property
    def outside_diameter(self) -> float:
        """Diameter over the insulation; of the circle around a rectangular run."""
        section = self.outside_section
        return self.diameter + 2 * self.insulation if section is None else math.hypot(*section)

    @property
    def outside_area(self) -> float:
        """Area of the section over the insulation, mm2."""
        section = self.outside_section
        return math.pi / 4 * self.outside_diameter**2 if section is None else math.prod(section)


@dataclass(frozen=True, slots=True)
class ServiceRun(_Outside):
    """A whole run through the house: `path` is (n, 3) in house coordinates, mm.

    `diameter` is outside, without the `insulation` around it; a rectangular run has a `section` and the
    diameter of the circle around that. `bend_radius` is the least of its centre line (0: elbows turn it,
    or no rule is known). `branch_of` is the run it starts on.
    """

    id: str
    system: str
    product: str
    diameter: float
    path: tuple[Vec3, ...]
    why: Why
    insulation: float = 0.0
    section: Section | None = None
    family: str = "other"
    bend_radius: float = 0.0
    flow: Flow = "forward"
    branch_of: str = ""


@dataclass(frozen=True, slots=True)
class RunPart(_Outside):
    """The stretch of a run inside one panel: `path` in panel coordinates, mm; the rest as in `ServiceRun`.

    `enters` and `leaves` are True where the run goes on beyond the panel at that end.
    """

    id: str
    run: str
    system: str
    product: str
    diameter: float
    path: tuple[Vec3, ...]
    why: Why
    enters: bool = False
    leaves: bool = False
    insulation: float = 0.0
    section: Section | None = None
    family: str = "other"
    bend_radius: float = 0.0
    flow: Flow = "forward"


@dataclass(frozen=True, slots=True)
class Fitting:
    """A fitting of a run, centred at `point` on its path; `axis` is the unit direction in which the run comes.

    `length` is from end to end, so each arm is half of it; `other` is the unit direction of the arm that
    leaves the axis, of an elbow or a tee. `angle` is how far an elbow turns, degrees. `diameter` and
    `section` are outside, over the run's insulation. A fitting at a panel joint is in both panels.
    """

    id: str
    run: str
    kind: str
    product: str
    point: Vec3
    axis: Vec3
    diameter: float
    length: float
    why: Why
    other: Vec3 | None = None
    angle: float = 0.0
    section: Section | None = None

    @property
    def arms(self) -> tuple[Vec3, ...]:
        """From `point` to the open ends: back along the run, on along it, and into a tee's branch."""
        half = self.length / 2
        back, on = scaled(self.axis, -half), scaled(self.axis, half)
        if self.other is None:
            return (back, on)
        aside = scaled(self.other, half)
        return (back, aside) if self.kind == "elbow" else (back, on, aside)


@dataclass(frozen=True, slots=True)
class Box:
    """A box for devices or a manifold: `frame` origin is the corner of its back, z toward the room; size (w, h, d) mm.

    `volume` is what it holds and `fill` what its wires take of that, mm3, 0 where not known; `back` is the
    clear depth wanted behind it, mm.
    """

    id: str
    product: str
    size: Vec3
    frame: Frame
    why: Why
    kind: str = "device"
    volume: float = 0.0
    fill: float = 0.0
    back: float = 0.0


@dataclass(frozen=True, slots=True)
class Sleeve:
    """A declared, sealed way through the barrier sheets for one run, at panel (x, y) where z = 0, mm.

    Its axis moves along x and y by `lean` for every mm of z.
    """

    id: str
    run: str
    product: str
    seal: str
    x: float
    y: float
    diameter: float
    why: Why
    lean: Point2 = (0.0, 0.0)

    def hole(self, z0: float, z1: float) -> tuple[float, float, float]:
        """Centre (x, y) and diameter of the least round hole that takes it through a sheet from z0 to z1, mm.

        A slanted round body takes an ellipse of each face, and the ellipse moves from face to face.
        """
        middle, slant = (z0 + z1) / 2, math.hypot(*self.lean)
        wide = self.diameter * math.hypot(1.0, slant) + slant * abs(z1 - z0)
        return self.x + self.lean[0] * middle, self.y + self.lean[1] * middle, wide


class HardwareKind(StrEnum):
    """What a piece of hardware is for."""

    TIE = "plate tie"
    SHIELD = "shield plate"
    SUPPORT = "support"


@dataclass(frozen=True, slots=True)
class Hardware:
    """Metal parts counted in the parts list. `point` is in panel coordinates, mm; `parts` are what it goes with."""

    id: str
    product: str
    count: int
    point: Vec3
    why: Why
    parts: tuple[str, ...] = ()
    kind: HardwareKind = HardwareKind.TIE
