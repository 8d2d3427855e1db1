"""The catalog: every product and rule set by name, frozen and loaded once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from functools import lru_cache
from pathlib import Path

from panelgen.catalog import products, service_products
from panelgen.catalog.headers import HeaderTable
from panelgen.catalog.loading import DataFolder
from panelgen.catalog.lookup import find, index
from panelgen.catalog.rows import Fact, Fastener, Insulation, Lumber, SheetProduct, Source, Species
from panelgen.catalog.rule_set import RuleSet
from panelgen.catalog.rule_tables import read_rule_sets
from panelgen.catalog.seals import PanelJoint, SealProduct, read_panel_joints, read_seals
from panelgen.catalog.service_rows import (
    BoreClearance,
    BoxFillShare,
    BoxProduct,
    Family,
    ServiceSize,
    SleeveProduct,
    WireVolume,
)
from panelgen.catalog.service_tables import ServiceTables, read_service_tables
from panelgen.catalog.structure import Strengths, StructureRules
from panelgen.catalog.structure_tables import read_strengths
from panelgen.catalog.thermal import ThermalTables, read_thermal_tables
from panelgen.catalog.trades import TradeBacking, read_trade_backing

__all__ = ["Catalog"]

_SHOP = "house spec: the shop's own products"


@dataclass(frozen=True, slots=True, eq=False)
class Catalog:
    """Products and rule sets. Every lookup raises CatalogError, naming the nearest, for an unknown name."""

    sources: tuple[Source, ...]
    lumber: Mapping[str, Lumber]
    species_by_name: Mapping[str, Species]
    sheets: Mapping[str, SheetProduct]
    fasteners: Mapping[str, Fastener]
    insulations: Mapping[str, Insulation]
    service_sizes: Mapping[str, ServiceSize]
    bore_clearances: Mapping[str, BoreClearance]
    boxes: Mapping[str, BoxProduct]
    wire_volumes: Mapping[int, WireVolume]
    box_fill_shares: Mapping[str, BoxFillShare]
    sleeves: Mapping[str, SleeveProduct]
    services: ServiceTables
    strengths: Strengths
    thermal: ThermalTables
    trade_backing: tuple[TradeBacking, ...]
    seals: Mapping[str, SealProduct]
    panel_joints: Mapping[str, PanelJoint]
    rule_sets_by_name: Mapping[str, RuleSet]

    @staticmethod
    def default() -> Catalog:
        """The catalog shipped with the package; the same object on every call."""
        return _default()

    @staticmethod
    def read(folder: Path) -> Catalog:
        """A catalog from a folder of tables like the package's own.

        Raises CatalogError, naming file, line and column, where a table is missing or malformed.
        """
        data = DataFolder(folder)
        lumber = index(products.read_lumber(data), lambda row: row.name)
        fasteners = index(products.read_fasteners(data), lambda row: row.name)
        sheets = index(products.read_sheets(data), lambda row: row.name)
        clearances = index(service_products.read_bore_clearances(data), lambda row: str(row.family))
        series = index(service_products.read_series(data), lambda row: row.name)
        sizes = index(service_products.read_service_sizes(data, clearances, series), lambda row: row.name)
        species = index(products.read_species(data), lambda row: row.name)
        seals = index(read_seals(data), lambda row: row.name)
        return Catalog(
            sources=tuple(data.sources.values()),
            lumber=lumber,
            species_by_name=species,
            sheets=sheets,
            fasteners=fasteners,
            insulations=index(products.read_insulation(data), lambda row: row.name),
            service_sizes=sizes,
            bore_clearances=clearances,
            boxes=index(service_products.read_boxes(data), lambda row: row.name),
            wire_volumes=index(service_products.read_wire_volumes(data), lambda row: row.gauge),
            box_fill_shares=index(service_products.read_box_fill(data), lambda row: row.item),
            sleeves=index(service_products.read_sleeves(data), lambda row: row.name),
            services=read_service_tables(data, series, sizes, sheets, fasteners),
            strengths=read_strengths(data, lumber, species),
            thermal=read_thermal_tables(data),
            trade_backing=read_trade_backing(data, lumber),
            seals=seals,
            panel_joints=index(read_panel_joints(data, seals, fasteners), lambda row: row.joint),
            rule_sets_by_name=read_rule_sets(data, lumber, fasteners, series),
        )

    def with_products(
        self,
        stock: Mapping[str, tuple[float, float]],
        sheets: Mapping[str, tuple[float, float, tuple[tuple[float, float], ...]]],
    ) -> Catalog:
        """A catalog with a shop's own products, which take precedence.

        `stock` is (thickness, width) mm by name; `sheets` is (thickness mm, density kg/m3, sizes mm).
        """
        own_stock = {
            name: Lumber(name=name, thickness=thickness, width=width, source=_SHOP, grade="A")
            for name, (thickness, width) in stock.items()
        }
        own_sheets = {
            name: SheetProduct(
                name=name,
                thickness=thickness,
                density=density,
                sizes=tuple((min(size), max(size)) for size in sizes),
                source=_SHOP,
                grade="A",
            )
            for name, (thickness, density, sizes) in sheets.items()
        }
        lumber = {**self.lumber, **own_stock}
        return replace(
            self,
            lumber=lumber,
            sheets={**self.sheets, **own_sheets},
            rule_sets_by_name={
                name: replace(rules, header_table=replace(rules.header_table, lumber=lumber))
                for name, rules in self.rule_sets_by_name.items()
            },
        )

    def stock(self, name: str) -> Lumber:
        """A dressed stick size such as ``2x6``."""
        return find(self.lumber, name, "stock")

    def species(self, name: str) -> Species:
        """A species combination such as ``SPF``."""
        return find(self.species_by_name, name, "species")

    def sheet(self, name: str) -> SheetProduct:
        """A sheet product such as ``osb-7/16``."""
        return find(self.sheets, name, "sheet product")

    def fastener(self, name: str) -> Fastener:
        """A nail or screw such as ``16d common``."""
        return find(self.fasteners, name, "fastener")

    def insulation(self, name: str) -> Insulation:
        """An insulation product such as ``dense-pack-cellulose``."""
        return find(self.insulations, name, "insulation")

    def service_size(self, name: str) -> ServiceSize:
        """A pipe, conduit, cable or duct such as ``pex-1/2``."""
        return find(self.service_sizes, name, "service size")

    def bore_clearance(self, family: Family) -> BoreClearance:
        """How much wider than its run a hole through wood is; ``other`` for a run given by its diameter only."""
        return find(self.bore_clearances, family, "family of services")

    def box(self, name: str) -> BoxProduct:
        """A device box such as ``device-3x2x2-1/2``."""
        return find(self.boxes, name, "box")

    def sleeve(self, name: str) -> SleeveProduct:
        """A sealing sleeve such as ``sleeve-2-1/2``."""
        return find(self.sleeves, name, "sleeve")

    def seal(self, name: str) -> SealProduct:
        """A tape, gasket or membrane such as ``air tape``."""
        return find(self.seals, name, "seal")

    def panel_joint(self, kind: str) -> PanelJoint:
        """What the crew does at a kind of joint such as ``in line``."""
        return find(self.panel_joints, kind, "kind of joint")

    def box_fill(
        self, gauge: int, conductors: int, devices: int = 0, clamps: bool = False, grounds: bool = False
    ) -> float:
        """Volume taken in a box, mm3, where everything in it is `gauge` AWG; see `mixed_box_fill`."""
        return self.mixed_box_fill({gauge: conductors}, devices, clamps, grounds)

    def mixed_box_fill(
        self, conductors: Mapping[int, int], devices: int = 0, clamps: bool = False, grounds: bool = False
    ) -> float:
        """Volume taken in a box, mm3, by conductors (how many of each gauge, AWG) and what else it holds.

        Each conductor counts at its own gauge; each device, all clamps together and all ground wires
        together count at the largest there is. Raises CatalogError for an unknown gauge, ValueError
        for no conductor at all.
        """
        volumes = {gauge: find(self.wire_volumes, gauge, "wire gauge").volume for gauge in conductors}
        shares = {item: row.allowances for item, row in self.box_fill_shares.items()}
        wires = sum(count * volumes[gauge] for gauge, count in conductors.items()) * shares["conductor"]
        others = devices * shares["device"] + clamps * shares["clamps"] + grounds * shares["grounds"]
        return wires + others * max(volumes.values())

    @property
    def rule_sets(self) -> tuple[str, ...]:
        """Names of the rule sets."""
        return tuple(self.rule_sets_by_name)

    def rules(self, name: str) -> RuleSet:
        """A rule set such as ``irc-2021``."""
        return find(self.rule_sets_by_name, name, "rule set")

    def facts(self) -> tuple[Fact, ...]:
        """Every row of every product table and rule set, each once."""
        return tuple(dict.fromkeys(_facts_in(self)))


def _facts_in(value: object) -> Iterator[Fact]:
    if isinstance(value, Fact):
        yield value
    elif isinstance(value, Mapping):
        for item in value.values():
            yield from _facts_in(item)
    elif isinstance(value, tuple):
        for item in value:
            yield from _facts_in(item)
    elif isinstance(value, (Catalog, RuleSet, HeaderTable, ServiceTables, Strengths, StructureRules, ThermalTables)):
        for field in fields(value):
            yield from _facts_in(getattr(value, field.name))


@lru_cache(maxsize=1)
def _default() -> Catalog:
    return Catalog.read(Path(__file__).parent / "data")
