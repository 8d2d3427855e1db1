"""Sticks. A member is a box of stock along its own x axis, with its ends cut and holes made.

Local axes: x along the length, y across the wide face, z through the thickness. The prism is the
wide face (`length` by `width`, less notches and square bores) extruded by `thickness`; each end may
be trimmed by one plane.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from panelgen.geometry.frames import Floats, Frame, Vec3
from panelgen.model.why import Why

__all__ = ["SQUARE", "Bore", "EndCut", "Member", "Notch", "Role"]


class Role(StrEnum):
    """What a carpenter calls the stick."""

    STUD = "stud"
    POST = "post"
    KING = "king"
    JACK = "jack"
    HEADER = "header"
    HEAD_PLATE = "head plate"
    SILL = "sill"
    CRIPPLE = "cripple"
    BOTTOM_PLATE = "bottom plate"
    TOP_PLATE = "top plate"
    CAP_PLATE = "cap plate"
    BLOCKING = "blocking"
    BACKING = "backing"
    STRAP = "strap"
    JOIST = "joist"
    RIM = "rim"
    RAFTER = "rafter"
    RIDGE = "ridge"
    TRIMMER = "trimmer"
    HIP = "hip"
    VALLEY = "valley"
    FASCIA = "fascia"
    LOOKOUT = "lookout"


@dataclass(frozen=True, slots=True)
class EndCut:
    """The plane of one end: x moves by `across_width` per mm of y and `across_thickness` per mm of z.

    The plane touches the long point, so `Member.length` is always the long-point length.
    """

    across_width: float = 0.0
    across_thickness: float = 0.0

    @property
    def is_square(self) -> bool:
        """True for a plain crosscut."""
        return self.across_width == 0.0 and self.across_thickness == 0.0

    @property
    def miter_degrees(self) -> float:
        """Angle off square seen on the wide face."""
        return math.degrees(math.atan(self.across_width))

    @property
    def bevel_degrees(self) -> float:
        """Angle off square seen on the narrow face."""
        return math.degrees(math.atan(self.across_thickness))


SQUARE = EndCut()


@dataclass(frozen=True, slots=True)
class Bore:
    """A round hole. `point` is on its axis, in member coordinates; `axis` is a unit vector there.

    `run` is the id of the service it was made for; one hole for several services joins their ids with ``+``.
    """

    point: Vec3
    diameter: float
    axis: Vec3 = (0.0, 0.0, 1.0)
    run: str = ""

    @property
    def runs(self) -> tuple[str, ...]:
        """Ids of the services that go through the hole."""
        return tuple(self.run.split("+"))

    @property
    def is_square(self) -> bool:
        """True where the hole goes straight through the wide face."""
        return abs(abs(self.axis[2]) - 1.0) < 1e-9


@dataclass(frozen=True, slots=True)
class Notch:
    """A cut from one long edge of the wide face, `x0` to `x1`, `depth` deep: a rectangle, or a birdsmouth.

    `from_far_edge` is True where the cut is taken from the edge at y = width. A birdsmouth is a triangle:
    two straight cuts, from `x0` and from `x1`, that meet at full depth at `apex`.
    """

    x0: float
    x1: float
    depth: float
    from_far_edge: bool = False
    run: str = ""
    apex: float | None = None

    @property
    def is_birdsmouth(self) -> bool:
        """True for two cuts that meet in a point, False for a rectangle."""
        return self.apex is not None


@dataclass(frozen=True, slots=True)
class Member:
    """One stick, mm. `id` is stable and unique in the house; `mark` is the printed stick mark.

    `frame` places the local axes in panel coordinates; its origin is the corner where all three
    local coordinates are zero. `density` is kg/m3. `loose` parts ship with the panel and are
    fixed on site. An `engineered` stick is the envelope of its section, at a density that gives its
    weight; only its maker's data allow to cut or bore it. `flange` is how much of its width each flange
    of an I section takes up, 0 for a solid section; nails go into flanges only.
    """

    id: str
    role: Role
    stock: str
    species: str
    grade: str
    thickness: float
    width: float
    length: float
    density: float
    frame: Frame
    layer: str
    why: Why
    start: EndCut = SQUARE
    end: EndCut = SQUARE
    bores: tuple[Bore, ...] = ()
    notches: tuple[Notch, ...] = ()
    mark: str = ""
    loose: bool = False
    engineered: bool = False
    flange: float = 0.0

    @property
    def has_square_ends(self) -> bool:
        """True where both ends are plain crosscuts."""
        return self.start.is_square and self.end.is_square

    def end_x(self, cut: EndCut, at_end: bool, y: float, z: float) -> float:
        """Local x of the start or end plane at (y, z), mm."""
        reach_w = cut.across_width * self.width
        reach_t = cut.across_thickness * self.thickness
        value = cut.across_width * y + cut.across_thickness * z
        if at_end:
            return self.length - max(0.0, reach_w) - max(0.0, reach_t) + value
        return -min(0.0, reach_w) - min(0.0, reach_t) + value

    @property
    def centre_length(self) -> float:
        """Length along the centre line between the end planes, mm; times the section it is the volume."""
        y, z = self.width / 2, self.thickness / 2
        return self.end_x(self.end, True, y, z) - self.end_x(self.start, False, y, z)

    def corners(self) -> Floats:
        """(8, 3) float: panel coordinates; index bits are end, far width, far thickness (4, 2, 1)."""
        return self.frame.to_parent(self.local_corners())

    def local_corners(self) -> Floats:
        """(8, 3) float: the corners in member coordinates, ordered as in `corners`."""
        return np.array(
            [
                (self.end_x(cut, at_end, y, z), y, z)
                for at_end, cut in ((False, self.start), (True, self.end))
                for y in (0.0, self.width)
                for z in (0.0, self.thickness)
            ]
        )
