"""The schedule of joints: what meets where, what seals and fastens it, and how long the seals are in all."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Container, Iterable
from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.envelope.closing import closing
from panelgen.envelope.seal_lengths import seal_lengths
from panelgen.model import Barrier, House, Joint, JointKind

__all__ = ["JointRow", "JointSchedule", "joint_schedule", "joints_csv"]

_COLUMNS = (
    "joint",
    "panel",
    "with",
    "length_mm",
    "gap_mm",
    "air_seal",
    "air_mm",
    "weather_seal",
    "weather_mm",
    "lap",
    "tie",
    "fastener",
    "spacing_mm",
    "fasteners",
)


@dataclass(frozen=True, slots=True)
class JointRow:
    """A joint, how long it is, and the lengths of its seals in the air and the weather barrier, mm.

    Panels with something between them have no length, and seals none where they close nothing. `gap` (mm) is how far
    apart the panels may stand, `lap` and `tie` what crosses the joint, `fasteners` how many there are. A membrane
    bridges far: at the ends of ridges and hips it may be told up to that longer than the panels meet.
    """

    joint: Joint
    length: float
    air_length: float
    weather_length: float
    gap: float
    lap: str
    tie: str
    fasteners: int


@dataclass(frozen=True, slots=True)
class JointSchedule:
    """Every joint, the lengths (mm) in all by barrier and product, and how many fasteners there are of each.

    `sleeved` is the length around sleeves. Panels that only touch at a point are left out.
    """

    rows: tuple[JointRow, ...]
    air: tuple[tuple[str, float], ...]
    weather: tuple[tuple[str, float], ...]
    fasteners: tuple[tuple[str, int], ...]
    sleeves: int
    sleeved: float


def joint_schedule(house: House, catalog: Catalog) -> JointSchedule:
    """The joints of a house in the order of the model. Raises CatalogError for a seal that the catalog lacks."""
    air, weather = (
        seal_lengths(closing(house, barrier, catalog), house.joints).tolist()
        for barrier in (Barrier.AIR, Barrier.WEATHER)
    )
    sealed = {panel.label for panel in house.panels if any(one.barrier is not Barrier.NONE for one in panel.layers)}
    rows = tuple(
        _row(joint, inside, outside, catalog)
        for joint, inside, outside in zip(house.joints, air, weather, strict=True)
        if inside or outside or not _is_point(joint, sealed)
    )
    sleeves = [sleeve for panel in house.panels for sleeve in panel.sleeves]
    return JointSchedule(
        rows,
        _totals((row.joint.air, row.air_length) for row in rows),
        _totals((row.joint.weather, row.weather_length) for row in rows),
        _counts(rows),
        len(sleeves),
        sum(math.pi * sleeve.diameter for sleeve in sleeves),
    )


def _is_point(joint: Joint, sealed: Container[str]) -> bool:
    """Whether panels of which the seals close nothing only touch where others meet: what has a barrier there is closed.

    Panels with something between them have no other business with one another than their seals.
    """
    if joint.kind in (JointKind.RIDGE, JointKind.HIP, JointKind.VALLEY):
        return all(label in sealed for label in joint.panels)
    return not joint.length and joint.kind is not JointKind.SEAM


def _row(joint: Joint, air: float, weather: float, catalog: Catalog) -> JointRow:
    usual = catalog.panel_joint(joint.kind)
    length = max(joint.length, air, weather) if joint.length else 0.0
    fastened = joint.fastener and joint.spacing and length
    count = math.ceil(length / joint.spacing) + 1 if fastened else 0
    return JointRow(joint, length, air, weather, usual.closes if length else 0.0, usual.lap, usual.tie, count)


def _totals(lengths: Iterable[tuple[str, float]]) -> tuple[tuple[str, float], ...]:
    totals: dict[str, float] = {}
    for product, length in lengths:
        if length > 0.0:
            totals[product] = totals.get(product, 0.0) + length
    return tuple(sorted(totals.items()))


def _counts(rows: Iterable[JointRow]) -> tuple[tuple[str, int], ...]:
    counts: dict[str, int] = {}
    for row in rows:
        if row.fasteners:
            counts[row.joint.fastener] = counts.get(row.joint.fastener, 0) + row.fasteners
    return tuple(sorted(counts.items()))


def joints_csv(schedule: JointSchedule) -> str:
    """The joints, then the totals by product and fastener, as CSV with a header; lengths in whole mm, gaps in tenths.

    A joint without a length has something between its panels, or is sealed alone.
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, _COLUMNS, restval="", lineterminator="\n")
    writer.writeheader()
    for row in schedule.rows:
        writer.writerow(_cells(row))
    for product, length in schedule.air:
        writer.writerow({"joint": "total", "air_seal": product, "air_mm": f"{length:.0f}"})
    for product, length in schedule.weather:
        writer.writerow({"joint": "total", "weather_seal": product, "weather_mm": f"{length:.0f}"})
    for name, count in schedule.fasteners:
        writer.writerow({"joint": "total", "fastener": name, "fasteners": count})
    sleeves = {"air_seal": f"{schedule.sleeves} sleeves", "air_mm": f"{schedule.sleeved:.0f}"}
    writer.writerow({"joint": "total", **sleeves})
    return text.getvalue()


def _cells(row: JointRow) -> dict[str, object]:
    joint = row.joint
    cells: dict[str, object] = {"joint": joint.kind, "panel": joint.panels[0], "with": joint.panels[1]}
    cells |= {"lap": row.lap, "tie": row.tie}
    if row.length:
        cells |= {"length_mm": f"{row.length:.0f}"}
    if row.gap:
        cells |= {"gap_mm": f"{row.gap:.1f}"}
    if row.air_length:
        cells |= {"air_seal": joint.air, "air_mm": f"{row.air_length:.0f}"}
    if row.weather_length:
        cells |= {"weather_seal": joint.weather, "weather_mm": f"{row.weather_length:.0f}"}
    if row.fasteners:
        cells |= {"fastener": joint.fastener, "spacing_mm": f"{joint.spacing:.0f}", "fasteners": row.fasteners}
    return cells
