from __future__ import annotations

import math

import pytest

from panelgen.checks.runs.member import run_member
from panelgen.geometry.frames import Frame, Vec3
from panelgen.model import Bore, EndCut, Fitting, Member, Notch, RunPart
from tests.checks.builders import DEPTH, FLAT, WHY, member, panel, plate, run, stud
from tests.checks.looking import about, seen

MIDDLE = DEPTH / 2


def hole(y: float, diameter: float, z: float = MIDDLE, axis: Vec3 = (0.0, 0.0, 1.0), of: str = "run") -> Bore:
    """A hole through a stud at panel height y, in the coordinates of a stud that stands on a plate."""
    return Bore((y - 38.1, z, 0.0), diameter, axis, of)


def found(part: RunPart, *sticks: Member) -> list[tuple[str, ...]]:
    return about(seen(run_member, panel(sticks, [part])))


def level(y: float = 600.0, z: float = MIDDLE, **more: object) -> RunPart:
    """A run along the panel through the studs at x = 100."""
    return run((-50.0, y, z), (400.0, y, z), **more)


CLASH = [("run.member", "run", "stud@100")]


def test_through_solid_wood() -> None:
    (finding,) = seen(run_member, panel([stud(100.0)], [level()]))
    assert (finding.code, finding.parts) == ("run.member", ("run", "stud@100"))
    assert finding.point == pytest.approx((119.05, 600.0, MIDDLE))
    assert finding.value == pytest.approx(MIDDLE + 11.1)
    assert "goes into" in finding.words


def test_one_finding_for_each_stick_however_many_stretches() -> None:
    corners = (-50.0, 600.0), (110.0, 600.0), (115.0, 610.0), (130.0, 620.0), (400.0, 620.0)
    bent = run(*((x, y, 70.0) for x, y in corners))
    assert found(bent, stud(100.0), stud(300.0)) == [*CLASH, ("run.member", "run", "stud@300")]


@pytest.mark.parametrize(
    ("off", "clash"), [(0.0, False), (1.4, False), (1.5, True)], ids=["centred", "just inside", "0.1 mm too far"]
)
def test_bore_takes_a_run_that_stays_inside(off: float, clash: bool) -> None:
    """A 25 mm hole leaves 1.4 mm around a 22.2 mm pipe."""
    assert found(level(y=600.0 + off), stud(100.0, bores=[hole(600.0, 25.0)])) == (CLASH if clash else [])


def test_bore_too_small_is_said_so() -> None:
    (finding,) = seen(run_member, panel([stud(100.0, bores=[hole(600.0, 22.0)])], [level()]))
    assert finding.value == pytest.approx(0.1, abs=0.051)
    assert "does not fit the hole" in finding.words


@pytest.mark.parametrize(("degrees", "clash"), [(0.0, False), (20.0, False), (26.0, True)])
def test_oblique_run_needs_the_whole_lens(degrees: float, clash: bool) -> None:
    """Through a square hole of radius R a pipe of radius r at an angle a reaches r / cos(a) + tan(a) T / 2 aside.

    With T = 38.1, R = 20.2 and r = 11.1 it fits up to 23.1 degrees.
    """
    slope = math.tan(math.radians(degrees))
    part = run((119.05 - 200.0, 600.0 - 200.0 * slope, MIDDLE), (119.05 + 200.0, 600.0 + 200.0 * slope, MIDDLE))
    assert found(part, stud(100.0, bores=[hole(600.0, 40.4)])) == (CLASH if clash else [])


@pytest.mark.parametrize(("degrees", "clash"), [(22.9, False), (23.5, True)])
def test_limit_of_the_lens(degrees: float, clash: bool) -> None:
    radius, thickness, bore = 11.1, 38.1, 20.2
    angle = math.radians(degrees)
    reach = radius / math.cos(angle) + math.tan(angle) * thickness / 2
    assert (reach > bore) == clash
    test_oblique_run_needs_the_whole_lens(degrees, clash)


def test_slanted_bore_takes_the_run_it_was_made_for() -> None:
    angle = math.radians(30.0)
    axis = (math.sin(angle), 0.0, math.cos(angle))
    along = (math.cos(angle), math.sin(angle), 0.0)
    part = run(*((119.05 + s * along[0], 600.0 + s * along[1], MIDDLE) for s in (-200.0, 200.0)))
    center = hole(600.0 - math.tan(angle) * 19.05, 23.8, axis=axis)
    assert found(part, stud(100.0, bores=[center])) == []
    assert found(part, stud(100.0, bores=[hole(600.0, 23.8)])) == CLASH


def test_two_holes_that_run_into_each_other_take_a_run_between_them() -> None:
    """Discs of radius 20 whose centres are 10 apart cover a disc of radius 19 midway between them."""
    pair = [hole(595.0, 40.0), hole(605.0, 40.0)]
    assert found(level(diameter=38.0), stud(100.0, bores=pair)) == []
    assert found(level(diameter=39.4), stud(100.0, bores=pair)) == CLASH


@pytest.mark.parametrize(("gap", "clash"), [(0.1, False), (0.0, False), (-0.04, False), (-0.1, True)])
def test_touching_is_not_clashing(gap: float, clash: bool) -> None:
    beside = run((100.0 - 11.1 - gap, 100.0, 70.0), (100.0 - 11.1 - gap, 2000.0, 70.0))
    assert found(beside, stud(100.0)) == (CLASH if clash else [])


@pytest.mark.parametrize(("end", "clash"), [(100.0, False), (100.1, True)], ids=["flush", "0.1 mm in"])
def test_run_that_ends_at_a_face(end: float, clash: bool) -> None:
    assert found(run((-300.0, 600.0, 70.0), (end, 600.0, 70.0)), stud(100.0)) == (CLASH if clash else [])


