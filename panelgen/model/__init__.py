"""What will be built, as frozen data: panels and their sticks, sheets, nails, runs and bays."""

from panelgen.model.bay import Bay
from panelgen.model.bearing import Bearing
from panelgen.model.fasteners import Fasteners
from panelgen.model.findings import Change, Finding, Proposal, Severity, SpecValue, Waiver, worst_first
from panelgen.model.handling import Crane, Truck
from panelgen.model.house import Assumption, DesignLoads, House, ShopLimits, Storey, WallRun
from panelgen.model.joints import FOUNDATION, Joint, JointKind
from panelgen.model.layers import Barrier, Layer, LayerKind
from panelgen.model.member import SQUARE, Bore, EndCut, Member, Notch, Role
from panelgen.model.opening import HeaderChoice, Opening
from panelgen.model.panel import Panel, PanelKind
from panelgen.model.partition import Partition, SplitCost
from panelgen.model.services import Box, Fitting, Hardware, HardwareKind, RunPart, ServiceRun, Sleeve
from panelgen.model.sheet import RoundHole, Sheet
from panelgen.model.trusses import Truss, truss_rows
from panelgen.model.why import Why

__all__ = [
    "FOUNDATION",
    "SQUARE",
    "Assumption",
    "Barrier",
    "Bay",
    "Bearing",
    "Bore",
    "Box",
    "Change",
    "Crane",
    "DesignLoads",
    "EndCut",
    "Fasteners",
    "Finding",
    "Fitting",
    "Hardware",
    "HardwareKind",
    "HeaderChoice",
    "House",
    "Joint",
    "JointKind",
    "Layer",
    "LayerKind",
    "Member",
    "Notch",
    "Opening",
    "Panel",
    "PanelKind",
    "Partition",
    "Proposal",
    "Role",
    "RoundHole",
    "RunPart",
    "ServiceRun",
    "Severity",
    "Sheet",
    "ShopLimits",
    "Sleeve",
    "SpecValue",
    "SplitCost",
    "Storey",
    "Truck",
    "Truss",
    "Waiver",
    "WallRun",
    "Why",
    "truss_rows",
    "worst_first",
]
