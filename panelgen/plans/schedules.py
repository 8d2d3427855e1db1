"""Schedules of services: what runs, fittings, boxes, sleeves, plates and supports a panel or a house takes."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from panelgen.model import Fitting, HardwareKind, House, Panel, RunPart, ServiceRun

__all__ = ["Item", "Schedule", "ScheduleRow", "house_schedule", "panel_schedule", "schedule_csv"]


class Item(StrEnum):
    """What a row of a schedule counts, in the order of the schedule."""

    RUN = "run"
    FITTING = "fitting"
    BOX = "box"
    SLEEVE = "sleeve"
    SHIELD = "shield plate"
    TIE = "plate tie"
    SUPPORT = "support"


_ORDER = {item: place for place, item in enumerate(Item)}
_HARDWARE = {HardwareKind.SHIELD: Item.SHIELD, HardwareKind.TIE: Item.TIE, HardwareKind.SUPPORT: Item.SUPPORT}


@dataclass(frozen=True, slots=True)
class ScheduleRow:
    """How many of a product there are, and of runs the `length` in all, mm; `panel` is empty for the whole house."""

    panel: str
    item: Item
    product: str
    count: int
    length: float = 0.0


@dataclass(frozen=True, slots=True)
class Schedule:
    """The rows of each panel, panel after panel, and those of all of it together."""

    rows: tuple[ScheduleRow, ...]
    totals: tuple[ScheduleRow, ...]


def panel_schedule(panel: Panel) -> tuple[ScheduleRow, ...]:
    """What one panel takes, by item and then product. A fitting at a joint of two panels is in both."""
    return _rows(panel.label, panel.runs, panel.fittings, [panel])


def house_schedule(house: House, panels: Sequence[Panel] | None = None) -> Schedule:
    """What each panel takes, and the totals: of the whole house, or of `panels` only where they are given.

    Totals of the house count runs and fittings once, and hold what lies between panels, such as the
    stretch of a riser within a floor. Supports are those in panels.
    """
    chosen = house.panels if panels is None else panels
    rows = tuple(row for panel in chosen for row in panel_schedule(panel))
    if panels is None:
        return Schedule(rows, _rows("", house.runs, house.fittings, chosen))
    runs = [run for panel in chosen for run in panel.runs]
    fittings = {fitting.id: fitting for panel in chosen for fitting in panel.fittings}
    return Schedule(rows, _rows("", runs, fittings.values(), chosen))


def schedule_csv(schedule: Schedule) -> str:
    """The rows of the panels, then the totals with an empty panel, as CSV with a header; lengths in whole mm."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(("panel", "item", "product", "count", "length_mm"))
    for row in (*schedule.rows, *schedule.totals):
        length = f"{row.length:.0f}" if row.item is Item.RUN else ""
        writer.writerow((row.panel, row.item, row.product, row.count, length))
    return text.getvalue()


def _rows(
    label: str, runs: Iterable[RunPart | ServiceRun], fittings: Iterable[Fitting], panels: Sequence[Panel]
) -> tuple[ScheduleRow, ...]:
    names: dict[str, dict[str, float]] = {}
    for run in runs:
        lengths = names.setdefault(run.product, {})
        name = run.run if isinstance(run, RunPart) else run.id
        lengths[name] = lengths.get(name, 0.0) + sum(math.dist(a, b) for a, b in pairwise(run.path))
    counts: dict[tuple[Item, str], int] = {}
    for item, product, count in (
        *((Item.FITTING, fitting.product, 1) for fitting in fittings),
        *((Item.BOX, box.product, 1) for panel in panels for box in panel.boxes),
        *((Item.SLEEVE, sleeve.product, 1) for panel in panels for sleeve in panel.sleeves),
        *((_HARDWARE[part.kind], part.product, part.count) for panel in panels for part in panel.hardware),
    ):
        counts[item, product] = counts.get((item, product), 0) + count
    rows = [ScheduleRow(label, Item.RUN, product, len(of), sum(of.values())) for product, of in names.items()]
    rows += [ScheduleRow(label, item, product, count) for (item, product), count in counts.items()]
    return tuple(sorted(rows, key=lambda row: (_ORDER[row.item], row.product)))
