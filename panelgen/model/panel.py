"""A panel: everything the shop builds in one piece, in panel coordinates.

x runs along the panel, y up it, z through it toward the weather side; z = 0 is the inner face of the
framing and the origin is bottom-left seen from the weather side.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from panelgen.geometry.frames import Frame, Point2
from panelgen.model.bay import Bay
from panelgen.model.bearing import Bearing
from panelgen.model.fasteners import Fasteners
from panelgen.model.findings import Finding
from panelgen.model.layers import Layer, LayerKind
from panelgen.model.member import Member
from panelgen.model.opening import Opening
from panelgen.model.services import Box, Fitting, Hardware, RunPart, Sleeve
from panelgen.model.sheet import Sheet

__all__ = ["Panel", "PanelKind"]


class PanelKind(StrEnum):
    """What the panel is in the house; the letter in its label follows from it."""

    EXTERIOR_WALL = "exterior wall"
    INTERIOR_WALL = "interior wall"
    FLOOR = "floor"
    CEILING = "ceiling"
    ROOF = "roof"


@dataclass(frozen=True, eq=False)
class Panel:
    """One shop-built piece. `profile` is the framing's outline in (x, y), mm, counter-clockwise.

    `wall` is the wall, floor, ceiling or roof that the panel is a part of. `wall_start` is where it begins
    along that, mm: panel x plus it is wall x; `wall_base` the same for y. `bearings` carry the panel besides
    the walls below it. `dormer` is the dormer that the panel is a part of, which stands on a roof.
    `findings` are what the design itself could not do; checks add theirs.
    """

    label: str
    kind: PanelKind
    level: str
    wall: str
    wall_start: float
    bearing: bool
    frame: Frame
    length: float
    height: float
    profile: tuple[Point2, ...]
    layers: tuple[Layer, ...]
    members: tuple[Member, ...]
    sheets: tuple[Sheet, ...] = ()
    fasteners: tuple[Fasteners, ...] = ()
    openings: tuple[Opening, ...] = ()
    runs: tuple[RunPart, ...] = ()
    boxes: tuple[Box, ...] = ()
    sleeves: tuple[Sleeve, ...] = ()
    hardware: tuple[Hardware, ...] = ()
    bays: tuple[Bay, ...] = ()
    findings: tuple[Finding, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    wall_base: float = 0.0
    bearings: tuple[Bearing, ...] = ()
    dormer: str = ""

    @property
    def framing(self) -> Layer:
        """The one framing layer."""
        return next(layer for layer in self.layers if layer.kind is LayerKind.FRAMING)

    @property
    def depth(self) -> tuple[float, float]:
        """Lowest and highest z of the layers, mm."""
        return min(layer.z0 for layer in self.layers), max(layer.z1 for layer in self.layers)
