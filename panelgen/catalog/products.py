"""Reads the product tables: what sticks, sheets, nails, services and insulation there are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

from panelgen.catalog.formulas import nds_density, sheet_density
from panelgen.catalog.loading import DataFolder
from panelgen.catalog.rows import (
    BoreClearance,
    BoxFillShare,
    BoxProduct,
    Family,
    Fastener,
    Insulation,
    Lumber,
    ServiceSize,
    SheetKind,
    SheetProduct,
    SleeveProduct,
    Species,
    WireVolume,
)

__all__ = [
    "read_bore_clearances",
    "read_box_fill",
    "read_boxes",
    "read_fasteners",
    "read_insulation",
    "read_lumber",
    "read_service_sizes",
    "read_sheets",
    "read_sleeves",
    "read_species",
    "read_wire_volumes",
]


def read_lumber(data: DataFolder) -> Iterable[Lumber]:
    """Dressed sizes."""
    for row in data.records("lumber"):
        yield Lumber(
            name=row.text("name"), thickness=row.inches("thickness"), width=row.inches("width"), **row.citation()
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


def read_bore_clearances(data: DataFolder) -> Iterable[BoreClearance]:
    """How much wider than the run a hole is, by family of service."""
    for row in data.records("bore_clearances"):
        yield BoreClearance(family=row.choice("family", Family), clearance=row.inches("clearance"), **row.citation())


def read_service_sizes(data: DataFolder, clearances: Mapping[str, BoreClearance]) -> Iterable[ServiceSize]:
    """Pipes, conduits, cables and ducts; `clearances` by family."""
    for row in data.records("service_sizes"):
        clearance = clearances[row.key("family", clearances)]
        yield ServiceSize(
            name=row.text("name"),
            family=clearance.family,
            diameter=row.inches("diameter"),
            clearance=clearance,
            **row.citation(),
        )


def read_boxes(data: DataFolder) -> Iterable[BoxProduct]:
    """Device boxes."""
    for row in data.records("boxes"):
        yield BoxProduct(
            name=row.text("name"),
            width=row.inches("width"),
            height=row.inches("height"),
            depth=row.inches("depth"),
            volume=row.volume("volume"),
            **row.citation(),
        )


def read_wire_volumes(data: DataFolder) -> Iterable[WireVolume]:
    """Volume allowance per conductor."""
    for row in data.records("wire_volumes"):
        yield WireVolume(gauge=row.count("gauge"), volume=row.volume("volume"), **row.citation())


def read_box_fill(data: DataFolder) -> Iterable[BoxFillShare]:
    """How many conductors each thing in a box counts for."""
    for row in data.records("box_fill"):
        yield BoxFillShare(item=row.text("item"), allowances=row.count("allowances"), **row.citation())


def read_sleeves(data: DataFolder) -> Iterable[SleeveProduct]:
    """Sealing sleeves."""
    for row in data.records("sleeves"):
        yield SleeveProduct(
            name=row.text("name"), inside=row.inches("inside"), outside=row.inches("outside"), **row.citation()
        )


def read_insulation(data: DataFolder) -> Iterable[Insulation]:
    """Insulation products."""
    for row in data.records("insulation"):
        yield Insulation(name=row.text("name"), density=row.density("density"), **row.citation())
