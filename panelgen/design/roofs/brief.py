"""What one roof panel is asked to be: the input of every room of roofs."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.brief import Span
from panelgen.design.framing.sticks import Stock
from panelgen.design.roofs.footprint import gable_face
from panelgen.design.roofs.pitch import Pitch, Plane
from panelgen.design.roofs.planes import RoofPlane
from panelgen.geometry.frames import Frame, Point2, dot
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Bearing, Layer
from panelgen.spec.assemblies import Assembly
from panelgen.spec.house import Shop
from panelgen.spec.roofs import RoofOpening

__all__ = ["RoofBrief", "RoofHole", "Side", "opening_plies"]

_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a panel in plan, the panel to its left. `stock` is that of the board that stands along it."""

    start: Point2
    end: Point2
    line: RoofLine
    stock: Stock


def opening_plies(rules: RuleSet, opening: RoofOpening) -> int:
    """How many sticks are side by side in each header and trimmer of an opening; the walls of a dormer stand on two."""
    return 1 if opening.dormer is None and opening.size[0] <= rules.roof.single_trimmer + _ROUNDING else 2


@dataclass(frozen=True, slots=True)
class RoofHole:
    """A rough opening in panel coordinates, mm: square to the panel, or plumb between two runs under a dormer."""

    spec: RoofOpening
    x: Span
    y: Span
    runs: Span | None = None

    def clear(self, pitch: Pitch, z0: float, z1: float) -> Span:
        """The stretch up the slope that is open through everything between two depths."""
        if self.runs is None:
            return self.y
        low, high = ([pitch.y_at(run, z) for z in (z0, z1)] for run in self.runs)
        return min(low), max(high)


@dataclass(frozen=True, slots=True)
class RoofBrief:
    """One panel. Places in plan are (panel x, run), runs inward from the outer face of the wall framing, mm.

    `layout` are the numbers and middles of the rafters on layout. `footprint` is the outer face of the wall
    framing all around the roof; `walls` are the stretches of x where it is at run 0, `bearings` the purlins below.
    `foot` is the run at which a panel above a cross joint begins.
    """

    label: str
    plane: RoofPlane
    start: float
    foot: float | None
    pitch: Pitch
    frame: Frame
    sides: tuple[Side, ...]
    layout: tuple[tuple[int, float], ...]
    footprint: tuple[Point2, ...]
    walls: tuple[Span, ...]
    holes: tuple[RoofHole, ...]
    bearings: tuple[Bearing, ...]
    layers: tuple[Layer, ...]
    assembly: Assembly
    rafter: Stock
    shop: Shop
    rules: RuleSet
    catalog: Catalog

    def over_wall(self, x: float) -> bool:
        """Whether a place at run 0 is on a bearing wall."""
        return any(low < x < high for low, high in self.walls)

    def gable_end(self, rake: Side) -> float:
        """The x of the outer framing face of the wall under a rake; of the rake itself where there is none."""
        return gable_face(self.footprint, rake.start, rake.end)

    @staticmethod
    def is_left(riser: Side) -> bool:
        """Whether a side up the slope is at the left of the panel."""
        return riser.end[1] < riser.start[1]

    @property
    def over(self) -> Plane | None:
        """Where the panel ends on the sheathing of another roof, as a plane in panel coordinates; its normal is up."""
        if self.plane.over is None:
            return None
        normal, offset = self.plane.over
        return normal, offset - dot(normal, (self.start, self.pitch.base, 0.0))

    @property
    def plate_height(self) -> float:
        """Height of the plates in `Pitch.height`, mm."""
        return self.plane.seat * self.pitch.tangent

    def id(self, what: str, x: float) -> str:
        """The id of a part of the plane by what it is and where along the eave, and up it above a cross joint."""
        return f"{self.plane.id}/{what}@{round(self.start + x)}{self.above}"

    @property
    def above(self) -> str:
        """What the ids of parts above a cross joint end in, as others below it are named alike."""
        return "" if self.foot is None else f"-{round(self.foot)}"
