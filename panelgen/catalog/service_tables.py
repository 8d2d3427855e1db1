"""What goes with the sizes of services: fittings and bends, clearances, shield plates, the reach of screws."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from panelgen.catalog import service_products as products
from panelgen.catalog.loading import DataFolder
from panelgen.catalog.lookup import find, index
from panelgen.catalog.rows import Fastener, SheetProduct
from panelgen.catalog.service_rows import (
    BendRadius,
    FittingKind,
    FittingProduct,
    ScrewZone,
    ServiceSeries,
    ServiceSize,
    ShieldPlate,
    SystemClearance,
    TurnFitting,
)
from panelgen.errors import CatalogError

__all__ = ["ServiceTables", "read_service_tables"]

_ANY = "any"
_TOLERANCE = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class ServiceTables:
    """Lookups by size. Lengths mm, angles degrees; None where there is no such thing for that size."""

    series_by_name: Mapping[str, ServiceSeries]
    fittings: Mapping[str, FittingProduct]
    turns: tuple[TurnFitting, ...]
    bend_radii: tuple[BendRadius, ...]
    clearances: Mapping[str, SystemClearance]
    shield_plates: tuple[ShieldPlate, ...]
    screw_zones: Mapping[str, ScrewZone]

    def series(self, size: ServiceSize) -> ServiceSeries:
        """How a size is turned and joined."""
        return self.series_by_name[size.series]

    def fitting(self, size: ServiceSize, kind: FittingKind) -> FittingProduct | None:
        """The fitting of that kind for a size."""
        return self.fittings.get(f"{size.name} {kind}")

    def fitting_kinds(self, size: ServiceSize) -> tuple[str, ...]:
        """The kinds of fittings there are for a size."""
        return tuple(fitting.kind for fitting in self.fittings.values() if fitting.size == size.name)

    def turn(self, size: ServiceSize, angle: float) -> TurnFitting | None:
        """The elbow of the size's series that turns by `angle`, within its tolerance; of several the nearest."""
        fitting = (
            turn
            for turn in self.turns
            if turn.series == size.series and abs(turn.angle - angle) <= turn.tolerance + _TOLERANCE
        )
        return min(fitting, key=lambda turn: abs(turn.angle - angle), default=None)

    def bend_radius(self, size: ServiceSize) -> BendRadius | None:
        """How tight a size may be bent; None for one that elbows turn."""
        for name in (size.name, _ANY):
            for row in self.bend_radii:
                if row.series == size.series and row.size == name:
                    return row
        return None

    def clearance(self, system: str, other: str) -> SystemClearance:
        """How far apart runs of two systems stay, in either order.

        The row of the pair, or else the widest of the rows for one of them and any other.
        """
        for pair in (_pair(system, other), _pair(other, system)):
            if pair in self.clearances:
                return self.clearances[pair]
        general = (self.clearances.get(_pair(name, _ANY)) for name in (system, other, _ANY))
        return max((row for row in general if row is not None), key=lambda row: row.distance)

    def shield_plate(self, length: float, thickness: float) -> ShieldPlate:
        """The shortest plate of at least that `length` and `thickness`, or the longest there is.

        Raises CatalogError where no plate is that thick.
        """
        thick = [plate for plate in self.shield_plates if plate.thickness >= thickness - _TOLERANCE]
        if not thick:
            raise CatalogError(f"no shield plate in the catalog is {thickness:.2f} mm thick")
        long = [plate for plate in thick if plate.length >= length - _TOLERANCE]
        return min(long, key=lambda plate: plate.length) if long else max(thick, key=lambda plate: plate.length)

    def screw_zone(self, board: str) -> ScrewZone:
        """How far the screws of an interior board such as ``gypsum-1/2`` reach behind the face it hangs on."""
        return find(self.screw_zones, board, "interior board")


def read_service_tables(
    data: DataFolder,
    series: Mapping[str, ServiceSeries],
    sizes: Mapping[str, ServiceSize],
    sheets: Mapping[str, SheetProduct],
    fasteners: Mapping[str, Fastener],
) -> ServiceTables:
    """The tables of a folder. Raises CatalogError where a row names what there is not, or no clearance is general."""
    clearances = index(products.read_system_clearances(data), lambda row: _pair(row.system, row.other))
    find(clearances, _pair(_ANY, _ANY), "system clearance")
    return ServiceTables(
        series_by_name=series,
        fittings=index(products.read_fittings(data, sizes), lambda row: row.name),
        turns=tuple(products.read_turns(data, series)),
        bend_radii=tuple(products.read_bend_radii(data, series, sizes)),
        clearances=clearances,
        shield_plates=tuple(products.read_shield_plates(data)),
        screw_zones=index(products.read_screw_zones(data, sheets, fasteners), lambda row: row.board),
    )


def _pair(system: str, other: str) -> str:
    return f"{system} to {other}"
