"""Rafters, jacks, hips, valleys and their cuts against the rafter table and a carpenter's arithmetic."""

from __future__ import annotations

import math
import re
from itertools import pairwise

import pytest

from panelgen.model import Member, Panel, Role
from tests.design.roofs.houses import BOX, ELL, TEE, panels_of

INCH = 25.4
GABLES = "edges: [{edge: w1, kind: gable}, {edge: w3, kind: gable}]"


def sticks(panels: list[Panel], pattern: str) -> list[Member]:
    return [m for panel in panels for m in panel.members if re.fullmatch(pattern, m.id)]


@pytest.mark.parametrize(
    ("rise", "angle"),
    # STANDARDS 8.1, plumb angle, computed from the slope
    [(3, 14.04), (4, 18.43), (6, 26.57), (8, 33.69), (9, 36.87), (12, 45.00)],
)
def test_a_common_rafter_has_plumb_cuts_and_a_level_seat(rise: float, angle: float) -> None:
    rafter = sticks(panels_of(BOX, f"rise: {rise} in, {GABLES}"), "R-w0/rafter-5")[0]
    assert rafter.start.miter_degrees == pytest.approx(angle, abs=0.005)
    assert rafter.end.miter_degrees == pytest.approx(angle, abs=0.005)
    (notch,) = rafter.notches
    assert notch.apex is not None
    heel = math.atan2(notch.apex - notch.x0, notch.depth)
    seat = math.atan2(notch.depth, notch.x1 - notch.apex)
    assert math.degrees(heel) == pytest.approx(angle, abs=0.005)
    assert math.degrees(seat) == pytest.approx(angle, abs=0.005)
    assert notch.depth <= rafter.width / 4 + 1e-6  # IRC R502.8 end notches, as for joists


def test_the_army_engineers_rafter() -> None:
    """US Army Engineer carpentry text: span 20 ft 8 in, 13 in rise a foot: 182.8 in from plate to ridge centre.

    Its walls are bare; the heel of ours is cut at the outside of their 7/16 in. sheathing.
    """
    span = (20 * 12 + 8) * INCH
    ring = [(0, 0), (10000, 0), (10000, span), (0, span)]
    rafter = sticks(panels_of(ring, f"rise: 13 in, {GABLES}"), "R-w0/rafter-5")[0]
    to_board = rafter.end_x(rafter.end, True, 0.0, 0.0) - rafter.notches[0].x0
    to_centre = to_board + rafter.thickness * math.hypot(1.0, 13 / 12)
    over_sheathing = 7 / 16 * math.hypot(1.0, 13 / 12)
    assert to_centre / INCH - over_sheathing == pytest.approx(182.815, abs=5e-4)


JACKS = [
    # rise in 12, difference of neighbouring jacks at 16 and at 24 in (STANDARDS 8.1)
    (3, 16.492, 24.739),
    (4, 16.865, 25.298),
    (5, 17.333, 26.000),
    (6, 17.889, 26.833),
    (7, 18.523, 27.785),
    (8, 19.230, 28.844),
    (9, 20.000, 30.000),
    (10, 20.827, 31.241),
    (11, 21.705, 32.558),
    (12, 22.627, 33.941),
]


@pytest.mark.parametrize(("rise", "at_16", "at_24"), JACKS)
def test_jacks_differ_by_the_figures_of_the_rafter_table(rise: float, at_16: float, at_24: float) -> None:
    for spacing, step in ((16, at_16), (24, at_24)):
        panels = panels_of(BOX, f"rise: {rise} in, no_joints: [{{edge: w0, start: 300, end: 2000}}]", f"{spacing} in")
        jacks = {m.id: m for m in sticks(panels, r"R-w0/rafter-[1-3]")}
        lengths = [jacks[f"R-w0/rafter-{n}"].centre_length for n in range(1, 4)]
        steps = [(b - a) / INCH for a, b in pairwise(lengths)]
        assert steps == pytest.approx([step] * 2, abs=6e-4)
        # A jack on a hip over a square corner has a cheek cut that falls by the secant of the slope.
        assert abs(jacks["R-w0/rafter-2"].end.across_thickness) == pytest.approx(math.hypot(1.0, rise / 12))


