"""The schedule of joints: what meets where, what seals and fastens it, and how long the seals are in all."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable
from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.envelope.closing import closing
from panelgen.envelope.seal_lengths import seal_lengths
from panelgen.model import Barrier, House, Joint

__all__ = ["JointRow", "JointSchedule", "joint_schedule", "joints_csv"]


@dataclass(frozen=True, slots=True)
class JointRow:
    """A joint and the lengths (mm) of its seals in the air and the weather barrier; 0 where it closes none."""

    joint: Joint
    air_length: float
    weather_length: float


@dataclass(frozen=True, slots=True)
class JointSchedule:
    """Every joint, and the lengths (mm) in all by barrier and product; `sleeved` is the length around sleeves."""

    rows: tuple[JointRow, ...]
    air: tuple[tuple[str, float], ...]
    weather: tuple[tuple[str, float], ...]
    sleeves: int
    sleeved: float


def joint_schedule(house: House, catalog: Catalog) -> JointSchedule:
    """The joints of a house in the order of the model. Raises CatalogError for a seal that the catalog lacks."""
    air, weather = (
        seal_lengths(closing(house, barrier, catalog), house.joints).tolist()
        for barrier in (Barrier.AIR, Barrier.WEATHER)
    )
    rows = tuple(JointRow(*row) for row in zip(house.joints, air, weather, strict=True))
    sleeves = [sleeve for panel in house.panels for sleeve in panel.sleeves]
    return JointSchedule(
        rows,
        _totals((row.joint.air, row.air_length) for row in rows),
        _totals((row.joint.weather, row.weather_length) for row in rows),
        len(sleeves),
        sum(math.pi * sleeve.diameter for sleeve in sleeves),
    )


def _totals(lengths: Iterable[tuple[str, float]]) -> tuple[tuple[str, float], ...]:
    totals: dict[str, float] = {}
    for product, length in lengths:
        if length > 0.0:
            totals[product] = totals.get(product, 0.0) + length
    return tuple(sorted(totals.items()))


def joints_csv(schedule: JointSchedule) -> str:
    """The joints, then the totals by product, as CSV with a header; lengths and spacings in whole mm."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(
        ("joint", "panel", "with", "air_seal", "air_mm", "weather_seal", "weather_mm", "fastener", "spacing_mm")
    )
    for row in schedule.rows:
        joint = row.joint
        air = (joint.air, f"{row.air_length:.0f}") if row.air_length else ("", "")
        weather = (joint.weather, f"{row.weather_length:.0f}") if row.weather_length else ("", "")
        fastener = (joint.fastener, f"{joint.spacing:.0f}") if joint.fastener else ("", "")
        writer.writerow((joint.kind, *joint.panels, *air, *weather, *fastener))
    for product, length in schedule.air:
        writer.writerow(("total", "", "", product, f"{length:.0f}", "", "", "", ""))
    for product, length in schedule.weather:
        writer.writerow(("total", "", "", "", "", product, f"{length:.0f}", "", ""))
    writer.writerow(("total", "", "", f"{schedule.sleeves} sleeves", f"{schedule.sleeved:.0f}", "", "", "", ""))
    return text.getvalue()
