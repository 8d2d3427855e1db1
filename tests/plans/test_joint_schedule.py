"""The schedule of joints of the box of four walls that README.md shows."""

from __future__ import annotations

import csv
import io

import pytest

from panelgen.api import design, joints
from panelgen.model import JointKind
from panelgen.plans import JointSchedule, joints_csv
from panelgen.spec.loader import loads
from tests import specs


@pytest.fixture(scope="module")
def schedule() -> JointSchedule:
    return joints(design(loads(specs.clean())))


def test_four_walls_meet_at_four_corners_on_one_foundation(schedule: JointSchedule) -> None:
    kinds = [row.joint.kind for row in schedule.rows]
    assert kinds.count(JointKind.CORNER) == 4
    assert kinds.count(JointKind.FOUNDATION) == 4
    assert kinds.count(JointKind.OPENING) == 1


def test_totals_are_the_sums_of_the_rows(schedule: JointSchedule) -> None:
    for product, length in schedule.air:
        assert length == pytest.approx(sum(row.air_length for row in schedule.rows if row.joint.air == product))
    for product, length in schedule.weather:
        assert length == pytest.approx(sum(row.weather_length for row in schedule.rows if row.joint.weather == product))


def test_the_csv_has_a_row_for_each_joint_and_total(schedule: JointSchedule) -> None:
    rows = list(csv.DictReader(io.StringIO(joints_csv(schedule))))
    totals = [row for row in rows if row["joint"] == "total"]
    assert len(rows) - len(totals) == len(schedule.rows)
    assert len(totals) == len(schedule.air) + len(schedule.weather) + 1
    assert rows[0]["fastener"]
