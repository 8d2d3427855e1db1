"""Schedules count every part once, and the totals are those of the house."""

from __future__ import annotations

import csv
import io
from collections import Counter
from typing import Any

import pytest

from panelgen.design import design
from panelgen.model import House
from panelgen.plans import Item, house_schedule, panel_schedule, schedule_csv
from tests.design.houses import one_wall

FOOT = 304.8


@pytest.fixture(scope="module")
def house() -> House:
    """A 30 ft wall in three panels: a drain with a branch along it, a cable with a box, a sleeve, a stack above."""
    runs: list[dict[str, Any]] = [
        {"id": "D1", "system": "drain", "size": "pvc-2", "wall": "N1",
         "path": [["1 ft", "3 ft", "framing"], ["29 ft", "3 ft", "framing"]]},
        {"id": "D2", "system": "drain", "size": "pvc-2", "wall": "N1", "branch_of": "D1",
         "path": [["5 ft", "3 ft", "framing"], ["5 ft", "5 ft", "framing"]]},
        {"id": "P1", "system": "power", "size": "nm-12/2", "wall": "N1",
         "path": [["2 ft", "18 in", "cavity"], ["4 ft", "18 in", "cavity"]]},
        {"id": "V1", "system": "vent", "size": "pvc-3", "wall": "N1",
         "path": [["8 ft", 0, "framing"], ["8 ft", "97-1/8 in", "framing"]]},
        {"id": "S1", "system": "supply air", "size": "duct-4", "path": [[0, 0, 9000], [0, 0, 11000]]},
    ]  # fmt: skip
    return design(
        one_wall(
            "30 ft",
            shop={"line_length": "12 ft", "line_height": "12 ft"},
            runs=runs,
            boxes=[{"id": "B1", "wall": "N1", "product": "square-4x1-1/4", "at": ["4 ft", "18 in"]}],
            sleeves=[
                {
                    "id": "L1",
                    "run": "D1",
                    "wall": "N1",
                    "at": ["1 ft", "3 ft"],
                    "product": "sleeve-2-1/2",
                    "seal": "tape",
                }
            ],
        )
    )


def test_lengths_by_size(house: House) -> None:
    totals = {
        row.product: (row.count, row.length / FOOT) for row in house_schedule(house).totals if row.item is Item.RUN
    }
    assert totals == {
        "duct-4": (1, pytest.approx(2000 / FOOT)),
        "nm-12/2": (1, pytest.approx(2.0)),
        "pvc-2": (2, pytest.approx(30.0)),
        "pvc-3": (1, pytest.approx(97.125 / 12)),
    }


def test_panels_add_up_to_what_is_in_panels(house: House) -> None:
    schedule = house_schedule(house)
    lengths: Counter[str] = Counter()
    for row in schedule.rows:
        if row.item is Item.RUN:
            lengths[row.product] += row.length
    for row in schedule.totals:
        if row.item is Item.RUN and row.product != "duct-4":
            assert lengths[row.product] == pytest.approx(row.length)
    assert "duct-4" not in lengths  # it is above the wall, in no panel


def test_every_part_is_counted(house: House) -> None:
    totals = {(row.item, row.product): row.count for row in house_schedule(house).totals}
    assert totals[Item.FITTING, "pvc-2 tee"] == 1
    assert totals[Item.FITTING, "pvc-2 coupling"] == 2  # 28 ft of 10 ft lengths, the first one cut at the tee
    assert totals[Item.BOX, "square-4x1-1/4"] == totals[Item.SLEEVE, "sleeve-2-1/2"] == 1
    for item, kind in ((Item.SHIELD, "shield plate"), (Item.TIE, "plate tie"), (Item.SUPPORT, "support")):
        parts = sum(part.count for panel in house.panels for part in panel.hardware if part.kind == kind)
        assert sum(count for (of, _), count in totals.items() if of is item) == parts > 0


def test_rows_come_by_panel_item_and_product(house: House) -> None:
    order = list(Item)
    keys = [(row.panel, order.index(row.item), row.product) for row in house_schedule(house).rows]
    assert keys == sorted(keys)
    assert len(set(keys)) == len(keys)


def test_some_panels_only(house: House) -> None:
    first = house.panels[0]
    schedule = house_schedule(house, [first])
    assert schedule.rows == panel_schedule(first)
    stripped = [(row.item, row.product, row.count) for row in schedule.rows]
    assert [(row.item, row.product, row.count) for row in schedule.totals] == stripped
    assert {row.panel for row in schedule.totals} == {""}


def test_csv_reads_back(house: House) -> None:
    schedule = house_schedule(house)
    rows = list(csv.DictReader(io.StringIO(schedule_csv(schedule))))
    assert len(rows) == len(schedule.rows) + len(schedule.totals)
    assert [row["product"] for row in rows if row["panel"] == ""] == [row.product for row in schedule.totals]
    (drain,) = [row for row in rows if not row["panel"] and row["product"] == "pvc-2" and row["item"] == "run"]
    assert drain == {"panel": "", "item": "run", "product": "pvc-2", "count": "2", "length_mm": str(round(30 * FOOT))}
