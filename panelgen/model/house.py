"""The designed house: every panel, run and joint, and every default that decided something."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.geometry.frames import Frame
from panelgen.model.findings import Finding, Waiver
from panelgen.model.handling import NO_TRUCK, Crane, Truck
from panelgen.model.joints import Joint
from panelgen.model.panel import Panel
from panelgen.model.partition import Partition
from panelgen.model.services import Fitting, ServiceRun
from panelgen.model.trusses import Truss

__all__ = ["Assumption", "DesignLoads", "House", "ShopLimits", "Storey", "WallRun"]


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value nobody wrote down that still decided something: a default of the spec or of a rule."""

    field: str
    value: str
    source: str


@dataclass(frozen=True, slots=True)
class WallRun:
    """One straight wall before it is split, mm.

    `frame` is as a panel's, with x = 0 where the spec starts the wall; the framing spans `start` to
    `start + length` along it once corners and junctions are resolved.
    """

    id: str
    level: str
    frame: Frame
    start: float
    length: float
    thickness: float
    exterior: bool
    bearing: bool


@dataclass(frozen=True, slots=True)
class ShopLimits:
    """What the line, the crane and the truck can take: mm and kg."""

    line_length: float
    line_height: float
    panel_mass: float
    shortest_member: float
    crane: Crane | None = None
    truck: Truck = NO_TRUCK


@dataclass(frozen=True, slots=True)
class DesignLoads:
    """What prescriptive tables ask of the place and the building: ground snow, kPa, and width across the ridge, mm."""

    ground_snow: float
    building_width: float


@dataclass(frozen=True, slots=True)
class Storey:
    """A level whose walls stand at `elevation`, mm; `has_floor` says whether the walls below carry a floor there."""

    id: str
    elevation: float
    has_floor: bool


@dataclass(frozen=True, eq=False)
class House:
    """What will be built. `rules` names the rule set that the checks use.

    `fittings` are all there are, in house coordinates, those between panels too. `interior_board` is what
    the crew hangs inside, whose screws reach into the panels. Without `loads` no structural table is looked up.
    `partitions` say of each wall how it was split, in the order of `walls`, then of each rectangle of a floor
    or ceiling, then of each convex part of a roof plane.
    """

    name: str
    rules: str
    limits: ShopLimits
    walls: tuple[WallRun, ...]
    panels: tuple[Panel, ...]
    runs: tuple[ServiceRun, ...] = ()
    joints: tuple[Joint, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    findings: tuple[Finding, ...] = ()
    waivers: tuple[Waiver, ...] = ()
    fittings: tuple[Fitting, ...] = ()
    interior_board: str = ""
    loads: DesignLoads | None = None
    storeys: tuple[Storey, ...] = ()
    partitions: tuple[Partition, ...] = ()
    trusses: tuple[Truss, ...] = ()

    def floors_above(self, level: str) -> int:
        """How many floors stand on the walls of a level. Raises KeyError for a level that there is not."""
        elevations = {storey.id: storey.elevation for storey in self.storeys}
        return sum(storey.has_floor and storey.elevation > elevations[level] for storey in self.storeys)

    def panel(self, label: str) -> Panel:
        """The panel with that label. Raises KeyError if there is none."""
        for panel in self.panels:
            if panel.label == label:
                return panel
        raise KeyError(label)
