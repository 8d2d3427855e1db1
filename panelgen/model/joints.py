"""Joints: where panels meet one another, the foundation, or the units set in them, and what closes them there."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from panelgen.geometry.frames import Vec3

__all__ = ["FOUNDATION", "Joint", "JointKind"]

FOUNDATION = "foundation"
"""Stands in a joint for what the lowest panels are set on."""


class JointKind(StrEnum):
    """How two panels meet; the last three are joints of a panel with something else, and of sheets within it."""

    IN_LINE = "in line"
    CORNER = "corner"
    TEE = "tee"
    STACKED = "stacked"
    WALL_FLOOR = "wall to floor"
    WALL_CEILING = "wall to ceiling"
    WALL_ROOF = "wall to roof"
    WALL_ON_ROOF = "wall on roof"
    FLOOR_FLOOR = "floor to floor"
    CEILING_CEILING = "ceiling to ceiling"
    ROOF_CEILING = "roof to ceiling"
    ROOF_ROOF = "roof to roof"
    RIDGE = "ridge"
    HIP = "hip"
    VALLEY = "valley"
    LAY_OVER = "lay-over"
    FOUNDATION = "foundation"
    OPENING = "opening"
    SEAM = "seam"


@dataclass(frozen=True, slots=True)
class Joint:
    """Where two panels meet, at about `point` (house coordinates, mm).

    `panels` are two labels; the second is `FOUNDATION` under the lowest panels, the opening's id at a unit,
    and the panel's own label at the seams of its sheets. `air` and `weather` are the products that seal the
    barriers, `fastener` what ties the panels `spacing` mm apart; empty where there is none. `why` says who
    decided that. The panels touch over a `length` (mm), 0 where something stands between them; the joint runs
    `along` a unit vector, and along none at a unit, a seam and the foundation.
    """

    kind: JointKind
    panels: tuple[str, str]
    point: Vec3
    air: str = ""
    weather: str = ""
    fastener: str = ""
    spacing: float = 0.0
    why: str = ""
    length: float = 0.0
    along: Vec3 = (0.0, 0.0, 0.0)
