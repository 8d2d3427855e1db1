"""Joists and rafters between real bearings, on both sides of published spans.

Floor joists: IRC Table R502.3.1(2), SPF No.2 2x10 at 16 in. 15-5 (a public transcription, recomputed from NDS).
Ceiling joists: IRC 2018, SPF No.2 2x6 at 24 in. 10-6 (a public copy).
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from panelgen.design.house import design
from panelgen.geometry.frames import Frame
from panelgen.model import EndCut, House, Member, PanelKind, Role
from tests.checks.structure.houses import FOOT, INCH, WIDTH, codes, floor_house, found, joist, wall_at
from tests.checks.structure.roofs import GABLES, roofed
from tests.design.floors.houses import bearing, floored

ALONG = ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))


def joists(length: float, spacing: float, **more: object) -> list[Member]:
    return [joist(f"joist-{n}", 100.0 + n * spacing, length, **more) for n in range(5)]


def floor(clear: float, spacing: float = 16 * INCH, kind: PanelKind = PanelKind.FLOOR, **more: object) -> House:
    """Joists from weather face to weather face of two walls `clear` mm apart inside."""
    length = clear + 2 * WIDTH
    return floor_house(joists(length, spacing, **more), length, kind)


@pytest.mark.parametrize(("inch", "wrong"), [(0.0, []), (-1.0, []), (1.0, ["joist.span"])])
def test_floor_joists(inch: float, wrong: list[str]) -> None:
    findings = found(floor((15 * 12 + 5 + inch) * INCH))
    assert [one.code for one in findings] == wrong
    for finding in findings:
        assert finding.limit == pytest.approx(15 * FOOT + 5 * INCH)
        assert finding.value == pytest.approx(finding.limit + INCH)
        assert "R502.3.1(2)" in finding.source


def test_closer_joists_span_farther() -> None:
    assert codes(floor(17 * FOOT, 12 * INCH)) == []
    assert codes(floor(17 * FOOT, 16 * INCH)) == ["joist.span"]


def test_ceiling_joists_have_their_own_table() -> None:
    assert codes(floor(10.5 * FOOT, 24 * INCH, PanelKind.CEILING, stock="2x6")) == []
    assert codes(floor(10.6 * FOOT, 24 * INCH, PanelKind.CEILING, stock="2x6")) == ["joist.span"]


def test_no_table_for_this_wood() -> None:
    house = floor(10 * FOOT)
    floor_panel = house.panels[-1]
    aspen = tuple(replace(member, species="aspen") for member in floor_panel.members)
    (finding,) = found(replace(house, panels=(*house.panels[:-1], replace(floor_panel, members=aspen))))
    assert (finding.code, finding.severity) == ("joist.table", "warn")
    assert "engineer" in finding.words


def test_a_bearing_line_halves_the_span() -> None:
    """A header of the panel's own holds the joists midway: each end is a bearing."""
    clear = 20 * FOOT
    half = clear / 2 + WIDTH
    length = clear + 2 * WIDTH
    near = joists(half, 16 * INCH)
    far = [joist(f"far-{n}", 100.0 + n * 16 * INCH, half - 38.1, start=half + 38.1) for n in range(5)]
    across = replace(joist("header", 0.0, 4000.0, role=Role.HEADER), frame=Frame((0.0, half + 38.1, 0.0), *ALONG))
    assert codes(floor_house([*near, *far], length)) == ["joist.support"]
    assert codes(floor_house([*near, *far, across], length)) == []


def test_short_bearing() -> None:
    """IRC R502.6, 1-1/2 in. on wood, from memory."""
    clear = 12 * FOOT
    length = clear + 2 * WIDTH
    for bite, wrong in ((1.5, []), (1.0, ["joist.bearing"])):
        short = [joist("joist-0", 200.0, clear + WIDTH + bite * INCH)]
        findings = found(floor_house(short, length))
        assert [one.code for one in findings] == wrong
        assert [one.value for one in findings] == [pytest.approx(INCH)] * len(wrong)


def test_a_free_end() -> None:
    clear = 12 * FOOT
    out = [joist("joist-0", 200.0, clear + 2 * WIDTH + 400.0)]
    (finding,) = found(floor_house(out, clear + 2 * WIDTH))
    assert (finding.code, finding.value) == ("joist.support", pytest.approx(400.0))


