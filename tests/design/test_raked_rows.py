"""Backing that rises with a stair: its stringer's and its handrail's, as straps and as blocking. Common practice."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.checks import check_house
from panelgen.design.framing.raked import Row
from panelgen.design.house import design
from panelgen.errors import SpecError
from panelgen.model import House, Member, Role
from panelgen.spec.loader import loads
from tests.checks.looking import CATALOG
from tests.design.houses import one_wall
from tests.design.test_trades import SPEC, backing, gaps, middles

INCH = 25.4
STAIR: dict[str, Any] = {"id": "T1", "wall": "N1", "hang": "stair", "start": "3 ft", "end": "11 ft"}
STAIR |= {"height": "12 in", "end_height": "84 in"}
BARE = ("bare", {"exterior": False, "bearing": False})
SLOPE = 72.0 / 96.0


def stair(*walls: Any, openings: list[dict[str, Any]] | None = None, **trade: Any) -> House:
    return design(one_wall("16 ft", openings, *walls, trades=[STAIR | trade], shop={"line_length": "16 ft"}))


def reach(members: list[Member]) -> tuple[float, float]:
    xs = np.concatenate([member.corners()[:, 0] for member in members])
    return float(xs.min()), float(xs.max())


def off_line(member: Member) -> float:
    """How far the middle of a board is from the line of the stair, mm plumb."""
    x, y, _ = member.frame.point(member.length / 2, member.width / 2, 0.0)
    return abs(y - (12 * INCH + SLOPE * (x - 36 * INCH)))


def test_blocking_follows_the_stringer_between_the_studs() -> None:
    house = stair(*BARE)
    boards = backing(house, "blocking")
    assert len(boards) >= 4
    assert {member.stock for member in boards} == {"2x8"}
    for board in boards:
        assert off_line(board) == pytest.approx(0.0, abs=1e-6)
        assert board.frame.x[1] / board.frame.x[0] == pytest.approx(SLOPE)
        assert board.start.across_width == board.end.across_width == pytest.approx(SLOPE)
    low, high = reach(boards)
    assert low <= 36 * INCH
    assert high >= 132 * INCH
    assert gaps(house) == []


def test_its_ends_are_plumb_on_the_studs() -> None:
    house = stair(*BARE, height="30 in", end_height="70 in")
    (panel,) = house.panels
    edges = {round(float(x), 3) for m in panel.members if m.role is Role.STUD for x in m.corners()[:, 0]}
    for board in backing(house, "blocking"):
        assert {round(float(x), 3) for x in board.corners()[:, 0]} <= edges


def test_straps_follow_it_too_and_the_rows_stop_at_them() -> None:
    house = stair()
    straps = [member for member in backing(house, "strap") if member.role is Role.STRAP]
    assert straps
    assert all(off_line(member) == pytest.approx(0.0, abs=1e-6) for member in straps)
    assert backing(house, "blocking")
    assert gaps(house) == []
    assert [one for one in check_house(house, CATALOG) if one.severity == "stop"] == []


@pytest.mark.parametrize("walls", [(), BARE], ids=["strapped", "bare"])
@pytest.mark.parametrize("ends", [("12 in", "84 in"), ("84 in", "12 in"), ("30 in", "31 in")])
def test_nothing_overlaps_and_every_board_is_nailed(walls: Any, ends: tuple[str, str]) -> None:
    house = stair(*walls, height=ends[0], end_height=ends[1])
    assert [one.words for one in check_house(house, CATALOG) if one.severity == "stop"] == []
    (panel,) = house.panels
    for board in backing(house, "strap" if not walls else "blocking"):
        index = next(n for n, member in enumerate(panel.members) if member.id == board.id)
        nails = [one for one in panel.fasteners if not one.fastens_sheets]
        assert sum(int(((one.fastened == index) | (one.into == index)).sum()) for one in nails) >= 2, board.id


def test_a_rail_along_a_stair() -> None:
    house = stair(*BARE, hang="handrail", height="40 in", end_height="90 in")
    assert {member.stock for member in backing(house, "blocking")} == {"2x6"}


def test_a_landing_is_level() -> None:
    house = design(one_wall("16 ft", None, *BARE, trades=[{k: v for k, v in STAIR.items() if k != "end_height"}]))
    assert middles(backing(house, "blocking")) == [12.0]


def test_a_window_in_the_way_is_reported() -> None:
    window = {"id": "W1", "type": "window-30x48", "center": "7 ft", "sill": "24 in"}
    words = gaps(stair(openings=[window]))
    assert any("along its slope" in one for one in words)
    assert any("opening is in the way" in one for one in gaps(stair(*BARE, openings=[window])))


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("{id: T, wall: A, hang: stair, start: 1 ft, end: 4 ft}", "needs the height of its stringer"),
        ("{id: T, wall: A, hang: stair, height: 1 ft, end_height: 3 ft}", "needs both its ends"),
        ("{id: T, wall: A, hang: grab bar, start: 1 ft, end: 4 ft, height: 1 ft, end_height: 3 ft}", "is level"),
        ("{id: T, wall: A, hang: stair, start: 1 ft, end: 4 ft, height: 1 ft, end_height: 9 ft}", "above or below"),
    ],
)
def test_stairs_that_cannot_be(row: str, words: str) -> None:
    with pytest.raises(SpecError, match=words):
        loads(f"{SPEC}  - {row}\n")


heights = st.floats(-500.0, 3000.0)


@settings(max_examples=200, deadline=None)
@given(heights, heights, st.floats(40.0, 300.0), heights, st.floats(1.0, 900.0), st.floats(0.0, 1900.0))
def test_where_a_row_takes_up_a_band(
    first: float, last: float, width: float, low: float, deep: float, x: float
) -> None:
    """Against the definition, at any place along it."""
    row = Row((0.0, first), (2000.0, last), width)
    band, across = (low, low + deep), (0.0, 2000.0)
    start, end = row.stretch(band, across)
    plumb = width / 2 * math.hypot(1.0, (last - first) / 2000.0)
    middle = first + (last - first) * x / 2000.0
    overlap = min(middle + plumb, band[1]) - max(middle - plumb, band[0])
    if abs(overlap) > 1e-3:
        assert (start <= x <= end) == (overlap > 0.0)
    for a, b in pairwise((0.0, x, 2000.0)):
        assert row.heights((a, b))[0] <= row.middle(a) - plumb + 1e-6
