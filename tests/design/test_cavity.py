"""Straps of the service cavity: rows, openings, walls that meet it, backing, rakes, runs and boxes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings

from panelgen.design.brief import PanelBrief
from panelgen.design.extents import Extent, extent_of, is_upright
from panelgen.design.straps.cavity import row_heights, straps
from panelgen.geometry.frames import Frame
from panelgen.model import Box, Member, Role, RunPart, Why
from panelgen.spec.services import BackingSpec
from tests.design.builders import FOOT, assembly, blocked, brief, door, frame, tee, window
from tests.design.solids import assert_apart, outline
from tests.design.strategies import Sketch, sketches

WHY = Why("test", "", "")
WIDE, THICK = 63.5, 38.1  # 2x3, dressed
LOW, HIGH = -11.1125 - THICK, -11.1125  # z of the cavity behind 7/16 in. sheathing
MIDDLE = (LOW + HIGH) / 2


def laid(panel: PanelBrief, runs: Sequence[RunPart] = (), boxes: Sequence[Box] = ()) -> tuple[Member, ...]:
    """The straps of a panel, when nothing is left out."""
    placed, findings = straps(panel, frame(panel), runs, boxes)
    assert findings == ()
    return placed


def named(members: Sequence[Member], part: str) -> list[Extent]:
    """The boxes of the straps whose id contains `part`, left to right, then up."""
    return sorted(extent_of(member) for member in members if part in member.id)


def run(*path: tuple[float, float, float], diameter: float = 20.0) -> RunPart:
    """A pipe along a path in panel coordinates."""
    return RunPart("R1.1", "R1", "cold water", "pipe", diameter, path, WHY)


def backing(start: float, end: float, height: float, stock: str | None = None) -> BackingSpec:
    """A rail that wants a strap behind it; wall coordinates."""
    return BackingSpec(id="rail", wall="A", start=start, end=end, height=height, stock=stock, reason="handrail")


def test_rows_keep_the_spacing_from_the_floor_to_the_top() -> None:
    rows = named(laid(brief(12 * FOOT)), "strap-row") + named(laid(brief(12 * FOOT)), "strap-top")
    assert [box.y0 for box in rows] == pytest.approx([0.0, 2 * FOOT, 4 * FOOT, 6 * FOOT, 8 * FOOT - WIDE])
    assert all(box.x == pytest.approx((0.0, 12 * FOOT)) for box in rows)


def test_straps_lie_flat_on_the_inner_sheathing() -> None:
    for member in laid(brief(8 * FOOT)):
        assert member.role is Role.STRAP
        assert (member.layer, member.stock) == ("strapping", "2x3")
        assert member.frame.z == (0.0, 0.0, 1.0)
        box = extent_of(member)
        assert (box.z0, box.z1) == pytest.approx((LOW, HIGH))


@pytest.mark.parametrize("height", [300.0, 673.0, 1200.0, 1250.0, 2400.0, 2440.0, 2463.8, 2500.0, 3000.0])
def test_no_two_rows_are_farther_apart_than_the_spacing_or_overlap(height: float) -> None:
    rows = row_heights(height - WIDE, WIDE, 600.0)
    steps = [b - a for a, b in pairwise(rows)]
    assert rows[0] == 0.0
    assert rows[-1] == height - WIDE
    assert all(WIDE <= step <= 600.0 for step in steps)


def test_a_window_is_framed_on_all_four_sides() -> None:
    hole = window(5 * FOOT, 8 * FOOT, 900.0, 1700.0)
    placed = laid(brief(12 * FOOT, 8 * FOOT, hole))
    (head,), (sill,) = named(placed, "w1/strap-head"), named(placed, "w1/strap-sill")
    assert (head.y0, sill.y1) == (1700.0, 900.0)
    for box in (head, sill):
        assert box.x == pytest.approx((hole.x0 - WIDE, hole.x1 + WIDE))
    for side, edge in (("left", hole.x0 - WIDE), ("right", hole.x1)):
        jamb = named(placed, f"w1/strap-{side}")
        assert {box.x0 for box in jamb} == {edge}
        assert (jamb[0].y0, jamb[-1].y1) == (900.0, 1700.0)
        between = [(a.y1, b.y0) for a, b in pairwise(jamb)]
        assert between == [pytest.approx((4 * FOOT, 4 * FOOT + WIDE))]  # the row at 4 ft runs through
    assert_apart(placed)


def test_nothing_crosses_a_door() -> None:
    hole = door(5 * FOOT, 8 * FOOT, 2083.0)
    placed = laid(brief(12 * FOOT, 8 * FOOT, hole))
    assert not [member.id for member in placed if "strap-sill" in member.id]
    for box in map(extent_of, placed):
        assert box.x1 <= hole.x0 or box.x0 >= hole.x1 or box.y0 >= hole.y1
    assert named(placed, "d1/strap-left")[0].y0 == WIDE  # stands on the bottom row


def test_free_ends_and_inside_corners_get_upright_straps_and_panel_joints_do_not() -> None:
    placed = laid(brief(12 * FOOT, joined=(True, False), strap_span=(0.0, 12 * FOOT - 20.0)))
    assert not named(placed, "strap-end-left")
    right = named(placed, "strap-end-right")
    assert all(box.x == pytest.approx((12 * FOOT - 20.0 - WIDE, 12 * FOOT - 20.0)) for box in right)
    assert len(right) == 4
    assert all(box.x1 <= 12 * FOOT - 20.0 + 1e-6 for box in map(extent_of, placed))


def test_straps_stop_at_a_wall_that_meets_the_inner_face() -> None:
    wall = tee(1800.0)
    placed = laid(brief(12 * FOOT, tees=(wall,)))
    for box in map(extent_of, placed):
        assert box.x1 <= wall.span[0] + 1e-6 or box.x0 >= wall.span[1] - 1e-6
    assert {box.x1 for box in named(placed, "strap-P1-left")} == {wall.span[0]}
    assert {box.x0 for box in named(placed, "strap-P1-right")} == {wall.span[1]}
    outside = laid(brief(12 * FOOT, tees=(replace(wall, inner_face=False),)))
    assert len(named(outside, "strap-row")) == 4


def test_long_rows_are_joined_on_studs_and_the_joints_staggered() -> None:
    panel = brief(23 * FOOT)
    placed = laid(panel)
    joints = {}
    for number in range(4):
        first, second = named(placed, f"strap-row-{number}")
        assert first.x1 == second.x0
        joints[number] = first.x1
    assert joints[0] == joints[2] == pytest.approx(16 * FOOT)
    assert joints[1] == joints[3] == pytest.approx(8 * FOOT)  # 7 ft would leave more than the longest stock
    assert all(member.length <= panel.shop.longest_stock + 1e-6 for member in placed)


def test_a_pipe_that_crosses_a_row_is_left_three_millimetres_each_side() -> None:
    pipe = run((900.0, 100.0, MIDDLE), (900.0, 2000.0, MIDDLE), diameter=30.0)
    placed = laid(brief(8 * FOOT), [pipe])
    for number in (1, 2, 3):
        left, right = named(placed, f"strap-row-{number}")
        assert (left.x1, right.x0) == pytest.approx((900.0 - 18.0, 900.0 + 18.0))
    assert len(named(placed, "strap-row-0")) == 1
    assert len(named(placed, "strap-top")) == 1


def test_a_pipe_along_the_wall_cuts_upright_straps_only() -> None:
    pipe = run((-50.0, 900.0, MIDDLE), (8 * FOOT + 50.0, 900.0, MIDDLE))
    placed = laid(brief(8 * FOOT), [pipe])
    assert [len(named(placed, f"strap-row-{n}")) for n in range(4)] == [1, 1, 1, 1]
    ends = [box.y for box in named(placed, "strap-end-left")]
    assert (673.1, 887.0) in [pytest.approx(span) for span in ends]
    assert (913.0, 4 * FOOT) in [pytest.approx(span) for span in ends]


def test_a_pipe_in_the_framing_cuts_nothing_and_one_through_the_wall_does() -> None:
    inside = run((900.0, 100.0, 70.0), (900.0, 2000.0, 70.0))
    assert laid(brief(8 * FOOT), [inside]) == laid(brief(8 * FOOT))
    through = run((900.0, 2 * FOOT + 30.0, -100.0), (900.0, 2 * FOOT + 30.0, 200.0))
    assert len(named(laid(brief(8 * FOOT), [through]), "strap-row-1")) == 2


def test_a_pipe_that_leaves_the_cavity_cuts_only_as_far_as_it_goes() -> None:
    bent = run((900.0, 100.0, MIDDLE), (900.0, 1000.0, MIDDLE), (900.0, 1000.0, 70.0), (900.0, 2200.0, 70.0))
    placed = laid(brief(8 * FOOT), [bent])
    assert [len(named(placed, f"strap-row-{n}")) for n in range(4)] == [1, 2, 1, 1]


def test_a_slanting_pipe_cuts_each_row_where_it_crosses_it() -> None:
    slanting = run((500.0, 0.0, MIDDLE), (1500.0, 2000.0, MIDDLE))
    left, right = named(laid(brief(8 * FOOT), [slanting]), "strap-row-2")
    low, high = 4 * FOOT - 13.0, 4 * FOOT + WIDE + 13.0
    assert (left.x1, right.x0) == pytest.approx((500.0 + low / 2 - 13.0, 500.0 + high / 2 + 13.0))


def test_a_box_in_a_row_is_left_free() -> None:
    box = Box("B1", "device", (50.0, 75.0, 60.0), Frame((800.0, 2 * FOOT + 90.0, 10.0), (1.0, 0, 0), (0, -1.0, 0)), WHY)
    left, right = named(laid(brief(8 * FOOT), (), [box]), "strap-row-1")
    assert (left.x1, right.x0) == pytest.approx((797.0, 853.0))


def test_a_piece_shorter_than_the_shop_makes_is_left_out_and_reported() -> None:
    pipes = [run((x, 500.0, MIDDLE), (x, 800.0, MIDDLE)) for x in (580.0, 660.0)]
    panel = brief(8 * FOOT)
    placed, findings = straps(panel, frame(panel), pipes, ())
    assert len(named(placed, "strap-row-1")) == 2
    (short,) = findings
    assert (short.code, short.severity) == ("strap.short", "note")
    assert (short.value, short.limit) == pytest.approx((80.0 - 26.0, panel.shop.shortest_member))


def test_a_piece_with_no_stud_behind_it_is_left_out_and_reported() -> None:
    pipes = [run((x, 500.0, MIDDLE), (x, 800.0, MIDDLE)) for x in (700.0, 1100.0)]
    panel = brief(8 * FOOT)
    placed, findings = straps(panel, frame(panel), pipes, ())
    assert len(named(placed, "strap-row-1")) == 2
    assert [finding.code for finding in findings] == ["strap.loose"]


def test_straps_past_the_end_of_the_framing_are_fixed_on_site() -> None:
    placed = laid(brief(8 * FOOT, strap_span=(0.0, 8 * FOOT + 200.0)))
    ends = [member for member in placed if "strap-end-right" in member.id]
    assert ends
    assert all(member.loose for member in ends)
    assert not any(member.loose for member in placed if member not in ends)


def test_backing_goes_from_stud_to_stud_at_the_height_asked_for() -> None:
    panel = brief(12 * FOOT, backing=(backing(5700.0, 6500.0, 900.0),), wall_start=5000.0)
    placed = laid(panel)
    (rail,) = named(placed, "rail/strap")
    studs = panel.layout
    assert (rail.x0, rail.x1) == pytest.approx(
        (max(x for x in studs if x <= 700.0), min(x for x in studs if x >= 1500.0))
    )
    assert (rail.y0, rail.y1) == pytest.approx((900.0 - WIDE / 2, 900.0 + WIDE / 2))
    assert_apart(placed)


def test_a_row_gives_way_to_backing_at_nearly_its_height() -> None:
    panel = brief(12 * FOOT, backing=(backing(1300.0, 1700.0, 2 * FOOT + 60.0, "1x6"),))
    placed, findings = straps(panel, frame(panel), (), ())
    assert findings == ()
    (rail,) = named(placed, "rail/strap")
    left, right = named(placed, "strap-row-1")
    assert (left.x1, right.x0) == (rail.x0, rail.x1)
    assert (rail.z0, rail.z1) == pytest.approx((HIGH - 19.05, HIGH))
    assert rail.y1 - rail.y0 == pytest.approx(139.7)


def test_backing_thicker_than_the_cavity_is_reported_and_replaced() -> None:
    panel = brief(12 * FOOT, backing=(backing(1300.0, 1700.0, 900.0, "4x4"),))
    placed, findings = straps(panel, frame(panel), (), ())
    assert [(finding.code, finding.parts) for finding in findings] == [("strap.backing-thick", ("rail",))]
    assert {member.stock for member in placed} == {"2x3"}


def test_backing_in_another_panel_of_the_wall_is_not_placed_here() -> None:
    panel = brief(12 * FOOT, backing=(backing(100.0, 900.0, 900.0),), wall_start=5000.0)
    assert not named(laid(panel), "rail/strap")


def test_a_rake_is_followed_by_sloping_straps_and_rows_end_under_them() -> None:
    panel = brief(16 * FOOT, [(0.0, 6 * FOOT), (8 * FOOT, 10 * FOOT), (16 * FOOT, 6 * FOOT)])
    placed, _ = straps(panel, frame(panel), (), ())
    rakes = [member for member in placed if "strap-rake" in member.id]
    assert len(rakes) == 2
    for member in rakes:
        corners = outline(member).exterior.coords[:-1]
        tops = sorted(corners, key=lambda point: panel.top_at(point[0]) - point[1])[:2]
        for x, y in tops:
            assert y == pytest.approx(panel.top_at(x))
        assert sorted({round(x, 3) for x, _ in corners}) in (
            [0.0, round(8 * FOOT, 3)],
            [round(8 * FOOT, 3), round(16 * FOOT, 3)],
        )
    (high,) = named(placed, "strap-row-4")
    assert high.y0 == pytest.approx(8 * FOOT)
    drop = WIDE * (1 + 0.5**2) ** 0.5
    assert panel.top_at(high.x0) - drop == pytest.approx(high.y1)
    assert_apart(placed)


def test_a_pipe_through_a_rake_cuts_its_strap() -> None:
    panel = brief(8 * FOOT, [(0.0, 8 * FOOT), (8 * FOOT, 12 * FOOT)])
    through = run((900.0, 500.0, MIDDLE), (900.0, 4000.0, MIDDLE))
    below = run((900.0, 500.0, MIDDLE), (900.0, 2500.0, MIDDLE))
    assert len(named(straps(panel, frame(panel), [below], ())[0], "strap-rake")) == 1
    placed, _ = straps(panel, frame(panel), [through], ())
    pieces = [outline(member).bounds for member in placed if "strap-rake" in member.id]
    assert sorted((round(x0, 3), round(x1, 3)) for x0, _, x1, _ in pieces) == [(0.0, 887.0), (913.0, 2438.4)]


def test_a_wall_without_a_cavity_has_no_straps() -> None:
    flush = assembly().model_copy(update={"layers": assembly().layers[:3]})
    panel = brief(8 * FOOT, walls=flush)
    assert straps(panel, frame(panel), (), ()) == ((), ())


@given(sketches())
@settings(max_examples=80, deadline=None)
def test_straps_never_overlap_and_keep_within_the_panel(sketch: Sketch) -> None:
    panel = replace(sketch.brief(), tees=(tee(sketch.length - 300.0),) if not sketch.openings else ())
    framing = blocked(panel)
    pipe = run((sketch.length / 3, 300.0, MIDDLE), (sketch.length / 3, 5000.0, MIDDLE))
    placed, _ = straps(panel, framing, [pipe], ())
    assert len({member.id for member in placed}) == len(placed)
    assert_apart(placed)
    studs = [extent_of(member) for member in framing if is_upright(member)]
    for member in placed:
        assert panel.shop.shortest_member <= member.length + 1e-6
        assert member.length <= panel.shop.longest_stock + 1e-6
        shape = outline(member)
        for x, y in shape.exterior.coords:
            assert -1e-6 <= x <= panel.length + 1e-6
            assert -1e-6 <= y <= panel.top_at(x) + 1e-6
        for hole in panel.openings:
            x0, y0, x1, y1 = shape.bounds
            assert x1 <= hole.x0 + 1e-6 or x0 >= hole.x1 - 1e-6 or y1 <= hole.y0 + 1e-6 or y0 >= hole.y1 - 1e-6
        if member.frame.x == (1.0, 0.0, 0.0) and "/strap-row" in member.id:
            x0, _, x1, _ = shape.bounds
            ends = [x for x in (x0, x1) if _is_splice(x, placed, member)]
            assert all(any(stud.x0 <= x <= stud.x1 for stud in studs) for x in ends)


def _is_splice(x: float, placed: Sequence[Member], member: Member) -> bool:
    """True where another strap of the same row begins or ends at x."""
    y = member.frame.origin[1]
    return any(
        other is not member and other.frame.origin[1] == y and abs(edge - x) < 1e-6
        for other in placed
        if other.frame.x == (1.0, 0.0, 0.0)
        for edge in extent_of(other).x
    )
