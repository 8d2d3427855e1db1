"""Falls, bends, branches, distances between systems, the reach of screws, and the room of boxes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.checks import check_panel
from panelgen.checks.box_room import box_room
from panelgen.checks.runs.bend import run_bend
from panelgen.checks.runs.branch import run_branch
from panelgen.checks.runs.clearance import run_clearance
from panelgen.checks.runs.screws import run_screws
from panelgen.checks.runs.slope import run_slope
from panelgen.checks.scene import Scene
from panelgen.errors import CatalogError
from panelgen.geometry.frames import Frame
from panelgen.model import Box, Finding, Fitting, Hardware, HardwareKind, House, ServiceRun, Severity
from tests.checks.builders import CAVITY, SKIN, WHY, box, house, panel, run, strap, stud
from tests.checks.looking import CATALOG, about, seen

UP = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
FOOT = 304.8
QUARTER_INCH = 6.35


def through(id: str, *path: tuple[float, float, float], system: str = "drain", **more: object) -> ServiceRun:
    """A run in the coordinates of a house whose one panel stands at the origin."""
    return ServiceRun(id, system, "pipe", 60.3, path, WHY, **more)


def around(*runs: ServiceRun, **more: object) -> House:
    """A house of one upright panel with these runs."""
    return house(replace(panel(), frame=UP), runs=runs, **more)


def slopes(one: House) -> list[Finding]:
    return run_slope(Scene.of(one.panels), one, CATALOG.rules(one.rules))


def test_drain_of_two_inches_falls_a_quarter_inch_in_a_foot() -> None:
    """IRC P3005.3: 1/4 unit vertical in 12 units horizontal for drains of 2-1/2 in. and less."""
    enough = through("a", (0.0, -70.0, 500.0), (FOOT, -70.0, 500.0 - QUARTER_INCH))
    assert slopes(around(enough)) == []
    (finding,) = slopes(around(through("a", (0.0, -70.0, 500.0), (FOOT, -70.0, 500.0 - QUARTER_INCH + 0.1))))
    assert (finding.code, finding.severity, finding.panel, finding.unit) == ("run.slope", Severity.STOP, "1W01", "%")
    assert (finding.value, finding.limit) == (pytest.approx(100 * 6.25 / FOOT), pytest.approx(100 / 48))
    assert "IRC P3005.3" in finding.source
    assert finding.point == pytest.approx((FOOT / 2, 496.875, 70.0))


def test_bigger_drains_may_fall_half_as_much() -> None:
    """IRC P3005.3: 1/8 unit in 12 for drains of 3 in. and more; 3 in. PVC is 3.5 in. outside."""
    gentle = replace(through("a", (0.0, -70.0, 500.0), (FOOT, -70.0, 500.0 - QUARTER_INCH / 2)), diameter=88.9)
    assert slopes(around(gentle)) == []
    assert len(slopes(around(replace(gentle, diameter=60.3)))) == 1


def test_cleanout_allows_less_by_the_federal_manufactured_home_standard() -> None:
    """24 CFR 3280.610 asks 1/4 in. per foot, or 1/8 in. with a full size cleanout: a warning between the two."""
    between = around(through("a", (0.0, -70.0, 500.0), (FOOT, -70.0, 496.0)))
    (finding,) = slopes(replace(between, rules="wac-246-359"))
    assert finding.severity is Severity.WARN


@pytest.mark.parametrize("flow", ["forward", "backward"])
def test_drain_that_rises_against_its_flow(flow: str) -> None:
    path = ((0.0, -70.0, 500.0), (300.0, -70.0, 490.0), (300.0, -70.0, 600.0), (900.0, -70.0, 580.0))
    (finding,) = slopes(around(through("a", *(path if flow == "forward" else path[::-1]), flow=flow)))
    assert finding.value is None
    assert "rises against" in finding.words
    assert finding.house_point == pytest.approx((300.0, -70.0, 545.0))


def test_vents_drain_to_one_end_and_other_runs_go_as_they_like() -> None:
    up = ((0.0, -70.0, 500.0), (0.0, -70.0, 900.0), (600.0, -70.0, 900.0), (600.0, -70.0, 2000.0))
    for path in (up, up[::-1]):
        assert slopes(around(through("v", *path, system="vent"))) == []
    sag = ((0.0, -70.0, 500.0), (0.0, -70.0, 900.0), (600.0, -70.0, 880.0), (600.0, -70.0, 2000.0))
    (finding,) = slopes(around(through("v", *sag, system="vent")))
    assert finding.value == pytest.approx(20.0)
    assert slopes(around(through("w", *sag, system="cold water"))) == []


def test_drain_between_panels_is_found_in_the_house_only() -> None:
    far = through("a", (0.0, 5000.0, 500.0), (900.0, 5000.0, 510.0))
    one = around(far)
    (finding,) = slopes(one)
    assert (finding.panel, finding.point, finding.house_point) == ("", None, pytest.approx((450.0, 5000.0, 505.0)))
    two = replace(one, panels=(*one.panels, replace(one.panels[0], label="1W02")))
    assert run_slope(Scene.of(two.panels[:1]), two, CATALOG.rules(two.rules)) == []


def bends(*path: tuple[float, float, float], radius: float, **more: object) -> list[Finding]:
    one = around(through("a", *path, system="power", bend_radius=radius), **more)
    return run_bend(Scene.of(one.panels), one, CATALOG)


STEP = ((0.0, -70.0, 500.0), (500.0, -70.0, 500.0), (500.0, -70.0, 600.0), (900.0, -70.0, 600.0))


def test_two_right_angles_need_twice_the_radius_between_them() -> None:
    assert bends(*STEP, radius=50.0) == []
    (finding,) = bends(*STEP, radius=51.0)
    assert (finding.value, finding.limit) == (pytest.approx(50.0), 51.0)
    assert finding.point == pytest.approx((500.0, 550.0, 70.0))


def test_last_stretch_may_be_shorter_than_its_arc() -> None:
    assert bends(*STEP[:3], radius=400.0) == []


def test_elbow_in_place_of_a_bend_takes_its_arm() -> None:
    elbow = Fitting("e", "a", "elbow", "p", STEP[1], (1, 0, 0), 30.0, 60.0, WHY, other=(0, 0, 1), angle=90.0)
    assert bends(*STEP, radius=70.0, fittings=(elbow,)) == []
    (finding,) = bends(*STEP, radius=71.0, fittings=(elbow,))
    assert finding.value == pytest.approx(70.0)


def test_radius_less_than_the_size_allows() -> None:
    """NEC 334.24: the inner edge of a bend of NM cable is no less than five times its diameter."""
    size = CATALOG.service_size("nm-12/2")
    least = 5.5 * size.diameter
    for radius, expected in ((least, []), (least - 1.0, ["run.bend"])):
        cable = ServiceRun("a", "power", size.name, size.diameter, STEP[:3], WHY, bend_radius=radius)
        one = around(cable)
        findings = run_bend(Scene.of(one.panels), one, CATALOG)
        assert [finding.code for finding in findings] == expected
        assert all("NEC" in finding.source for finding in findings)


def test_branches_start_on_their_run() -> None:
    trunk = through("a", (0.0, -70.0, 500.0), (900.0, -70.0, 500.0))
    for z, expected in ((500.0, None), (530.1, None), (530.3, 0.15), (560.15, 30.0)):
        branch = through("b", (300.0, -70.0, z), (300.0, -70.0, 900.0), branch_of="a")
        one = around(trunk, branch)
        findings = run_branch(Scene.of(one.panels), one)
        assert [finding.value for finding in findings] == ([] if expected is None else [pytest.approx(expected)])
    lost = around(replace(branch, branch_of="none"))
    (finding,) = run_branch(Scene.of(lost.panels), lost)
    assert (finding.parts, finding.value) == (("b", "none"), None)


def near(gap: float, a: str = "hot water", b: str = "cold water", **more: object) -> list[Finding]:
    """What is said of two level pipes one above the other."""
    low = run((100.0, 500.0, 70.0), (900.0, 500.0, 70.0), id="low.1", system=a)
    high = run((100.0, 522.2 + gap, 70.0), (900.0, 522.2 + gap, 70.0), id="high.1", system=b)
    return seen(run_clearance, panel((), (low, high), **more), CATALOG)


def test_systems_keep_their_distance() -> None:
    limit = CATALOG.services.clearance("hot water", "cold water").distance
    assert near(limit) == []
    (finding,) = near(limit - 0.1)
    assert about([finding]) == [("run.clearance", "low", "high")]
    assert (finding.value, finding.limit) == (pytest.approx(limit - 0.1), limit)
    assert near(0.1, "cold water", "cold water") == []
    assert near(-5.0) == []  # they meet: told as shared space


def test_ends_are_flat() -> None:
    limit = CATALOG.services.clearance("hot water", "cold water").distance
    first = run((100.0, 500.0, 70.0), (500.0, 500.0, 70.0), id="a.1", system="hot water")
    for gap, count in ((limit + 0.1, 0), (limit - 0.1, 1)):
        second = run((500.0 + gap, 500.0, 70.0), (900.0, 500.0, 70.0), id="b.1")
        assert len(seen(run_clearance, panel((), (first, second)), CATALOG)) == count


def test_runs_that_end_at_one_box_are_not_held_apart_there() -> None:
    back = -SKIN - 20.0
    manifold = box("m", 480.0, 600.0, back, (100.0, 100.0, 15.0))
    hot = run((500.0, 1500.0, back - 5), (500.0, 590.0, back - 5), id="a.1", system="hot water")
    cold = run((530.0, 1500.0, back - 5), (530.0, 590.0, back - 5), id="b.1")
    assert len(seen(run_clearance, panel((), (hot, cold)), CATALOG)) == 1
    assert seen(run_clearance, panel((), (hot, cold), boxes=(manifold,)), CATALOG) == []


DEEP = CATALOG.services.screw_zone("gypsum-1/2").depth
FRONT = -SKIN - CAVITY


def screws(z: float, y: float = 640.0, hardware: tuple[Hardware, ...] = (), **more: object) -> list[Finding]:
    """What is said of a run along the cavity between the ends of two straps at y = 600 to 663.5."""
    part = replace(run((500.0, 100.0, z), (500.0, y, z), diameter=10.0), **{"family": "cable", **more})
    straps = (strap("s1", 600.0, 470.0), strap("s2", 600.0, 400.0, x=550.0))
    one = panel(straps, (part,), hardware=hardware)
    whole = house(one, interior_board="gypsum-1/2")
    return run_screws(Scene.of((one,)), whole, CATALOG.rules(whole.rules), CATALOG)


def test_run_in_reach_of_screws_at_a_strap() -> None:
    (finding,) = screws(FRONT + DEEP + 4.9)
    assert finding.parts == ("run", "s1")
    assert (finding.severity, finding.value) == (Severity.STOP, pytest.approx(0.1))
    assert screws(FRONT + DEEP + 5.0) == []
    assert screws(FRONT + DEEP, y=500.0) == []


def test_families_without_a_rule_are_warned_of() -> None:
    (finding,) = screws(FRONT + DEEP, family="other")
    assert finding.severity is Severity.WARN


def test_plates_cover() -> None:
    plate = Hardware("p", "shield", 1, (500.0, 630.0, FRONT), WHY, ("run.1", "s1", "s2"), HardwareKind.SHIELD)
    assert screws(FRONT + DEEP, hardware=(plate,)) == []
    assert len(screws(FRONT + DEEP, hardware=(replace(plate, parts=("other", "s1", "s2")),))) == 1
    assert len(screws(FRONT + DEEP, hardware=(replace(plate, kind=HardwareKind.SUPPORT),))) == 1


def test_bare_framing_takes_the_screws_itself() -> None:
    bare = panel((stud(480.0),), (run((100.0, 500.0, DEEP), (900.0, 500.0, DEEP), diameter=10.0),))
    bare = replace(bare, layers=tuple(layer for layer in bare.layers if layer.name == "framing"))
    whole = house(bare, interior_board="gypsum-1/2")
    findings = run_screws(Scene.of((bare,)), whole, CATALOG.rules(whole.rules), CATALOG)
    assert about(findings) == [("run.screws", "run", "stud@480")]
    with pytest.raises(CatalogError):
        check_panel(bare, replace(whole, interior_board="no such board"), CATALOG)


def rooms(one: Box) -> list[tuple[str, float | None]]:
    return [(finding.code, finding.value) for finding in seen(box_room, panel(boxes=(one,)), CATALOG)]


def test_box_of_eighteen_cubic_inches() -> None:
    """NEC 314.16: a 3 x 2 x 3-1/2 in. device box holds 18.0 in3."""
    product = CATALOG.box("device-3x2x3-1/2")
    full = replace(box("b", 100.0, 500.0, -SKIN), product=product.name, volume=product.volume, fill=product.volume)
    assert rooms(full) == []
    assert rooms(replace(full, fill=18.25 * 25.4**3)) == [("box.fill", pytest.approx(18.25))]


def test_clear_depth_behind_a_box() -> None:
    shallow = box("b", 100.0, 500.0, -SKIN - 12.0)
    assert rooms(replace(shallow, back=12.0)) == []
    assert rooms(replace(shallow, back=12.1)) == [("box.back", pytest.approx(12.0))]
