"""What bars the way and what is said of it: bores by role, layers, sleeves, straps, falls, joints."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from panelgen.errors import BadValueError, CatalogError
from panelgen.geometry.frames import Frame
from panelgen.model import House, Role
from panelgen.routing import Route, RouteRequest, find_route
from tests.checks.builders import UPRIGHT, member, panel, plate, stud
from tests.routing.places import CATALOG, CAVITY, FRAMING, bare_house, routed, wall_house

INCH = 25.4
PVC_2 = 60.325  # outside diameter of 2 in. pipe, ASTM D1785 table 1: 2.375 in.


def framed(*more: Any, bearing: bool = True, length: float = 1500.0) -> House:
    """Two plates, studs at both ends, and what is given between them."""
    ends = [stud(0.0), stud(length - 38.1)]
    plates = [plate("bottom", 0.0, length), plate("top", 2400.3, length, role=Role.TOP_PLATE)]
    made = panel([*plates, *ends, *more], length=length, height=2438.4, bearing=bearing)
    return bare_house(made)


def across(at: House, size: str = "pvc-2", **more: Any) -> Route:
    """A route level through the middle of a framed wall."""
    return routed(at, (200.0, 1000.0, FRAMING), (1300.0, 1000.0, FRAMING), system="heating", size=size, **more)


def test_a_bore_over_the_limit_of_a_bearing_stud_is_refused_with_both_numbers() -> None:
    # IRC R602.6: 40 percent of 5.5 in. is 55.9 mm; 60.3 mm pipe with 1/8 in. of play takes 63.5 mm.
    route = across(framed(stud(700.0)))
    assert not route.found
    assert "the bore would be 63.5 mm and the rule allows 55.9 mm in a bearing stud" in route.reasons[0]
    assert route.in_the_way == ("stud@700",)


def test_doubled_studs_may_take_more_and_say_so() -> None:
    # IRC R602.6, exception: 60 percent of 5.5 in. is 83.8 mm where the stud is doubled.
    route = across(framed(stud(700.0), stud(738.1)))
    assert [(bore.member, bore.limit) for bore in route.bores] == [
        ("stud@700", pytest.approx(83.82)),
        ("stud@738.1", pytest.approx(83.82)),
    ]


def test_no_more_than_two_doubled_studs_in_a_row_are_bored_wide() -> None:
    pairs = [stud(x) for at in (400.0, 700.0, 1000.0) for x in (at, at + 38.1)]
    assert across(framed(*pairs[:4])).found
    assert not across(framed(*pairs)).found


def test_king_and_jack_are_bored_as_studs_are() -> None:
    route = across(framed(stud(600.0, role=Role.KING), stud(800.0, role=Role.JACK)), size="pvc-1-1/2")
    assert [bore.member for bore in route.bores] == ["stud@600", "stud@800"]


def test_a_header_is_led_around() -> None:
    header = member("header", Role.HEADER, Frame((400.0, 800.0, 0.0), *UPRIGHT), (600.0, 139.7, 300.0))
    route = across(framed(header), size="pvc-1-1/2")
    assert (route.found, route.bends, route.bores) == (True, 2, ())
    closed = member("header", Role.HEADER, Frame((400.0, 38.1, 0.0), *UPRIGHT), (2362.2, 139.7, 300.0))
    assert "no rule allows to be bored" in across(framed(closed), size="pvc-1-1/2").reasons[0]


def test_a_hole_keeps_off_the_edge() -> None:
    # IRC R602.6: 5/8 in. from the edge, so the axis of a 19.05 mm hole stays 25.4 mm from it.
    def at_depth(z: float) -> Route:
        ends = (200.0, 1000.0, z), (1300.0, 1000.0, z)
        return routed(framed(stud(700.0)), *ends, system="cold water", size="copper-1/2")

    assert at_depth(25.5).bends == 0
    edge = at_depth(25.3)
    assert not edge.found or edge.bends > 0


def test_a_top_plate_cut_beyond_half_gets_its_tie_counted() -> None:
    at = framed()
    up = routed(at, (700.0, 300.0, FRAMING), (700.0, 2438.4, FRAMING), system="vent", size="pvc-3")
    assert [(bore.member, bore.is_tied) for bore in up.bores] == [("top", True)]
    down = routed(at, (700.0, 300.0, FRAMING), (700.0, 0.0, FRAMING), system="drain", size="pvc-3")
    assert [(bore.member, bore.is_tied) for bore in down.bores] == [("bottom", False)]


def test_a_drain_is_routed_plumb_or_not_at_all() -> None:
    at = framed()
    assert routed(at, (700.0, 300.0, FRAMING), (700.0, 900.0, FRAMING), system="drain", size="pvc-1-1/2").found
    level = routed(at, (700.0, 300.0, FRAMING), (900.0, 300.0, FRAMING), system="drain", size="pvc-1-1/2")
    assert "a drain must fall along its way" in level.reasons[0]
    assert level.request.system == "drain"


@pytest.mark.parametrize(("start", "end", "flow"), [(900.0, 300.0, "forward"), (300.0, 900.0, "backward")])
def test_a_drain_flows_down(start: float, end: float, flow: str) -> None:
    route = routed(framed(), (700.0, start, FRAMING), (700.0, end, FRAMING), system="drain", size="pvc-1-1/2")
    assert route.spec().flow == flow


def test_a_vent_never_sags() -> None:
    low = member("low", Role.HEADER, Frame((400.0, 900.0, 0.0), *UPRIGHT), (1500.0, 139.7, 300.0))
    at = framed(low)
    ends = (200.0, 1000.0, FRAMING), (1300.0, 1100.0, FRAMING)
    vent = routed(at, *ends, system="vent", size="pvc-1-1/2")
    assert not vent.found
    assert "a vent may not sag" in vent.reasons[0]
    assert routed(at, *ends, system="heating", size="pvc-1-1/2").bends == 2


def test_no_rectangular_duct_goes_through_wood() -> None:
    ends = (200.0, 1000.0, FRAMING), (1300.0, 1000.0, FRAMING)
    route = routed(framed(stud(700.0)), *ends, system="supply air", size="duct-3-1/4x10")
    assert "a rectangular duct goes through no bore" in route.reasons[0]
    assert routed(framed(), *ends, system="supply air", size="duct-3-1/4x10").found


SLEEVE = {"id": "S1", "run": "R9", "wall": "N1", "at": [1500.0, 1100.0], "product": "sleeve-1", "seal": "gasket"}
DRAWN = {
    "id": "R9",
    "system": "cold water",
    "diameter": 12.0,
    "wall": "N1",
    "path": [[1500, 1100, 0], [1500, 1100, 60]],
}


def through_the_barrier(run: str, **more: Any) -> Route:
    at = wall_house(runs=[DRAWN], sleeves=[SLEEVE])
    ends = (1600.0, 300.0, CAVITY), (1700.0, 1300.0, FRAMING)
    return routed(at, *ends, system="cold water", run=run, **({"diameter": 12.0} | more))


def test_the_air_barrier_is_crossed_in_the_run_s_own_sleeve_only() -> None:
    route = through_the_barrier("R9")
    crossing = [(a, b) for a, b in pairwise(route.points) if a[2] != b[2]]
    assert [(a[:2], b[:2]) for a, b in crossing] == [((1500.0, 1100.0), (1500.0, 1100.0))]
    for other in (through_the_barrier("R8"), through_the_barrier("R9", diameter=30.0)):
        (reason,) = other.reasons
        assert reason.startswith("the start is in the strapping and the end in the framing")
        assert "no sleeve that takes the run is declared" in reason


def test_depth_words_leave_the_depth_open_and_numbers_do_not() -> None:
    wall = {"id": "E1", "system": "power", "size": "nm-12/2", "wall": "N1"}
    at = wall_house(runs=[wall | {"path": [[600, 900, "cavity"], [3000, 900, "cavity"]]}])
    words = routed(at, (1500.0, 700.0, "cavity"), (1500.0, 1150.0, "cavity"))
    assert words.bends == 0
    assert words.points[0][2] != pytest.approx(CAVITY)
    fixed = routed(at, (1500.0, 700.0, CAVITY), (1500.0, 1150.0, CAVITY))
    assert fixed.length > words.length
    assert (fixed.points[0][2], fixed.points[-1][2]) == pytest.approx((CAVITY, CAVITY), abs=1e-3)


def test_the_middle_of_a_layer_is_written_as_its_word() -> None:
    route = routed(wall_house(), (900.0, 200.0, "cavity"), (1500.0, 450.0, CAVITY))
    assert [depth for _, _, depth in route.path] == ["cavity"] * 3


def test_a_run_lies_along_no_strap_but_crosses_it() -> None:
    at = wall_house()
    (row,) = [m for m in at.panels[0].members if m.id.startswith("N1/strap-row-1")]
    y = row.frame.origin[1] + row.width / 2
    along = routed(at, (900.0, y, CAVITY), (3000.0, y, CAVITY))
    assert all(a[1] != y or a[0] == b[0] for a, b in pairwise(along.points))
    assert routed(at, (900.0, y - 300.0, CAVITY), (900.0, y + 300.0, CAVITY)).bends == 0


def test_a_strap_is_not_cut_so_that_a_short_piece_is_left() -> None:
    at = wall_house()
    (row,) = [m for m in at.panels[0].members if m.id.startswith("N1/strap-row-1")]
    x = row.frame.origin[0] + 70.0  # less than the shortest member, 76.2 mm, from the end of the strap
    y = row.frame.origin[1]
    route = routed(at, (x, y - 200.0, CAVITY), (x, y + 300.0, CAVITY))
    crossed = [a[0] for a, b in pairwise(route.points) if min(a[1], b[1]) < y < max(a[1], b[1])]
    assert all(abs(at_x - row.frame.origin[0]) > 76.2 for at_x in crossed)


def test_bends_have_the_room_that_their_radius_takes() -> None:
    # NEC 334.24: 5 diameters at the inner edge, so 59 mm at the axis of a cable 10.7 mm thick.
    at = wall_house(openings=[{"id": "W1", "type": "window-30x48", "center": "5 ft", "sill": 1000.0}])
    route = routed(at, (900.0, 1000.0, CAVITY), (2100.0, 1000.0, CAVITY))
    legs = [sum(abs(a - b) for a, b in zip(p, q, strict=True)) for p, q in pairwise(route.points)]
    assert route.bends >= 2
    assert min(legs[1:-1]) >= 2 * 58.9


def test_a_route_leads_on_through_the_next_panels() -> None:
    at = wall_house("30 ft", shop={"line_length": "12 ft", "line_height": "12 ft"})
    route = routed(at, (700.0, 900.0, "framing"), (8800.0, 900.0, "framing"))
    assert {bore.panel for bore in route.bores} == {panel.label for panel in at.panels}
    assert route.bends == 0
    joint = at.panels[1].wall_start
    plumb = routed(at, (joint, 200.0, CAVITY), (joint, 550.0, CAVITY))
    assert not any(a[0] == b[0] and abs(a[0] - joint) < 5.3 for a, b in pairwise(plumb.points))


def test_house_points_find_their_wall() -> None:
    at = wall_house()
    frame = at.walls[0].frame
    ends = frame.point(900.0, 900.0, FRAMING), frame.point(1500.0, 900.0, FRAMING)
    route = find_route(at, CATALOG, RouteRequest("power", *ends, size="nm-12/2"))
    assert route.wall == "N1"
    assert route.house_points == (pytest.approx(ends[0], abs=1e-3), pytest.approx(ends[1], abs=1e-3))
    with pytest.raises(BadValueError, match="no wall holds both"):
        find_route(at, CATALOG, RouteRequest("power", ends[0], (0.0, 9e4, 0.0), size="nm-12/2"))


def test_a_branch_leaves_its_run_at_a_right_angle() -> None:
    trunk = {"id": "E1", "system": "cold water", "size": "copper-1/2", "wall": "N1"}
    at = wall_house(runs=[trunk | {"path": [[600, 900, "framing"], [3000, 900, "framing"]]}])
    route = routed(at, (1500.0, 900.0, FRAMING), (1700.0, 1200.0, FRAMING), system="cold water", size="copper-1/2")
    first, second = route.points[:2]
    assert first[1] != second[1]
    other = routed(at, (1500.0, 900.0, FRAMING), (1700.0, 1200.0, FRAMING), system="hot water", size="copper-1/2")
    assert other.reasons == ("the start is inside run E1",)


def test_systems_keep_their_distance() -> None:
    wall = {"id": "E1", "system": "cold water", "size": "copper-1/2", "wall": "N1"}
    at = wall_house(runs=[wall | {"path": [[600, 900, "framing"], [3000, 900, "framing"]]}])
    ends = (700.0, 945.0, FRAMING), (2900.0, 945.0, FRAMING)
    # Catalog: hot and cold water keep 2 in. apart; 45 mm less both radii is less than that.
    hot = routed(at, *ends, system="hot water", size="copper-1/2")
    assert any("run E1, from which hot water keeps 51 mm off cold water" in reason for reason in hot.reasons)
    assert routed(at, *ends, system="heating", size="copper-1/2").bends == 0


@pytest.mark.parametrize(
    ("ends", "words"),
    [
        (((900.0, 900.0, -5.0), (1500.0, 900.0, FRAMING)), "neither in the framing nor in the service cavity"),
        (((900.0, 900.0, FRAMING), (99000.0, 900.0, FRAMING)), "is not in wall N1"),
        (((620.0, 900.0, FRAMING), (1500.0, 900.0, FRAMING)), "the start is inside stud"),
    ],
)
def test_ends_that_cannot_be_are_named(ends: Any, words: str) -> None:
    (reason,) = routed(wall_house(), *ends).reasons
    assert words in reason


def test_what_is_too_thick_for_its_layer_is_told_so() -> None:
    route = routed(
        wall_house(), (900.0, 300.0, "cavity"), (1500.0, 300.0, "cavity"), system="supply air", size="duct-4"
    )
    assert route.reasons == ("the run takes 101.6 mm of depth and the strapping has 38.1 mm",)


def test_an_opening_that_closes_the_cavity_is_named() -> None:
    gate = {"id": "D1", "type": "door-36x80", "center": "8 ft"}
    at = wall_house(openings=[gate])
    high = [m for m in at.panels[0].members if m.id == "N1/strap-top@0"]
    assert high
    y = 300.0
    route = routed(at, (900.0, y, CAVITY), (4000.0, y, CAVITY))
    assert route.found
    assert max(b for _, b, _ in route.points) > 80 * INCH
    thick = routed(at, (900.0, y, CAVITY), (4000.0, y, CAVITY), system="heating", diameter=36.0)
    assert thick.found or any("rough opening D1" in reason for reason in thick.reasons)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"wall": "N9"}, "no wall is called 'N9'"),
        ({"system": "steam"}, "system"),
        ({"start": (900.0, 900.0, "attic")}, "'attic' is no depth word"),
        ({"start": (1500.0, 900.0, FRAMING)}, "start and end are one point"),
        ({"diameter": 10.0}, "each of size and diameter"),
        ({"size": None}, "neither of size and diameter"),
        ({"wall": None, "start": (1.0, 2.0, "cavity")}, "needs a wall"),
    ],
)
def test_bad_requests_are_refused_in_words(more: dict[str, Any], words: str) -> None:
    asked: dict[str, Any] = {
        "system": "power", "start": (900.0, 900.0, FRAMING), "end": (1500.0, 900.0, FRAMING), "size": "nm-12/2",
        "wall": "N1",
    }  # fmt: skip
    with pytest.raises(BadValueError, match=words):
        find_route(wall_house(), CATALOG, RouteRequest(**(asked | more)))


def test_an_unknown_size_is_refused() -> None:
    with pytest.raises(CatalogError, match="pex-9"):
        routed(wall_house(), (900.0, 900.0, FRAMING), (1500.0, 900.0, FRAMING), size="pex-9")


def test_a_wall_without_a_cavity_has_no_way_in_one() -> None:
    at = wall_house(assembly="bare", wall={"exterior": False})
    with pytest.raises(BadValueError, match="no service cavity"):
        routed(at, (900.0, 900.0, "cavity"), (1500.0, 900.0, "cavity"))


def test_a_route_without_points_has_no_spec() -> None:
    route = across(framed(stud(700.0)))
    with pytest.raises(BadValueError, match="there is no route"):
        route.spec()
