"""What is asked: a house spec as frozen models, read from YAML or JSON with every problem named by line."""

from panelgen.spec.assemblies import Assembly, FramingLayer, LayerSpec, SheathingLayer, StrappingLayer
from panelgen.spec.floors import CeilingSpec, DeckBeam, DeckOpening, DeckSpec, FloorSpec
from panelgen.spec.handling import CraneReach, CraneSpec, TruckSpec
from panelgen.spec.house import DesignData, HouseSpec, Products, SheetOverride, Shop, StockOverride, WaiverSpec
from panelgen.spec.loader import load, loads
from panelgen.spec.openings import Clearance, OpeningSpec, UnitType
from panelgen.spec.posts import PostSpec
from panelgen.spec.roofs import DormerSpec, RoofCorner, RoofEdge, RoofOpening, RoofPurlin, RoofSpec, TrussSpec
from panelgen.spec.schema import json_schema
from panelgen.spec.services import BackingSpec, BoxFillSpec, BoxSpec, FittingSpec, RunSpec, SleeveSpec, WireSpec
from panelgen.spec.splits import JointSpec, NoJointSpec
from panelgen.spec.walls import Corner, Gable, Level, Outline, WallLine

__all__ = [
    "Assembly",
    "BackingSpec",
    "BoxFillSpec",
    "BoxSpec",
    "CeilingSpec",
    "Clearance",
    "Corner",
    "CraneReach",
    "CraneSpec",
    "DeckBeam",
    "DeckOpening",
    "DeckSpec",
    "DesignData",
    "DormerSpec",
    "FittingSpec",
    "FloorSpec",
    "FramingLayer",
    "Gable",
    "HouseSpec",
    "JointSpec",
    "LayerSpec",
    "Level",
    "NoJointSpec",
    "OpeningSpec",
    "Outline",
    "PostSpec",
    "Products",
    "RoofCorner",
    "RoofEdge",
    "RoofOpening",
    "RoofPurlin",
    "RoofSpec",
    "RunSpec",
    "SheathingLayer",
    "SheetOverride",
    "Shop",
    "SleeveSpec",
    "StockOverride",
    "StrappingLayer",
    "TruckSpec",
    "TrussSpec",
    "UnitType",
    "WaiverSpec",
    "WallLine",
    "WireSpec",
    "json_schema",
    "load",
    "loads",
]
