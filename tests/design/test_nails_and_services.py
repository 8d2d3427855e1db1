"""Nails keep off runs and bores: moved along their line by the least, or left out, and counted."""

from __future__ import annotations

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.model import Fasteners, RunPart
from tests.design.builders import FOOT, brief, window
from tests.design.nailing import Nailed, gap, nailed, run

CLEAR = 3.0  # common practice, no source
PANEL = brief(12 * FOOT, 8 * FOOT, window(1400.0, 2300.0, 900.0, 2050.0))
SAMPLED = 0.05  # by how much points a millimetre and a half apart can miss the least distance


def moved(made: Nailed) -> int:
    """How many nails the reasons of all batches say were moved."""
    return sum(
        int(n) for batch in made.fasteners for n in re.findall(r"; (\d+) moved beside services", batch.why.words)
    )


def left_out(made: Nailed) -> int:
    """How many nails the findings say were left out."""
    assert {finding.code for finding in made.findings} <= {"nail.left-out"}
    return sum(int(finding.words.split()[0]) for finding in made.findings)


def total(made: Nailed) -> int:
    return sum(len(batch) for batch in made.fasteners)


def by_id(made: Nailed) -> dict[str, Fasteners]:
    return {batch.id: batch for batch in made.fasteners}


def assert_clear(made: Nailed, *services: RunPart) -> None:
    """Of every run by its radius, and of every bore by the bore's."""
    for service in services:
        for batch in made.fasteners:
            assert gap(batch, service.path) >= service.outside_diameter / 2 + batch.shank / 2 + CLEAR - SAMPLED
    for member in made.members:
        for bore in member.bores:
            axis = [member.frame.point(bore.point[0], bore.point[1], z) for z in (0.0, member.thickness)]
            for batch in made.fasteners:
                assert gap(batch, axis) >= bore.diameter / 2 + batch.shank / 2 + CLEAR - SAMPLED


@given(st.floats(60.0, 2300.0), st.floats(20.0, 120.0), st.floats(6.0, 50.0))
@settings(max_examples=25, deadline=None)
def test_no_nail_comes_near_a_run_through_the_studs(y: float, z: float, diameter: float) -> None:
    pipe = run((0.0, y, z), (12 * FOOT, y, z), diameter=diameter)
    made, free = nailed(PANEL, [pipe]), nailed(PANEL)
    assert_clear(made, pipe)
    assert total(made) + left_out(made) == total(free)


@given(st.floats(100.0, 3500.0), st.floats(25.0, 115.0), st.floats(10.0, 60.0))
@settings(max_examples=25, deadline=None)
def test_no_nail_comes_near_a_run_through_the_plates(x: float, z: float, diameter: float) -> None:
    pipe = run((x, -50.0, z), (x, 2500.0, z), diameter=diameter)
    made = nailed(PANEL, [pipe])
    assert_clear(made, pipe)


def test_sheet_nails_are_moved_along_the_stud_by_the_least() -> None:
    free = nailed(PANEL)
    field = by_id(free)["1W01/outer sheathing field-1"]
    x, y, _ = field.points[3]
    cable = run((0.0, y + 2.0, 125.0), (12 * FOOT, y + 2.0, 125.0), diameter=10.0)
    made = nailed(PANEL, [cable])
    there = by_id(made)["1W01/outer sheathing field-1"]
    shift = there.points - field.points
    needed = cable.diameter / 2 + 1.5 + field.shank / 2 + CLEAR  # the bore is 3 mm wider than the run
    assert np.abs(shift[:, [0, 2]]).max() == 0.0
    assert needed - 2.0 <= -shift[3, 1] < needed - 2.0 + 1.0
    assert moved(made) == sum(
        int((one.points != other.points).any(axis=1).sum())
        for one, other in zip(free.fasteners, made.fasteners, strict=True)
    )
    assert_clear(made, cable)
    assert x == there.points[3, 0]


def test_nails_with_no_room_to_move_are_left_out_and_counted() -> None:
    """A duct up the middle of a stud bay's end stud takes the place of both its end nails."""
    free = nailed(PANEL)
    duct = run((609.6, -50.0, 70.0), (609.6, 2500.0, 70.0), diameter=110.0)
    made = nailed(PANEL, [duct])
    assert ("A/bottom-plate@0", "A/stud-1") in free.pairs("bottom plate to stud")
    assert ("A/bottom-plate@0", "A/stud-1") not in made.pairs("bottom plate to stud")
    assert left_out(made) == total(free) - total(made) > 0
    (batch,) = made.of("bottom plate to stud")
    assert "; 2 left out beside services" in batch.why.words
    (finding,) = (finding for finding in made.findings if finding.parts == (batch.id,))
    assert finding.words.startswith("2 of ")
    assert finding.point == pytest.approx((609.6, 0.0, 139.7 / 4))


def test_straps_are_screwed_beside_a_cable_behind_the_board() -> None:
    cable = run((609.6, 100.0, -8.0), (609.6, 2300.0, -8.0), diameter=6.0)
    made, free = nailed(PANEL, [cable]), nailed(PANEL)
    assert_clear(made, cable)
    crossed = [pair for pair in free.pairs("strap to stud") if pair[1] == "A/stud-1"]
    assert crossed
    assert left_out(made) > 0


def test_a_flat_duct_is_taken_for_what_it_is() -> None:
    """Between two studs a duct 350 mm wide and 83 mm deep leaves their nails alone; a round one would not."""
    free = nailed(PANEL)
    middle = 609.6 * 5.5
    path = ((middle, 200.0, 70.0), (middle, 2200.0, 70.0))
    flat = RunPart("D.1", "D", "air", "duct", 360.0, path, free.members[0].why, section=(350.0, 83.0))
    assert total(nailed(PANEL, [flat])) == total(free)
    through = RunPart("D.1", "D", "air", "duct", 360.0, path, free.members[0].why, section=(620.0, 83.0))
    crowded = nailed(PANEL, [through])
    assert left_out(crowded) + moved(crowded) > 0


@pytest.mark.parametrize("z", [-500.0, 400.0])
def test_runs_elsewhere_change_nothing(z: float) -> None:
    pipe = run((0.0, 1000.0, z), (12 * FOOT, 1000.0, z))
    made, free = nailed(PANEL, [pipe]), nailed(PANEL)
    for one, other in zip(made.fasteners, free.fasteners, strict=True):
        assert np.array_equal(one.points, other.points)
