"""Thermal tables: conductivities, surface resistances, assumed framing, and insulation that lacks room."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from panelgen.catalog.loading import DataFolder, Record
from panelgen.catalog.lookup import find, index
from panelgen.catalog.thermal_rows import (
    Conductivity,
    FramingShare,
    HeatFlow,
    RestrictedInsulation,
    Restriction,
    SurfacePlace,
    SurfaceResistance,
    ThermalMethod,
)
from panelgen.errors import CatalogError

__all__ = ["M2K_PER_FT2HF", "ThermalTables", "read_thermal_tables"]

M2K_PER_FT2HF = 0.3048**2 * 3600 / (0.45359237 * 4186.8)
"""m2 K/W in one ft2 h F/Btu (international table Btu)."""


@dataclass(frozen=True, slots=True, eq=False)
class ThermalTables:
    """Conductivities by name; surface resistances by method, flow and place; framing that sources assume.

    `restrictions` are in the order of their ratio.
    """

    conductivities: Mapping[str, Conductivity]
    surfaces: Mapping[tuple[ThermalMethod, HeatFlow, SurfacePlace], SurfaceResistance]
    framing: tuple[FramingShare, ...]
    restrictions: tuple[RestrictedInsulation, ...]

    def conductivity(self, product: str) -> Conductivity:
        """The row of a product, or of the family whose name its own begins with: ``osb`` for ``osb-7/16``.

        Raises CatalogError where there is neither.
        """
        name = product
        while name not in self.conductivities and "-" in name:
            name = name.rpartition("-")[0]
        return find(self.conductivities, name if name in self.conductivities else product, "conductivity")

    def surface(self, method: ThermalMethod, flow: HeatFlow, place: SurfacePlace) -> SurfaceResistance:
        """A surface or air space resistance. Raises CatalogError where the method has none."""
        row = self.surfaces.get((method, flow, place))
        if row is None:
            raise CatalogError(f"no {place} resistance of {method} for heat that flows {flow} in the catalog")
        return row

    def restricted(self, ratio: float, how: Restriction) -> float:
        """The share of its full resistance that insulation keeps at a share `ratio` of its thickness, 0 to 1.

        Between rows it is interpolated. Raises CatalogError for a ratio that is no share.
        """
        for lower, upper in pairwise(self.restrictions):
            if lower.ratio <= ratio <= upper.ratio:
                along = (ratio - lower.ratio) / (upper.ratio - lower.ratio)
                low, high = _left(lower, how), _left(upper, how)
                return low + (high - low) * along
        raise CatalogError(f"insulation at {ratio:g} of its thickness is outside the table, which goes from 0 to 1")


def read_thermal_tables(data: DataFolder) -> ThermalTables:
    """The thermal tables of a folder."""
    surfaces = [_surface(row) for row in data.records("surface_resistances")]
    return ThermalTables(
        conductivities=index(map(_conductivity, data.records("conductivities")), lambda row: row.name),
        surfaces={(row.method, row.flow, row.place): row for row in surfaces},
        framing=tuple(map(_framing, data.records("framing_fractions"))),
        restrictions=tuple(
            sorted(map(_restriction, data.records("insulation_restrictions")), key=lambda row: row.ratio)
        ),
    )


def _left(row: RestrictedInsulation, how: Restriction) -> float:
    return {"batt": row.batt, "blown": row.blown, "uniform": row.uniform}[how]


def _conductivity(row: Record) -> Conductivity:
    resistance = row.number("resistance_ft2hf") * M2K_PER_FT2HF
    return Conductivity(
        name=row.text("name"), conductivity=row.inches("thickness") / 1000 / resistance, **row.citation()
    )


def _surface(row: Record) -> SurfaceResistance:
    unit = {"m2k": 1.0, "ft2hf": M2K_PER_FT2HF}[row.choice("unit", Literal["m2k", "ft2hf"])]
    return SurfaceResistance(
        method=row.choice("method", ThermalMethod),
        flow=row.choice("flow", HeatFlow),
        place=row.choice("place", SurfacePlace),
        resistance=row.number("resistance") * unit,
        **row.citation(),
    )


def _framing(row: Record) -> FramingShare:
    return FramingShare(
        part=row.choice("part", Literal["walls", "floors", "ceilings"]),
        spacing=row.inches("spacing"),
        share=row.percent("share"),
        **row.citation(),
    )


def _restriction(row: Record) -> RestrictedInsulation:
    return RestrictedInsulation(
        ratio=row.percent("ratio"),
        batt=row.percent("batt"),
        blown=row.percent("blown"),
        uniform=row.percent("uniform"),
        **row.citation(),
    )
