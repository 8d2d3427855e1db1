"""What one roof panel is asked to be: the input of every room of roofs."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import Span
from panelgen.design.roofs.pitch import Pitch
from panelgen.design.roofs.planes import RoofPlane
from panelgen.design.sticks import Stock
from panelgen.geometry.frames import Frame, Point2
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Layer
from panelgen.spec.assemblies import Assembly
from panelgen.spec.house import Shop
from panelgen.spec.roofs import RoofOpening

__all__ = ["RoofBrief", "RoofHole", "Side"]


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a panel in plan, the panel to its left. `stock` is that of the board that stands along it."""

    start: Point2
    end: Point2
    line: RoofLine
    stock: Stock


@dataclass(frozen=True, slots=True)
class RoofHole:
    """A rough opening square to the panel, in panel coordinates, mm."""

    spec: RoofOpening
    x: Span
    y: Span


@dataclass(frozen=True, slots=True)
class RoofBrief:
    """One panel. Places in plan are (panel x, run), runs inward from the outer face of the wall framing, mm.

    `layout` are the numbers and middles of the rafters on layout. `footprint` is the outer face of the wall
    framing all around the roof; `wall` is where the plane's own wall is along x.
    """

    label: str
    plane: RoofPlane
    start: float
    pitch: Pitch
    frame: Frame
    sides: tuple[Side, ...]
    layout: tuple[tuple[int, float], ...]
    footprint: tuple[Point2, ...]
    wall: Span
    holes: tuple[RoofHole, ...]
    layers: tuple[Layer, ...]
    assembly: Assembly
    rafter: Stock
    shop: Shop
    rules: RuleSet
    catalog: Catalog

    @property
    def plate_height(self) -> float:
        """Height of the plates in `Pitch.height`, mm."""
        return self.plane.seat * self.pitch.tangent

    def id(self, what: str, x: float) -> str:
        """The id of a part of the plane by what it is and where along the eave."""
        return f"{self.plane.id}/{what}@{round(self.start + x)}"
