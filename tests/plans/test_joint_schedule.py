"""The schedule of joints of the box of four walls that README.md shows."""

from __future__ import annotations

import csv
import io
import math

import pytest

from panelgen.api import design, joints, load
from panelgen.model import JointKind
from panelgen.plans import JointSchedule, joints_csv
from panelgen.spec.loader import loads
from tests import specs
from tests.project.tree import ROOT


@pytest.fixture(scope="module")
def schedule() -> JointSchedule:
    return joints(design(loads(specs.clean())))


def test_four_walls_meet_at_four_corners_on_one_foundation(schedule: JointSchedule) -> None:
    kinds = [row.joint.kind for row in schedule.rows]
    assert kinds.count(JointKind.CORNER) == 4
    assert kinds.count(JointKind.FOUNDATION) == 4
    assert kinds.count(JointKind.OPENING) == 1


@pytest.fixture(scope="module")
def heron() -> JointSchedule:
    return joints(design(load(ROOT / "examples" / "heron-house.yaml")))


def lengths(schedule: JointSchedule, kind: JointKind) -> tuple[float, float]:
    """What the seals of a kind of joint come to in the air and the weather barrier, mm."""
    rows = [row for row in schedule.rows if row.joint.kind is kind]
    return sum(row.air_length for row in rows), sum(row.weather_length for row in rows)


def test_upright_joints_are_sealed_over_the_height_of_the_wall(heron: JointSchedule) -> None:
    """97-1/8 in. studs and plates, seals on both faces, and nowhere past the ends."""
    for row in heron.rows:
        if row.joint.kind in (JointKind.IN_LINE, JointKind.CORNER) and row.air_length:
            assert row.air_length == row.weather_length == pytest.approx(97.125 * 25.4)


def test_hips_are_sealed_from_the_eaves_to_the_ridge(heron: JointSchedule) -> None:
    """A hip over a half span of 12 ft and 16 in. of overhang rises 6 in 12: 3/2 of the run, in plan its diagonal."""
    run = (12 * 12 + 16) * 25.4
    whole = next(row for row in heron.rows if row.joint.panels == ("2R01", "2R16"))
    assert whole.weather_length == pytest.approx(math.sqrt(2.25) * run, rel=0.005)


def test_the_ground_and_the_ceiling_are_sealed_around_the_rooms(heron: JointSchedule) -> None:
    """An L of 40 ft by 36 ft outside, less 5-1/2 in. of framing and 7/16 in. of sheathing on either side."""
    around = (2 * (40 + 36) * 12 - 8 * (5.5 + 7 / 16)) * 25.4
    ground = sum(row.air_length for row in heron.rows if row.joint.kind is JointKind.FOUNDATION)
    assert ground == pytest.approx(around, rel=0.02)
    assert lengths(heron, JointKind.WALL_CEILING)[0] == pytest.approx(around, rel=0.02)


def test_a_joint_says_how_it_is_closed_lapped_tied_and_screwed(heron: JointSchedule) -> None:
    """97-1/8 in. with a nail every 24 in. is six; 1/8 in. is closed: common practice, no source."""
    row = next(row for row in heron.rows if row.joint.kind is JointKind.IN_LINE)
    assert (row.length, row.gap) == (pytest.approx(97.125 * 25.4), pytest.approx(25.4 / 8))
    assert row.fasteners == 6
    assert row.lap
    assert row.tie
    (cells,) = [
        cells
        for cells in csv.DictReader(io.StringIO(joints_csv(heron)))
        if (cells["panel"], cells["with"]) == row.joint.panels
    ]
    assert cells["length_mm"] == "2467"
    assert cells["gap_mm"] == "3.2"
    assert (cells["lap"], cells["tie"], cells["fasteners"]) == (row.lap, row.tie, "6")


def test_every_joint_has_a_length_or_a_seal(heron: JointSchedule) -> None:
    assert [row.joint.panels for row in heron.rows if not row.length + row.air_length + row.weather_length] == []
    assert sum(count for _, count in heron.fasteners) == sum(row.fasteners for row in heron.rows)


def test_panels_that_touch_at_a_corner_have_no_joint(heron: JointSchedule) -> None:
    """Four cassettes that meet over a bearing wall have four joints, not six."""
    pairs = {row.joint.panels for row in heron.rows}
    assert {("2F01", "2F02"), ("2F03", "2F04"), ("2F01", "2F03"), ("2F02", "2F04")} <= pairs
    assert not {("2F01", "2F04"), ("2F02", "2F03")} & pairs


def test_totals_are_the_sums_of_the_rows(schedule: JointSchedule) -> None:
    for product, length in schedule.air:
        assert length == pytest.approx(sum(row.air_length for row in schedule.rows if row.joint.air == product))
    for product, length in schedule.weather:
        assert length == pytest.approx(sum(row.weather_length for row in schedule.rows if row.joint.weather == product))


def test_the_csv_has_a_row_for_each_joint_and_total(schedule: JointSchedule) -> None:
    rows = list(csv.DictReader(io.StringIO(joints_csv(schedule))))
    totals = [row for row in rows if row["joint"] == "total"]
    assert len(rows) - len(totals) == len(schedule.rows)
    assert len(totals) == len(schedule.air) + len(schedule.weather) + len(schedule.fasteners) + 1
    assert rows[0]["fastener"]