@pytest.mark.parametrize(("rise", "figure"), [(4, 17.436), (6, 18.000), (8, 18.762), (12, 20.785)])
def test_hips_and_valleys_rise_as_on_the_steel_square(rise: float, figure: float) -> None:
    """17 in and a little along for 12 in of common run: the length of the board over its own run in the plane."""
    boards = sticks(panels_of(ELL, f"rise: {rise} in"), r"R-w\d/(hip|valley)@.*")
    assert {board.role for board in boards} == {Role.HIP, Role.VALLEY}
    for board in boards:
        across = abs(board.frame.x[0])  # common run along the plate for each mm of board
        assert 12.0 / across == pytest.approx(figure, abs=6e-4)


def test_boards_are_dropped_and_never_leave_the_slab() -> None:
    for panel in panels_of(TEE, "rise: 7 in"):
        for member in panel.members:
            z = member.corners()[:, 2]
            assert z.min() > -1e-6
            assert z.max() < panel.framing.thickness + 1e-6


def test_each_plane_of_a_ridge_has_its_own_board_in_one_plumb_plane() -> None:
    panels = panels_of(BOX, "rise: 6 in")
    faces = []
    for panel in panels:
        for member in panel.members:
            if member.role is Role.RIDGE:
                corners = panel.frame.to_parent(member.corners())
                faces.append((panel.wall, corners[:, 1].min(), corners[:, 1].max()))
    assert {(wall, round(high, 6)) for wall, _, high in faces if wall == "R-w0"} == {("R-w0", 3000.0)}
    assert {(wall, round(low, 6)) for wall, low, _ in faces if wall == "R-w2"} == {("R-w2", 3000.0)}


def test_seats_lie_on_the_plate_and_heels_in_the_wall_face() -> None:
    panels = panels_of(ELL, "rise: 6 in")
    for panel in panels:
        for member in panel.members:
            if member.role is Role.RAFTER and member.notches and "/rafter-" in member.id:
                notch = member.notches[0]
                heel = panel.frame.point(*member.frame.point(notch.apex, notch.depth, 0.0))
                toe = panel.frame.point(*member.frame.point(notch.x1, 0.0, 0.0))
                assert heel[2] == pytest.approx(2500.0, abs=1e-6)
                assert toe[2] == pytest.approx(2500.0, abs=1e-6)


def test_blocking_stands_on_the_plate_over_the_wall_face() -> None:
    panels = panels_of(BOX, f"rise: 6 in, {GABLES}")
    blocks = [(p, m) for p in panels for m in p.members if m.role is Role.BLOCKING]
    assert len(blocks) > 20
    for panel, block in blocks:
        corners = panel.frame.to_parent(block.corners())
        assert corners[:, 2].min() == pytest.approx(2500.0)
        outer = corners[:, 1].min() if panel.wall == "R-w0" else 6000.0 - corners[:, 1].max()
        assert outer == pytest.approx(0.0, abs=1e-6)


def test_unequal_slopes_meet_at_the_tops_of_the_rafters() -> None:
    """A saltbox: both slopes are as high over their plates, and the steeper one overhangs less."""
    panels = panels_of(
        BOX, "rise: 6 in, edges: [{edge: w1, kind: gable}, {edge: w2, rise: 9 in}, {edge: w3, kind: gable}]"
    )
    tops = set()
    fascias = set()
    for panel in panels:
        for member in panel.members:
            if member.role is Role.RIDGE:
                tops.add(round(panel.frame.to_parent(member.corners())[:, 2].max(), 3))
            if member.role is Role.FASCIA:
                fascias.add(round(panel.frame.to_parent(member.corners())[:, 2].max(), 3))
    ridge = 2500.0 + 6000.0 / (12 / 6 + 12 / 9)
    assert max(tops) - min(tops) < 25.0  # boards are dropped by half a thickness times the slope
    assert max(tops) < ridge + 300.0
    assert len(fascias) == 1
