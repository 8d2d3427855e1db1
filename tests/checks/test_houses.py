"""Whole houses: joints of runs, neighbours, waivers, and what `check_house` adds up."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.checks import apply_waivers, check_house, check_panel
from panelgen.errors import CatalogError
from panelgen.geometry.frames import Frame
from panelgen.model import Bore, Finding, Panel, RunPart, ServiceRun, Severity, Waiver
from tests.checks.builders import DEPTH, WHY, house, panel, run, stud
from tests.checks.looking import CATALOG, about, in_house

HOLE = (Bore((561.9, DEPTH / 2, 0.0), 25.0, run="run"),)


def beside(label: str, x: float, members: tuple[object, ...] = (), runs: tuple[RunPart, ...] = ()) -> Panel:
    """A panel 1000 long whose left end is at house x, standing in the house with y up."""
    frame = Frame((x, 0.0, 300.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    return replace(panel(members, runs, length=1000.0), label=label, frame=frame)


def pair(right_y: float = 600.0, **more: object) -> tuple[Panel, Panel]:
    left = beside("1W01", 0.0, (), (run((100.0, 600.0, 70.0), (1000.0, 600.0, 70.0), leaves=True),))
    right = beside("1W02", 1000.0, (), (run((0.0, right_y, 70.0), (500.0, right_y, 70.0), enters=True, **more),))
    return left, right


def test_both_sides_of_a_joint_meet() -> None:
    assert in_house(house(*pair()), "run.joint") == []


@pytest.mark.parametrize("off", [0.1, 30.0])
def test_sides_that_do_not_meet(off: float) -> None:
    findings = in_house(house(*pair(600.0 + off)), "run.joint")
    assert [(finding.panel, finding.parts, finding.value) for finding in findings] == [
        ("1W01", ("run",), pytest.approx(off)),
        ("1W02", ("run",), pytest.approx(off)),
    ]


def test_run_that_is_not_taken_up() -> None:
    left, _ = pair()
    (finding,) = in_house(house(left, beside("1W02", 1000.0)), "run.joint")
    assert (finding.panel, finding.value) == ("1W01", None)
    assert finding.house_point == pytest.approx((1000.0, -70.0, 900.0))


def test_run_that_goes_on_outside_panels_keeps_to_its_path() -> None:
    left, _ = pair()
    assert in_house(house(left), "run.joint") == []
    whole = ServiceRun("run", "cold water", "pipe", 22.2, ((100.0, -70.0, 900.0), (3000.0, -70.0, 900.0)), WHY)
    assert in_house(house(left, runs=(whole,)), "run.joint") == []
    off = replace(whole, path=((100.0, -70.0, 905.0), (3000.0, -70.0, 905.0)))
    (finding,) = in_house(house(left, runs=(off,)), "run.joint")
    assert finding.value == pytest.approx(5.0)


def test_run_of_one_panel_in_a_stick_of_the_next() -> None:
    poking = beside("1W01", 0.0, (), (run((100.0, 600.0, DEPTH / 2), (1010.0, 600.0, DEPTH / 2)),))
    assert about(in_house(house(poking, beside("1W02", 1000.0, (stud(0.0),))), "run.member")) == [
        ("run.member", "run", "stud@0")
    ]
    bored = beside("1W02", 1000.0, (stud(0.0, bores=HOLE),))
    passing = beside("1W01", 0.0, (), (run((100.0, 600.0, DEPTH / 2), (1100.0, 600.0, DEPTH / 2)),))
    assert in_house(house(passing, bored), "run.member") == []


def test_own_clash_is_reported_once() -> None:
    through = run((-100.0, 600.0, DEPTH / 2), (900.0, 600.0, DEPTH / 2))
    both = house(beside("1W01", 0.0, (stud(100.0),), (through,)), beside("1W02", 900.0, (stud(500.0, "far"),)))
    assert about(in_house(both, "run.member")) == [("run.member", "run", "stud@100")]


def test_sticks_of_two_panels() -> None:
    left, right = beside("1W01", 0.0, (stud(961.9, "left"),)), beside("1W02", 1000.0, (stud(0.0, "right"),))
    assert in_house(house(left, right), "panel.panel") == []
    (finding,) = in_house(house(left, replace(right, frame=Frame((990.0, 0.0, 300.0), *_AXES))), "panel.panel")
    assert (finding.panel, finding.parts, finding.value) == ("1W01", ("left", "right"), pytest.approx(10.0))
    assert "1W02" in finding.words


_AXES = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def test_findings_come_worst_first_with_their_place_in_the_house() -> None:
    note = Finding("design.note", Severity.NOTE, "a remark", "1W01", point=(10.0, 20.0, 30.0))
    warn = Finding("design.warn", Severity.WARN, "a warning")
    through = run((0.0, 600.0, DEPTH / 2), (900.0, 600.0, DEPTH / 2))
    one = replace(beside("1W01", 0.0, (stud(100.0),), (through,)), findings=(note,))
    findings = check_house(house(one, findings=(warn,)), CATALOG)
    assert [finding.code for finding in findings] == ["run.member", "design.warn", "design.note"]
    assert findings[0].house_point == pytest.approx((119.05, -DEPTH / 2, 900.0))
    assert findings[2].house_point == (10.0, -30.0, 320.0)


def test_one_panel_by_itself_agrees_with_the_house() -> None:
    through = run((0.0, 600.0, DEPTH / 2), (900.0, 600.0, DEPTH / 2))
    one = beside("1W01", 0.0, (stud(100.0), stud(110.0, "other")), (through,))
    both = house(one, beside("1W02", 1000.0, (stud(0.0, "far"),)))
    assert check_panel(one, both, CATALOG) == check_house(both, CATALOG)


@pytest.mark.parametrize("panels", [(), (panel(),), (panel([stud(0.0)]), panel())], ids=["none", "empty", "one stud"])
def test_houses_with_little_in_them(panels: tuple[Panel, ...]) -> None:
    assert check_house(house(*panels), CATALOG) == ()


def test_unknown_rule_set() -> None:
    with pytest.raises(CatalogError):
        check_house(replace(house(panel()), rules="no such rules"), CATALOG)


CLASHES = [
    Finding("run.member", Severity.STOP, "", "1W01", ("run", "stud-1")),
    Finding("run.member", Severity.STOP, "", "1W01", ("run", "stud-10")),
    Finding("run.run", Severity.STOP, "", "1W01", ("run", "stud-1")),
    Finding("run.member", Severity.STOP, "", "1W02", ("other", "stud-2")),
]


def waived(*waivers: Waiver) -> list[bool]:
    return [bool(finding.waived_by) for finding in apply_waivers(CLASHES, waivers)]


def test_a_waiver_covers_its_code_on_its_part_and_nothing_else() -> None:
    assert waived() == [False] * 4
    assert waived(Waiver("run.member", "stud-1", "engineer agreed", "A. Smith")) == [True, False, False, False]
    assert waived(Waiver("run.member", "stud", "engineer agreed", "A. Smith")) == [False] * 4
    assert waived(Waiver("run", "stud-1", "engineer agreed", "A. Smith")) == [False] * 4
    assert waived(Waiver("run.member", "run", "engineer agreed", "A. Smith")) == [True, True, False, False]


def test_a_waiver_says_who_decided_and_why() -> None:
    (first, *_) = apply_waivers(CLASHES, [Waiver("run.member", "stud-1", "engineer agreed", "A. Smith")])
    assert first.waived_by == "A. Smith: engineer agreed"


def test_waivers_of_the_house_apply() -> None:
    through = run((0.0, 600.0, DEPTH / 2), (900.0, 600.0, DEPTH / 2))
    one = beside("1W01", 0.0, (stud(100.0), stud(300.0)), (through,))
    decided = (Waiver("run.member", "stud@100", "cut on site", "A. Smith"),)
    findings = check_house(house(one, waivers=decided), CATALOG)
    assert {finding.parts[1]: bool(finding.waived_by) for finding in findings} == {"stud@100": True, "stud@300": False}
