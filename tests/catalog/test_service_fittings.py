"""Fittings, bends and rectangular ducts.

Angles: 24 CFR 3280.610, read in the public law. Outside diameters of couplings, radii of bends and
sizes of ducts: common practice, no source, save the cable's (NEC 334.24 in a secondary reproduction).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.catalog import Catalog, ServiceSize
from panelgen.units import inches

CATALOG = Catalog.default()
SERVICES = CATALOG.services
SIZES = list(CATALOG.service_sizes.values())


def by_name(size: ServiceSize) -> str:
    return size.name


@pytest.mark.parametrize(("name", "outside"), [("pvc-2", 2.75), ("pvc-3", 3.97), ("pvc-4", 5.00)])
def test_outside_of_drain_couplings(name: str, outside: float) -> None:
    """Hub diameters for a space check: common practice, no source."""
    coupling = SERVICES.fitting(CATALOG.service_size(name), "coupling")
    assert coupling is not None
    assert coupling.diameter == pytest.approx(inches(outside))
    assert coupling.unverified


@pytest.mark.parametrize("size", SIZES, ids=by_name)
def test_every_fitting_is_larger_than_what_it_takes(size: ServiceSize) -> None:
    for kind in SERVICES.fitting_kinds(size):
        fitting = SERVICES.fittings[f"{size.name} {kind}"]
        assert fitting.diameter > size.diameter
        assert (fitting.section is None) == (size.section is None)
        if fitting.section is not None and size.section is not None:
            assert all(a > b for a, b in zip(fitting.section, size.section, strict=True))


@pytest.mark.parametrize("size", SIZES, ids=by_name)
def test_a_size_is_bent_or_has_elbows(size: ServiceSize) -> None:
    bent = SERVICES.series(size).turns == "bend"
    assert (SERVICES.bend_radius(size) is not None) == bent
    assert (SERVICES.turn(size, 90.0) is not None) == (not bent)
    if not bent:
        assert {"coupling", "elbow", "tee"} <= set(SERVICES.fitting_kinds(size))


@pytest.mark.parametrize(
    ("angle", "name"),
    [
        (11.25, "1/32 bend"),
        (22.5, "1/16 bend"),
        (45, "1/8 bend"),
        (60, "1/6 bend"),
        (90, "1/4 bend"),
        (91.5, "1/4 bend"),
    ],
)
def test_drains_turn_by_the_angles_of_3280_610(angle: float, name: str) -> None:
    turn = SERVICES.turn(CATALOG.service_size("pvc-2"), angle)
    assert turn is not None
    assert turn.name == name
    assert turn.grade == "A"


@pytest.mark.parametrize("angle", [5.0, 30.0, 75.0, 120.0])
def test_no_drain_fitting_turns_by_another_angle(angle: float) -> None:
    assert SERVICES.turn(CATALOG.service_size("pvc-2"), angle) is None


def test_an_adjustable_duct_elbow_turns_by_any_angle_to_90() -> None:
    duct = CATALOG.service_size("duct-6")
    assert SERVICES.turn(duct, 30.0) is SERVICES.turn(duct, 90.0) is not None
    assert SERVICES.turn(duct, 95.0) is None


@given(angle=st.floats(0.0, 170.0))
def test_an_elbow_reaches_farther_the_more_it_turns(angle: float) -> None:
    elbow = SERVICES.fittings["pvc-2 elbow"]
    assert elbow.arm <= elbow.reach(angle) <= elbow.reach(angle + 1.0)
    assert elbow.reach(90.0) == pytest.approx(elbow.arm + elbow.sweep)


@pytest.mark.parametrize("name", ["nm-12/2", "nm-14/2", "nm-10/2"])
def test_cable_bends_at_five_diameters_inside(name: str) -> None:
    """NEC 334.24: the inner edge of a bend is at a radius of at least 5 diameters."""
    size = CATALOG.service_size(name)
    row = SERVICES.bend_radius(size)
    assert row is not None
    assert row.to_centre_line(size.diameter) - size.diameter / 2 == pytest.approx(5 * size.diameter)


def test_pex_bends_at_eight_diameters() -> None:
    """Common practice, no source."""
    size = CATALOG.service_size("pex-1/2")
    row = SERVICES.bend_radius(size)
    assert row is not None
    assert row.to_centre_line(size.diameter) == pytest.approx(inches(8 * 0.625))
    assert row.unverified


def test_each_conduit_has_a_radius_of_its_own() -> None:
    """NEC Chapter 9 Table 2, from memory."""
    radii = []
    for name in ("emt-1/2", "emt-3/4", "emt-1", "emt-1-1/4"):
        size = CATALOG.service_size(name)
        row = SERVICES.bend_radius(size)
        assert row is not None
        radii.append(row.to_centre_line(size.diameter))
    assert radii == pytest.approx([inches(x) for x in (4.0, 4.5, 5.75, 7.25)])


@pytest.mark.parametrize(
    ("name", "width", "depth"),
    [("duct-3-1/4x10", 10.0, 3.25), ("duct-3-1/4x12", 12.0, 3.25), ("duct-2-1/4x12", 12.0, 2.25)],
)
def test_wall_stacks_are_rectangular(name: str, width: float, depth: float) -> None:
    size = CATALOG.service_size(name)
    assert size.section == pytest.approx((inches(width), inches(depth)))
    assert size.diameter == pytest.approx(inches(math.hypot(width, depth)))
    assert size.unverified


def test_a_shallow_stack_fits_a_2x4_wall() -> None:
    section = CATALOG.service_size("duct-3-1/4x10").section
    assert section is not None
    assert section[1] < CATALOG.stock("2x4").width


def test_sticks_of_pipe_come_in_lengths_and_tube_and_cable_in_coils() -> None:
    stock = {
        name: SERVICES.series(CATALOG.service_size(name)).stock for name in ("pvc-3", "emt-1/2", "pex-1/2", "nm-12/2")
    }
    assert stock == {"pvc-3": 3048.0, "emt-1/2": 3048.0, "pex-1/2": math.inf, "nm-12/2": math.inf}
