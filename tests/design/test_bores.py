"""Holes for runs: wide enough for the insulation, one for two runs that overlap, none for a rectangular duct."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.design import design
from panelgen.design.services.bores import bore_room, bored
from panelgen.geometry.frames import Frame
from panelgen.model import Bore, Member, Role, RunPart, Why
from tests.design.houses import one_wall
from tests.factories import OUTWARD, UP, WIDE, stick

WHY = Why("run.test", "", "")
ROOM = bore_room(Catalog.default().rules("irc-2021"), bearing=True)
HIGH = 1000.0


def stud(**changes: Any) -> Member:
    return stick(frame=Frame((500.0, 0.0, 0.0), UP, OUTWARD), **changes)


def level(name: str, height: float, depth: float, diameter: float, **fields: Any) -> RunPart:
    path = ((0.0, height, depth), (1000.0, height, depth))
    return RunPart(f"{name}.1", name, "power", "cable", diameter, path, WHY, **fields)


def holes(*runs: RunPart, member: Member | None = None) -> tuple[Bore, ...]:
    ((made,),) = bored([[member or stud()]], [runs], {run.run: 0.0 for run in runs}, [ROOM])
    return made.bores


def test_a_hole_takes_the_insulation() -> None:
    (hole,) = holes(level("A", HIGH, 70.0, 22.0, insulation=10.0))
    assert hole.diameter == pytest.approx(42.0)


def test_holes_that_overlap_become_the_least_that_covers_both() -> None:
    (hole,) = holes(level("A", HIGH, 70.0, 20.0), level("B", HIGH + 16.0, 70.0, 16.0))
    assert hole.run == "A+B"
    assert hole.diameter == pytest.approx(16.0 + 10.0 + 8.0)
    x, y, _ = hole.point
    assert (x, y) == pytest.approx((HIGH + (16.0 + 8.0 - 10.0) / 2, 70.0))


def test_a_hole_inside_another_is_not_drilled() -> None:
    (hole,) = holes(level("A", HIGH, 70.0, 40.0), level("B", HIGH + 5.0, 70.0, 10.0))
    assert (hole.diameter, hole.run) == (40.0, "A+B")


def test_a_run_that_comes_back_needs_one_hole() -> None:
    path = ((0.0, HIGH, 70.0), (1000.0, HIGH, 70.0), (0.0, HIGH, 70.0))
    (hole,) = holes(RunPart("A.1", "A", "power", "cable", 10.0, path, WHY))
    assert hole.run == "A"


def test_holes_that_touch_are_left() -> None:
    assert len(holes(level("A", HIGH, 70.0, 20.0), level("B", HIGH + 20.0, 70.0, 20.0))) == 2


def test_a_merged_hole_keeps_the_limit_of_the_rule_set() -> None:
    """IRC R602.6: 40 % of a bearing 5-1/2 in. stud is 55.9 mm, and 5/8 in. stays to the edge."""
    assert len(holes(level("A", HIGH, 70.0, 30.0), level("B", HIGH + 25.8, 70.0, 30.0))) == 1
    assert len(holes(level("A", HIGH, 70.0, 30.0), level("B", HIGH + 26.0, 70.0, 30.0))) == 2
    low = 15.875 + 15.0
    assert len(holes(level("A", HIGH, low, 20.0), level("B", HIGH + 15.0, low + 2.0, 20.0))) == 2


def test_a_merged_hole_keeps_inside_the_ends() -> None:
    near_the_end = 13.0
    pair = (level("A", near_the_end, 60.0, 20.0), level("B", near_the_end, 78.0, 20.0))
    assert len(holes(*pair)) == 2
    assert len(holes(*(level(run.run, 100.0, run.path[0][2], 20.0) for run in pair))) == 1


def test_no_rule_no_merging() -> None:
    header = stud(role=Role.HEADER)
    assert len(holes(level("A", HIGH, 70.0, 20.0), level("B", HIGH + 5.0, 70.0, 20.0), member=header)) == 2


@settings(max_examples=200, deadline=None)
@given(
    rods=st.lists(
        st.tuples(st.floats(900.0, 1000.0), st.floats(45.0, 95.0), st.floats(5.0, 25.0)), min_size=1, max_size=5
    )
)
def test_every_run_keeps_its_hole(rods: list[tuple[float, float, float]]) -> None:
    runs = [level(f"R{number}", *rod) for number, rod in enumerate(rods)]
    made = holes(*runs)
    assert len(made) <= len(runs)
    for run, (height, depth, diameter) in zip(runs, rods, strict=True):
        (hole,) = [hole for hole in made if run.run in hole.run.split("+")]
        x, y, _ = hole.point
        assert math.hypot(x - height, y - depth) + diameter / 2 <= hole.diameter / 2 + 1e-6
    for hole in made:
        if "+" in hole.run:
            assert hole.diameter <= 0.4 * WIDE + 1e-6 or hole.diameter in [run.diameter for run in runs]


def test_a_rectangular_duct_is_not_bored_through() -> None:
    stack = {"id": "S1", "system": "supply air", "size": "duct-3-1/4x10", "wall": "N1"}
    path = [["3 ft", 0, "framing"], ["3 ft", "97-1/8 in", "framing"]]
    (panel,) = design(one_wall("8 ft", runs=[stack | {"path": path}])).panels
    assert panel.runs[0].section == pytest.approx((254.0, 82.55))
    assert [member.id for member in panel.members if member.bores] == []