@pytest.mark.parametrize(("inch", "wrong"), [(0.0, []), (2.0, ["joist.span"])])
def test_rafters_span_in_plan_from_wall_to_ridge(inch: float, wrong: list[str]) -> None:
    """IRC Table R802.4.1(3), 30 psf: SPF No.2 2x8 at 24 in. 12-4, level, whatever the slope (here 4 in 12)."""
    run = (12 * 12 + 4 + inch) * INCH + WIDTH
    up = math.hypot(run, run / 3)
    plumb = EndCut(across_width=1 / 3)
    stick = joist("rafter", 0.0, up, stock="2x8", role=Role.RAFTER)
    whole = replace(stick, length=up + stick.width / 3, start=plumb, end=plumb)
    rafters = [
        replace(whole, id=f"rafter-{n}", frame=replace(whole.frame, origin=(100.0 + n * 24 * INCH, 0.0, 0.0)))
        for n in range(5)
    ]
    ridge = replace(joist("ridge", 0.0, 4000.0, role=Role.RIDGE), frame=Frame((0.0, up + 38.1, 0.0), *ALONG))
    house = floor_house([*rafters, ridge], 2 * run, PanelKind.ROOF)
    slope = Frame((0.0, 0.0, 8 * FOOT), (1.0, 0.0, 0.0), (0.0, run / up, run / 3 / up))
    roof = replace(house.panels[-1], frame=slope)
    findings = found(replace(house, panels=(*house.panels[:-1], roof)))
    assert [one.code for one in findings] == wrong
    assert [one.value for one in findings] == [pytest.approx(run - WIDTH)] * len(wrong)


def test_designed_floors_bear_on_the_walls_they_were_split_over() -> None:
    """SPF No.2 2x10 at 16 in. may span 15-5: 24 ft from wall to wall is too far, two times 12 ft is not."""
    size = {"stock": "2x10", "depth": 9.25 * INCH, "spacing": 16 * INCH}
    whole = found(design(floored(**size)))
    assert {one.code for one in whole} == {"joist.span"}
    assert {round(one.value / INCH) for one in whole} == {24 * 12 - 11}
    middle = bearing("P1", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))
    assert codes(design(floored(**size, lower=[middle]))) == []


def test_engineered_joists_follow_their_makers_table() -> None:
    assert {(one.code, one.severity) for one in found(design(floored()))} == {("joist.table", "warn")}


@pytest.mark.parametrize(("bears", "wrong"), [(True, []), (False, ["joist.partition"])])
def test_only_bearing_walls_carry_joists(bears: bool, wrong: list[str]) -> None:
    """Over 20 ft, beyond the table, a wall midway halves the span, if it is made to carry."""
    length = 20 * FOOT + 2 * WIDTH
    house = floor_house(joists(length, 16 * INCH), length)
    middle = wall_at("1P01", length / 2 + WIDTH / 2, 4000.0, bearing=bears)
    findings = found(replace(house, panels=(middle, *house.panels)))
    assert [one.code for one in findings] == wrong
    for finding in findings:
        assert finding.value == pytest.approx(20 * FOOT)
        assert "1P01" in finding.words


def test_an_end_on_a_partition() -> None:
    """A joist that ends over a wall which bears nothing leans on it."""
    length = 12 * FOOT + 2 * WIDTH
    whole = floor_house(joists(length, 16 * INCH), length)
    walls = [replace(one, bearing=one.label != "1W02") if one.label != "2F01" else one for one in whole.panels]
    (finding,) = found(replace(whole, panels=tuple(walls)))
    assert (finding.code, finding.severity) == ("joist.partition", "warn")


def test_trimmers_need_a_bearing_at_both_ends() -> None:
    length = 12 * FOOT + 2 * WIDTH
    trimmer = joist("trimmer", 2000.0, length, role=Role.TRIMMER)
    assert codes(floor_house([*joists(length, 16 * INCH), trimmer], length)) == ["load.path"] * 2
    short = replace(trimmer, length=length - 1000.0)
    assert "joist.support" in codes(floor_house([*joists(length, 16 * INCH), short], length))


@pytest.mark.parametrize(("stock", "wrong"), [("2x8", set()), ("2x6", {"joist.span"})])
def test_rafters_on_a_ceiling_span_from_the_wall_below_it(stock: str, wrong: set[str]) -> None:
    """IRC Table R802.4.1(3), 30 psf: SPF No.2 2x8 at 16 in. 15-1, 2x6 11-11; here 14 ft from wall to ridge."""
    run = 14 * FOOT + WIDTH
    ring = [(0.0, 0.0), (9000.0, 0.0), (9000.0, 2 * run), (0.0, 2 * run)]
    house = roofed(ring, edges=GABLES, rafters=stock, ceiling="y")
    rafters = [one for one in found(house) if one.panel[1] == "R"]
    assert {one.code for one in rafters} == wrong
    assert all(one.value == pytest.approx(14 * FOOT - 19.05, abs=25.0) for one in rafters)