def test_run_that_ends_inside_its_hole() -> None:
    holed = stud(100.0, bores=[hole(600.0, 25.0)])
    (finding,) = seen(run_member, panel([holed], [run((-300.0, 600.0, MIDDLE), (120.0, 600.0, MIDDLE))]))
    assert "ends inside" in finding.words
    assert finding.value is None
    assert found(run((-300.0, 600.0, MIDDLE), (138.1, 600.0, MIDDLE)), holed) == []
    assert found(run((-300.0, 600.0, MIDDLE), (120.0, 600.0, MIDDLE), leaves=True), holed) == []


def test_run_wholly_inside_the_wood() -> None:
    assert found(run((119.05, 300.0, 70.0), (119.05, 1500.0, 70.0)), stud(100.0)) == CLASH


def test_stick_wholly_inside_a_duct() -> None:
    nailer = member("nailer", frame=Frame((100.0, 100.0, 50.0), *FLAT), size=(200.0, 40.0, 20.0))
    assert found(run((0.0, 120.0, 60.0), (500.0, 120.0, 60.0), diameter=200.0), nailer) == [
        ("run.member", "run", "nailer")
    ]


def test_narrow_stick_that_only_pokes_the_end_of_a_duct() -> None:
    nailer = member("nailer", frame=Frame((100.0, 110.0, 55.0), *FLAT), size=(200.0, 20.0, 10.0))
    assert found(run((-500.0, 120.0, 60.0), (105.0, 120.0, 60.0), diameter=200.0), nailer) == [
        ("run.member", "run", "nailer")
    ]


@pytest.mark.parametrize(("z", "clash"), [(18.9, False), (19.0, True)])
def test_notch_takes_a_run_down_to_its_bottom(z: float, clash: bool) -> None:
    notched = stud(100.0, notches=[Notch(500.0, 700.0, 30.0)])
    assert found(level(z=z), notched) == (CLASH if clash else [])
    assert found(level(y=800.0, z=z), notched) == CLASH


def test_bevelled_end_leaves_room_under_a_rake() -> None:
    cut = stud(100.0, end=EndCut(0.0, 1.0))
    corner = (100.0, 38.1 + 2362.2 - 38.1, MIDDLE)

    def rake(off: float) -> RunPart:
        """A run of radius 11.1 along the cut, its axis `off` mm from it."""
        aside = off / math.sqrt(2)
        return run(*((corner[0] + s - aside, corner[1] + s + aside, MIDDLE) for s in (-300.0, 300.0)))

    assert found(rake(11.2), cut) == []
    assert found(rake(10.9), cut) == CLASH


def test_bend_outside_the_wood_reaches_into_it() -> None:
    """Each stretch keeps clear of the edge, and only the rounded outside of the bend touches it."""
    near = run((60.0, 2000.0, 70.0), (92.0, 1000.0, 70.0), (60.0, 100.0, 70.0), diameter=20.0)
    assert found(near, stud(100.0)) == CLASH
    assert found(run((60.0, 2000.0, 70.0), (89.9, 1000.0, 70.0), (60.0, 100.0, 70.0), diameter=20.0), stud(100.0)) == []


def test_plates_are_wood_too() -> None:
    riser = run((500.0, 0.0, 70.0), (500.0, 1000.0, 70.0), diameter=48.3)
    assert found(riser, plate("bottom", 0.0, 1000.0)) == [("run.member", "run", "bottom")]
    assert found(riser, plate("bottom", 0.0, 1000.0, bores=[Bore((500.0, 70.0, 0.0), 51.0)])) == []


def test_insulation_counts() -> None:
    holed = stud(100.0, bores=[hole(600.0, 25.0)])
    bare = level()
    wrapped = RunPart(bare.id, bare.run, bare.system, bare.product, bare.diameter, bare.path, WHY, insulation=13.0)
    assert found(bare, holed) == []
    assert found(wrapped, holed) == CLASH


def test_rectangular_duct_fits_between_studs_its_circle_would_not() -> None:
    duct = run((250.0, 100.0, 70.0), (250.0, 2000.0, 70.0), diameter=math.hypot(82.6, 254.0))
    flat = RunPart("run.1", "run", "supply air", "duct", duct.diameter, duct.path, WHY, section=(254.0, 82.6))
    studs = stud(250.0 - 127.0 - 38.1, "left"), stud(250.0 + 127.0, "right")
    assert found(flat, *studs) == []
    assert found(flat, studs[0], stud(250.0 + 126.9, "right")) == [("run.member", "run", "right")]
    assert found(duct, *studs) == [("run.member", "run", "left"), ("run.member", "run", "right")]


def test_fitting_wider_than_the_hole_for_its_run() -> None:
    holed = stud(100.0, bores=[hole(600.0, 25.0)])
    coupling = Fitting("c1", "run", "coupling", "coupling", (119.05, 600.0, MIDDLE), (1.0, 0.0, 0.0), 28.0, 50.0, WHY)
    (finding,) = seen(run_member, panel([holed], [level()], fittings=(coupling,)))
    assert finding.parts == ("run", "stud@100")
    assert "fitting (coupling)" in finding.words
    clear = Fitting("c1", "run", "coupling", "coupling", (200.0, 600.0, MIDDLE), (1.0, 0.0, 0.0), 28.0, 50.0, WHY)
    assert seen(run_member, panel([holed], [level()], fittings=(clear,))) == []


def test_repeated_points_and_runs_without_length_are_passed_over() -> None:
    still = run((119.0, 600.0, 70.0), (119.0, 600.0, 70.0))
    assert found(still, stud(100.0)) == []
    assert found(run((-50.0, 600.0, 70.0), (-50.0, 600.0, 70.0), (400.0, 600.0, 70.0)), stud(100.0)) == CLASH
