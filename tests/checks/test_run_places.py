from __future__ import annotations

import math

import pytest

from panelgen.checks.runs.opening import run_opening
from panelgen.checks.runs.outside import run_outside
from panelgen.model import Panel, RunPart
from tests.checks.builders import CAVITY, DEPTH, SKIN, WHY, opening, panel, run, sheet
from tests.checks.looking import about, seen

WINDOW = opening("W1", 1000.0, 2000.0, 900.0, 2100.0)


def crossed(part: RunPart) -> list[tuple[str, ...]]:
    return about(seen(run_opening, panel((), [part], openings=(WINDOW,))))


@pytest.mark.parametrize(
    ("part", "inside"),
    [
        (run((0.0, 1500.0, 70.0), (3000.0, 1500.0, 70.0)), True),
        (run((0.0, 888.9, 70.0), (3000.0, 888.9, 70.0)), False),
        (run((0.0, 889.0, 70.0), (3000.0, 889.0, 70.0)), True),
        (run((1500.0, 1200.0, -30.0), (1500.0, 1500.0, -30.0)), True),
        (run((0.0, 1500.0, 70.0), (1000.0, 1500.0, 70.0)), False),
        (run((500.0, 600.0, 70.0), (1500.0, 895.0, 70.0), (2500.0, 600.0, 70.0)), True),
        (run((1500.0, 0.0, 70.0), (1500.0, 800.0, 70.0)), False),
    ],
    ids=["across", "touches the sill", "0.1 mm in", "wholly inside", "ends at the jamb", "bend pokes in", "below"],
)
def test_runs_and_rough_openings(part: RunPart, inside: bool) -> None:
    assert crossed(part) == ([("run.opening", "run", "W1")] if inside else [])


def test_rectangular_duct_above_an_opening() -> None:
    path = ((0.0, 2200.0, 70.0), (3000.0, 2200.0, 70.0))
    duct = RunPart("run.1", "run", "supply air", "duct", math.hypot(200.0, 80.0), path, WHY, section=(200.0, 80.0))
    assert crossed(duct) == []
    assert crossed(run(*path, diameter=duct.diameter)) == [("run.opening", "run", "W1")]


def out(part: RunPart, **more: object) -> list[tuple[str, str]]:
    """What sticks out, and where."""
    findings = seen(run_outside, panel((), [part], **more))
    return [(finding.parts[0], finding.words.partition("panel ")[2].partition(":")[0]) for finding in findings]


LOW, HIGH = -SKIN - CAVITY, DEPTH + SKIN


@pytest.mark.parametrize(
    ("part", "side"),
    [
        (run((0.0, 500.0, 70.0), (4000.0, 500.0, 70.0)), None),
        (run((0.0, 500.0, LOW + 11.1), (4000.0, 500.0, LOW + 11.1)), None),
        (run((0.0, 500.0, LOW + 11.0), (4000.0, 500.0, LOW + 11.0)), "on the room side"),
        (run((0.0, 500.0, HIGH - 11.0), (4000.0, 500.0, HIGH - 11.0)), "on the weather side"),
        (run((100.0, 0.0, 70.0), (100.0, 2438.4, 70.0)), None),
        (run((100.0, 0.0, 70.0), (100.0, 2438.5, 70.0)), "at its top"),
        (run((100.0, -5.0, 70.0), (100.0, 900.0, 70.0)), "at its bottom"),
        (run((-3.0, 500.0, 70.0), (900.0, 500.0, 70.0)), "at its left end"),
        (run((0.0, 500.0, 70.0), (4001.0, 500.0, 70.0)), "at its right end"),
    ],
)
def test_runs_keep_inside_the_panel(part: RunPart, side: str | None) -> None:
    assert out(part) == ([] if side is None else [("run", side)])


def test_excess_and_place() -> None:
    (finding,) = seen(run_outside, panel((), [run((100.0, 500.0, 70.0), (900.0, 500.0, HIGH - 8.0))]))
    assert finding.point == pytest.approx((900.0, 500.0, HIGH - 8.0))
    slope = (HIGH - 78.0) / 800.0
    assert finding.value == pytest.approx(11.1 / math.hypot(1.0, slope) - 8.0)


def test_run_that_goes_on_may_end_at_a_slant_at_the_bound() -> None:
    path = ((3500.0, 500.0, 70.0), (4000.0, 700.0, 70.0))
    assert out(run(*path, leaves=True)) == []
    assert out(run(*path)) == [("run", "at its right end")]


def test_rake_is_a_bound() -> None:
    gable = {
        "profile": ((0.0, 0.0), (4000.0, 0.0), (4000.0, 1000.0), (2000.0, 3000.0), (0.0, 1000.0)),
        "height": 3000.0,
    }
    assert out(run((2000.0, 100.0, 70.0), (2000.0, 2980.0, 70.0)), **gable) == []
    assert out(run((500.0, 1400.0, 70.0), (500.0, 1490.0, 70.0)), **gable) == [("run", "at its top")]


def test_sheets_past_a_corner_lengthen_the_panel() -> None:
    lapped = sheet("lap", -150.0, 0.0, 1219.2, 2438.4, layer="outer sheathing")
    part = run((-100.0, 500.0, 70.0), (900.0, 500.0, 70.0))
    assert out(part) == [("run", "at its left end")]
    assert out(part, sheets=(lapped,)) == []


def test_panels_without_runs_say_nothing() -> None:
    bare: Panel = panel((), openings=(WINDOW,))
    assert seen(run_opening, bare) == []
    assert seen(run_outside, bare) == []
