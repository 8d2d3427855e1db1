from __future__ import annotations

import numpy as np
import pytest

from panelgen.checks.fastening import fastener_edge, fastener_miss, fastener_run
from panelgen.checks.scene import Scene
from panelgen.checks.shanks import Shanks
from panelgen.model import Fasteners, Finding, Notch, Panel, Severity
from tests.checks.builders import DEPTH, SKIN, nails, panel, run, sheet, stud
from tests.checks.looking import CATALOG, RULES, about

FACE = DEPTH + SKIN
OUTER = sheet("outer", 0.0, 0.0, 1219.2, 2438.4, layer="outer sheathing")


def wall(*batches: Fasteners, **more: object) -> Panel:
    members = more.pop("members", (stud(100.0),))
    return panel(members, sheets=more.pop("sheets", (OUTER,)), fasteners=batches, **more)


def hits(one: Panel) -> list[Finding]:
    return fastener_run(Scene.of((one,)), Shanks.of((one,)))


def misses(one: Panel) -> list[Finding]:
    return fastener_miss(Scene.of((one,)), Shanks.of((one,)))


def edges(one: Panel) -> list[Finding]:
    return fastener_edge(Scene.of((one,)), Shanks.of((one,)), RULES, CATALOG)


@pytest.mark.parametrize(
    ("z", "hit"),
    [(FACE - 63.5 - 11.1, False), (FACE - 63.5 - 11.1 + 0.1, True), (FACE - 63.5 + 5.0, True)],
    ids=["point touches", "0.1 mm in", "through"],
)
def test_nails_have_their_true_length(z: float, hit: bool) -> None:
    row = nails([(119.05, y, FACE) for y in (300.0, 600.0, 900.0)])
    pipe = run((0.0, 600.0, z), (500.0, 600.0, z))
    findings = hits(wall(row, runs=(pipe,)))
    assert about(findings) == ([("fastener.run", "run", "nails")] if hit else [])
    assert all("1 × 8d common" in finding.words for finding in findings)


@pytest.mark.parametrize(("aside", "hit"), [(11.1 + 1.665, False), (11.1 + 1.5, True)])
def test_nails_have_a_thickness(aside: float, hit: bool) -> None:
    row = nails([(119.05, 600.0, FACE)])
    pipe = run((0.0, 600.0 + aside, 110.0), (500.0, 600.0 + aside, 110.0))
    assert bool(hits(wall(row, runs=(pipe,)))) == hit


def test_one_finding_for_a_row_of_nails_along_a_pipe() -> None:
    row = nails([(119.05, y, FACE) for y in np.arange(100.0, 2000.0, 100.0)])
    (finding,) = hits(wall(row, runs=(run((119.05, 250.0, 100.0), (119.05, 1250.0, 100.0)),)))
    assert "10 × 8d common" in finding.words


@pytest.mark.parametrize(
    ("x", "length", "missed"),
    [(119.05, 63.5, False), (101.7, 63.5, False), (101.0, 63.5, True), (90.0, 63.5, True), (119.05, 11.0, True)],
    ids=["middle", "just inside", "breaks out", "beside", "too short"],
)
def test_nails_hold_in_their_stick(x: float, length: float, missed: bool) -> None:
    findings = misses(wall(nails([(x, 600.0, FACE)], length=length)))
    assert about(findings) == ([("fastener.miss", "nails", "stud@100")] if missed else [])


def test_nail_into_a_notch_misses() -> None:
    notched = stud(100.0, notches=[Notch(500.0, 700.0, 60.0, from_far_edge=True)])
    row = nails([(119.05, 600.0, FACE), (119.05, 900.0, FACE)])
    (finding,) = misses(wall(row, members=(notched,)))
    assert "1 × " in finding.words
    assert finding.point == pytest.approx((119.05, 600.0, FACE - 63.5))


def test_end_nails_and_toe_nails() -> None:
    end = nails([(119.05, 2438.4, 40.0)], (0.0, -1.0, 0.0), length=88.9, fastens_sheets=False, id="end")
    toe = nails([(100.0, 80.0, 40.0)], (0.5, -(0.75**0.5), 0.0), length=63.5, fastens_sheets=False, id="toe")
    assert misses(wall(end, toe)) == []
    off = nails([(90.0, 2438.4, 40.0)], (0.0, -1.0, 0.0), length=88.9, fastens_sheets=False, id="off")
    assert about(misses(wall(off))) == [("fastener.miss", "off", "stud@100")]


@pytest.mark.parametrize(("x", "near"), [(9.525, False), (9.4, True), (1219.2 - 9.525, False), (1215.0, True)])
def test_nails_keep_three_eighths_of_an_inch_from_the_edge_of_sheets(x: float, near: bool) -> None:
    """3/8 in.: the sheathing makers' instruction (as for the OSB of the reference sheet)."""
    findings = edges(wall(nails([(x, 600.0, FACE), (300.0, 300.0, FACE)])))
    assert about(findings) == ([("fastener.edge", "nails", "outer")] if near else [])
    assert all((finding.severity, finding.limit) == (Severity.WARN, 9.525) for finding in findings)


def test_edges_of_cut_outs_count() -> None:
    window = ((300.0, 800.0), (900.0, 800.0), (900.0, 1600.0), (300.0, 1600.0))
    holed = sheet("outer", 0.0, 0.0, 1219.2, 2438.4, layer="outer sheathing", cutouts=[window])
    (finding,) = edges(wall(nails([(295.0, 1200.0, FACE), (280.0, 1200.0, FACE)]), sheets=(holed,)))
    assert finding.value == pytest.approx(5.0)


def test_indices_are_those_of_the_right_panel() -> None:
    first = wall(nails([(119.05, 600.0, FACE)]), members=(stud(0.0, "far"), stud(100.0, "near")))
    second = wall(nails([(519.05, 600.0, FACE)], into=[1]), members=(stud(0.0, "a"), stud(500.0, "b")))
    scene, shanks = Scene.of((first, second)), Shanks.of((first, second))
    assert about(fastener_miss(scene, shanks)) == [("fastener.miss", "nails", "far")]


def test_panels_without_nails_say_nothing() -> None:
    bare = wall()
    assert hits(bare) == misses(bare) == edges(bare) == []


@pytest.mark.parametrize("x", [-200.0, 1500.0], ids=["left of the sheet", "right of it"])
def test_a_nail_beside_its_sheet_is_near_no_edge_but_off_it(x: float) -> None:
    (finding,) = edges(wall(nails([(x, 600.0, FACE)])))
    assert finding.code == "fastener.edge"
    assert finding.value == pytest.approx(x if x < 0 else 1219.2 - x)
