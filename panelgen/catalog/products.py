"""Reads the product tables: what sticks, sheets, nails and insulation there are."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from panelgen.catalog.formulas import mass_per_length, nds_density, sheet_density
from panelgen.catalog.loading import DataFolder
from panelgen.catalog.rows import Fastener, Insulation, Lumber, SheetKind, SheetProduct, Species, StockKind

__all__ = ["read_fasteners", "read_insulation", "read_lumber", "read_sheets", "read_species"]


def read_lumber(data: DataFolder) -> Iterable[Lumber]:
    """Dressed sizes of lumber, then engineered sticks by the envelope of their section."""
    for row in data.records("lumber"):
        yield Lumber(
            name=row.text("name"), thickness=row.inches("thickness"), width=row.inches("width"), **row.citation()
        )
    for row in data.records("engineered"):
        yield Lumber(
            name=row.text("name"),
            thickness=row.inches("thickness"),
            width=row.inches("width"),
            kind=row.choice("kind", StockKind),
            flange=row.inches("flange"),
            mass_per_length=mass_per_length(row.number("weight_plf")),
            **row.citation(),
        )


def read_species(data: DataFolder) -> Iterable[Species]:
    """Species combinations, their density by the NDS formula at the moisture content of the row."""
    for row in data.records("species"):
        gravity, moisture = row.number("gravity"), row.number("moisture_percent")
        yield Species(
            name=row.text("name"),
            gravity=gravity,
            moisture=moisture,
            density=nds_density(gravity, moisture),
            **row.citation(),
        )


def read_sheets(data: DataFolder) -> Iterable[SheetProduct]:
    """Sheet products, their density from the weight per square foot."""
    for row in data.records("sheets"):
        thickness = row.inches("thickness")
        yield SheetProduct(
            name=row.text("name"),
            thickness=thickness,
            density=sheet_density(row.number("weight_psf"), thickness),
            sizes=row.sizes("sizes"),
            kind=row.choice("kind", SheetKind),
            **row.citation(),
        )


def read_fasteners(data: DataFolder) -> Iterable[Fastener]:
    """Nails and screws."""
    for row in data.records("fasteners"):
        yield Fastener(
            name=row.text("name"),
            length=row.inches("length"),
            shank=row.inches("shank"),
            kind=row.choice("kind", Literal["nail", "screw"]),
            **row.citation(),
        )


def read_insulation(data: DataFolder) -> Iterable[Insulation]:
    """Insulation products."""
    for row in data.records("insulation"):
        yield Insulation(name=row.text("name"), density=row.density("density"), **row.citation())
