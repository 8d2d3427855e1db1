"""Stock lengths are joined where a coupling has room, not in a stud."""

from __future__ import annotations

from itertools import pairwise

import pytest

from panelgen.design.services.fittings import fittings_of
from panelgen.design.services.runs import house_run
from panelgen.routing import Route
from tests.checks.builders import LAYERS, panel, stud
from tests.routing.places import CATALOG, FRAMING, bare_house, routed, wall_house

STOCK = 3048.0  # 10 ft lengths
START = 100.0


def conduit(*studs: float) -> Route:
    """A conduit 13 ft long through studs whose left faces are at these places."""
    at = bare_house(panel([stud(x, y=0.0) for x in studs], length=6000.0, height=2438.4))
    return routed(at, (START, 900.0, FRAMING), (START + 4000.0, 900.0, FRAMING), size="emt-3/4")


def joints(route: Route) -> list[float]:
    """How far along the run the design puts its couplings."""
    run = route.spec()
    (made,) = [house_run(run, {"south": bare_house().walls[0].frame}, {"south": LAYERS}, CATALOG)]
    fittings, _ = fittings_of((run,), (made,), CATALOG)
    return [fitting.point[0] - START for fitting in fittings if fitting.kind == "coupling"]


def test_a_coupling_stays_at_the_end_of_the_stock_where_that_is_free() -> None:
    route = conduit(2000.0)
    assert route.couplings == ()
    assert joints(route) == [pytest.approx(STOCK)]


def test_a_coupling_is_moved_back_out_of_a_stud() -> None:
    at = START + STOCK - 19.05  # the stud is around the end of the first length
    route = conduit(at)
    (place,) = joints(route)
    half = CATALOG.services.fitting(CATALOG.service_size("emt-3/4"), "coupling").reach(0.0)
    assert place == pytest.approx(route.couplings[0])
    assert place + half == pytest.approx(at - START, abs=0.2)
    assert all(b - a <= STOCK for a, b in pairwise([0.0, place, 4000.0]))


def test_sticks_back_to_back_are_passed_too() -> None:
    at = START + STOCK - 19.05
    (place,) = joints(conduit(at, at - 38.1, at - 76.2))
    assert place < at - 76.2 - START


def test_a_run_without_a_size_has_no_couplings() -> None:
    at = bare_house(panel([stud(2000.0, y=0.0)], length=6000.0, height=2438.4))
    assert routed(at, (100.0, 900.0, FRAMING), (4100.0, 900.0, FRAMING), diameter=20.0).couplings == ()


def test_a_leg_that_leaves_its_couplings_no_room_is_moved() -> None:
    at = wall_house("14 ft")
    low = 63.5 + 8.97 + 3.0  # a 1/2 in. conduit just above the strap at the floor
    ends = (300.0, low, "cavity"), (3900.0, low, "cavity")
    route = routed(at, *ends, system="low voltage", size="emt-1/2")
    heights = {y for _, y, _ in route.points[1:-1]}
    assert min(heights) >= 63.5 + 12.7  # half of the coupling's 1.00 in.
