"""The whole spec of a house: what the designer asks for and what the shop can do."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from panelgen.catalog import Catalog
from panelgen.spec.assemblies import Assembly
from panelgen.spec.base import SpecModel
from panelgen.spec.floors import CeilingSpec, FloorSpec
from panelgen.spec.handling import CraneSpec, TruckSpec
from panelgen.spec.openings import OpeningSpec, UnitType
from panelgen.spec.posts import PostSpec
from panelgen.spec.quantities import (
    Density,
    HouseName,
    Mass,
    Name,
    PositiveLength,
    Pressure,
    ProductName,
    SomeLength,
    Spacing,
    Text,
)
from panelgen.spec.roofs import RoofSpec, TrussSpec
from panelgen.spec.seals import SealSpec
from panelgen.spec.services import BackingSpec, BoxSpec, RunSpec, SleeveSpec
from panelgen.spec.splits import JointSpec, NoJointSpec
from panelgen.spec.trades import TradeSpec
from panelgen.spec.walls import Level

__all__ = ["DesignData", "HouseSpec", "Products", "SheetOverride", "Shop", "StockOverride", "WaiverSpec"]


class DesignData(SpecModel):
    """What prescriptive tables ask: ground snow (kPa), building width across the ridge (mm).

    `interior_board` is hung on site: its screws reach into the straps and what lies between them.
    """

    ground_snow: Pressure
    building_width: PositiveLength
    roof_bears_on: Literal["exterior walls"] = "exterior walls"
    interior_board: Text = "gypsum-1/2"


class Shop(SpecModel):
    """What the line, crane, truck and hands can do. Joints keep `joint_clearance` from rough openings;
    `longest_stock` is the longest stick in the rack, `panel_mass` the heaviest panel that the shop moves."""

    line_length: PositiveLength = 7315.2
    line_height: PositiveLength = 3048.0
    panel_mass: Mass = 1360.0
    shortest_panel: PositiveLength = 609.6
    shortest_member: PositiveLength = 76.2
    longest_stock: PositiveLength = 4876.8
    joint_clearance: SomeLength = 300.0
    crane: CraneSpec | None = None
    truck: TruckSpec | None = None


class StockOverride(SpecModel):
    """A stick size that the catalog lacks, or that differs in this shop."""

    thickness: PositiveLength
    width: PositiveLength


class SheetOverride(SpecModel):
    """A sheet product that the catalog lacks, or that differs in this shop."""

    thickness: PositiveLength
    density: Density
    sizes: tuple[tuple[Spacing, Spacing], ...] = Field(min_length=1, max_length=50)


class Products(SpecModel):
    """The shop's own products, by name; they take precedence over the catalog."""

    stock: dict[ProductName, StockOverride] = {}
    sheets: dict[ProductName, SheetOverride] = {}

    def over(self, catalog: Catalog) -> Catalog:
        """The catalog with these products in it."""
        return catalog.with_products(
            {name: (own.thickness, own.width) for name, own in self.stock.items()},
            {name: (own.thickness, own.density, own.sizes) for name, own in self.sheets.items()},
        )


class WaiverSpec(SpecModel):
    """A decision to accept one finding on one part."""

    code: Text
    part: Text
    reason: Annotated[Text, Field(min_length=3)]
    decided_by: Text


class HouseSpec(SpecModel):
    """A house spec, version 1. `unit` is the unit of bare numbers in the file."""

    panelgen: Literal[1]
    house: HouseName
    unit: Literal["mm", "m", "in", "ft"] = "mm"
    rules: Text = "irc-2021"
    design: DesignData
    shop: Shop = Shop()
    products: Products = Products()
    assemblies: dict[Name, Assembly] = Field(min_length=1)
    levels: tuple[Level, ...] = Field(min_length=1)
    unit_types: dict[Name, UnitType] = {}
    openings: tuple[OpeningSpec, ...] = ()
    joints: tuple[JointSpec, ...] = ()
    no_joints: tuple[NoJointSpec, ...] = ()
    posts: tuple[PostSpec, ...] = ()
    runs: tuple[RunSpec, ...] = ()
    sleeves: tuple[SleeveSpec, ...] = ()
    boxes: tuple[BoxSpec, ...] = ()
    backing: tuple[BackingSpec, ...] = ()
    trades: tuple[TradeSpec, ...] = ()
    floors: tuple[FloorSpec, ...] = ()
    ceilings: tuple[CeilingSpec, ...] = ()
    roofs: tuple[RoofSpec, ...] = ()
    trusses: tuple[TrussSpec, ...] = ()
    seals: tuple[SealSpec, ...] = ()
    waivers: tuple[WaiverSpec, ...] = ()
