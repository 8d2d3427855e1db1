"""What plain cutting leaves over, against sums made by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.model import Panel
from panelgen.plans import offcuts
from tests.factories import board, wall_panel

RACK = 4876.8


def with_sticks(*lengths: float) -> Panel:
    """A panel of nothing but studs of these lengths."""
    panel = wall_panel()
    stud = next(member for member in panel.members if member.role == "stud")
    members = tuple(replace(stud, id=f"s{n}", length=length) for n, length in enumerate(lengths))
    return replace(panel, members=members, sheets=(), fasteners=())


def test_two_halves_take_one_stick_and_leave_nothing() -> None:
    (left,) = offcuts([with_sticks(RACK / 2, RACK / 2)], RACK)
    assert (left.kind, left.size, left.pieces) == ("stick", (RACK,), 1)
    assert left.share == pytest.approx(0.0)


def test_longest_first_then_where_it_fits() -> None:
    (left,) = offcuts([with_sticks(1000.0, 3000.0, 2000.0, 1800.0)], RACK)
    assert left.pieces == 2
    assert left.share == pytest.approx(1 - 7800.0 / (2 * RACK))


def test_what_is_longer_than_the_rack_is_left_out() -> None:
    assert offcuts([with_sticks(RACK + 1.0)], RACK) == ()


@given(st.lists(st.floats(100.0, RACK), min_size=1, max_size=40))
def test_all_parts_fit_into_what_is_taken(lengths: list[float]) -> None:
    (left,) = offcuts([with_sticks(*lengths)], RACK)
    assert left.pieces * RACK * (1 - left.share) == pytest.approx(sum(lengths))
    assert sum(lengths) / RACK - 1e-9 <= left.pieces <= len(lengths)


def test_a_sheet_with_a_hole_leaves_the_hole() -> None:
    whole = replace(wall_panel(), members=(), fasteners=())
    sheet = board()
    width, height = sheet.stock_size
    outline = ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    hole = ((100.0, 100.0), (100.0, 600.0), (700.0, 600.0), (700.0, 100.0))
    (left,) = offcuts(
        [replace(whole, sheets=(replace(sheet, outline=outline, cutouts=(hole,), round_holes=()),))], RACK
    )
    assert (left.kind, left.size, left.pieces) == ("sheet", (width, height), 1)
    assert left.share == pytest.approx(500.0 * 600.0 / (width * height))


def test_sheets_that_lie_are_cut_as_those_that_stand() -> None:
    """A roof names its stock as it lies across the rafters, a wall as it stands."""
    whole = replace(wall_panel(), members=(), fasteners=())
    sheet = replace(board(), cutouts=(), round_holes=())
    narrow, long = sorted(sheet.stock_size)
    shares = []
    for width, height in ((narrow, long), (long, narrow)):
        outline = ((0.0, 0.0), (0.9 * width, 0.0), (0.9 * width, 0.9 * height), (0.0, 0.9 * height))
        pieces = tuple(replace(sheet, id=f"s{n}", stock_size=(width, height), outline=outline) for n in range(3))
        (left,) = offcuts([replace(whole, sheets=pieces)], RACK)
        assert (left.size, left.pieces) == ((narrow, long), 3)
        shares.append(left.share)
    assert shares == pytest.approx([1 - 0.9 * 0.9] * 2)
