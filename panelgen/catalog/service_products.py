"""Reads the tables of services: sizes and series, fittings, boxes, plates and what practice asks of them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Literal

from panelgen.catalog.loading import DataFolder, Record
from panelgen.catalog.rows import Fastener, SheetProduct
from panelgen.catalog.service_rows import (
    BendRadius,
    BoreClearance,
    BoxFillShare,
    BoxKind,
    BoxProduct,
    Family,
    FittingKind,
    FittingProduct,
    ScrewZone,
    Section,
    ServiceSeries,
    ServiceSize,
    ShieldPlate,
    SleeveProduct,
    SystemClearance,
    TurnFitting,
    WireVolume,
)

__all__ = [
    "read_bend_radii",
    "read_bore_clearances",
    "read_box_fill",
    "read_boxes",
    "read_fittings",
    "read_screw_zones",
    "read_series",
    "read_service_sizes",
    "read_shield_plates",
    "read_sleeves",
    "read_system_clearances",
    "read_turns",
    "read_wire_volumes",
]

_ANY = "any"


def read_series(data: DataFolder) -> Iterable[ServiceSeries]:
    """How sizes of one material are turned and joined."""
    for row in data.records("service_series"):
        yield ServiceSeries(
            name=row.text("name"),
            turns=row.choice("turns", Literal["bend", "elbow"]),
            stock=row.feet("stock"),
            **row.citation(),
        )


def read_bore_clearances(data: DataFolder) -> Iterable[BoreClearance]:
    """How much wider than the run a hole is, by family of service."""
    for row in data.records("bore_clearances"):
        yield BoreClearance(family=row.choice("family", Family), clearance=row.inches("clearance"), **row.citation())


def read_service_sizes(
    data: DataFolder, clearances: Mapping[str, BoreClearance], series: Mapping[str, ServiceSeries]
) -> Iterable[ServiceSize]:
    """Pipes, conduits, cables and round ducts, then rectangular ducts; `clearances` by family, `series` by name."""
    for row in data.records("service_sizes"):
        yield _size(row, clearances, series, row.inches("diameter"), None)
    for row in data.records("rectangular_sizes"):
        section = _section(row)
        yield _size(row, clearances, series, math.hypot(*section), section)


def read_fittings(data: DataFolder, sizes: Mapping[str, ServiceSize]) -> Iterable[FittingProduct]:
    """Fittings of round sizes, then of rectangular ones; `sizes` by name."""
    for row in data.records("fittings"):
        yield _fitting(row, sizes, row.inches("diameter"), None)
    for row in data.records("rectangular_fittings"):
        section = _section(row)
        yield _fitting(row, sizes, math.hypot(*section), section)


def read_turns(data: DataFolder, series: Mapping[str, ServiceSeries]) -> Iterable[TurnFitting]:
    """The angles that elbows of a series turn by."""
    for row in data.records("turns"):
        yield TurnFitting(
            series=row.key("series", series),
            name=row.text("name"),
            angle=row.number("angle_deg"),
            tolerance=row.number("tolerance_deg"),
            **row.citation(),
        )


def read_bend_radii(
    data: DataFolder, series: Mapping[str, ServiceSeries], sizes: Mapping[str, ServiceSize]
) -> Iterable[BendRadius]:
    """How tight a series, or one size of it, may be bent."""
    for row in data.records("bend_radii"):
        yield BendRadius(
            series=row.key("series", series),
            size=row.key("size", {_ANY: None, **sizes}),
            times=row.number("times_diameter"),
            least=row.inches("least"),
            at_inner_edge=row.yes("at_inner_edge"),
            **row.citation(),
        )


def read_system_clearances(data: DataFolder) -> Iterable[SystemClearance]:
    """How far systems keep apart."""
    for row in data.records("system_clearances"):
        yield SystemClearance(
            system=row.text("system"), other=row.text("other"), distance=row.inches("distance"), **row.citation()
        )


def read_shield_plates(data: DataFolder) -> Iterable[ShieldPlate]:
    """Steel plates that keep nails and screws out of runs."""
    for row in data.records("shield_plates"):
        yield ShieldPlate(
            name=row.text("name"),
            width=row.inches("width"),
            length=row.inches("length"),
            thickness=row.inches("thickness"),
            **row.citation(),
        )


def read_screw_zones(
    data: DataFolder, sheets: Mapping[str, SheetProduct], fasteners: Mapping[str, Fastener]
) -> Iterable[ScrewZone]:
    """Interior boards, the screws that hang them, and how far these reach: their length less the board."""
    for row in data.records("screw_zones"):
        board, fastener = row.key("board", sheets), row.key("fastener", fasteners)
        depth = fasteners[fastener].length - sheets[board].thickness
        yield ScrewZone(board=board, fastener=fastener, depth=depth, **row.citation())


def read_boxes(data: DataFolder) -> Iterable[BoxProduct]:
    """Boxes for devices and manifolds."""
    for row in data.records("boxes"):
        yield BoxProduct(
            name=row.text("name"),
            kind=row.choice("kind", BoxKind),
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


def _size(
    row: Record,
    clearances: Mapping[str, BoreClearance],
    series: Mapping[str, ServiceSeries],
    diameter: float,
    section: Section | None,
) -> ServiceSize:
    clearance = clearances[row.key("family", clearances)]
    return ServiceSize(
        name=row.text("name"),
        family=clearance.family,
        series=row.key("series", series),
        diameter=diameter,
        clearance=clearance,
        section=section,
        **row.citation(),
    )


def _fitting(row: Record, sizes: Mapping[str, ServiceSize], diameter: float, section: Section | None) -> FittingProduct:
    return FittingProduct(
        size=row.key("size", sizes),
        kind=row.choice("kind", FittingKind),
        diameter=diameter,
        arm=row.inches("arm"),
        sweep=row.inches("sweep"),
        section=section,
        **row.citation(),
    )


def _section(row: Record) -> Section:
    return row.inches("width"), row.inches("depth")
