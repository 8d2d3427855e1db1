"""Solids of sticks, sheets and tubes: valid, of the right volume, and the same shape for equal parts."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings

from panelgen.errors import GeometryError
from panelgen.geometry.lofts import Body
from panelgen.geometry.mitres import tubes_along
from panelgen.model import Bore, EndCut, Member, Notch, RoundHole, Sheet
from panelgen.model.bodies import member_body, sheet_body
from panelgen.model.volumes import member_volume, sheet_volume
from panelgen.solids import all_valid, volume_of
from panelgen.solids.cuts import body_solids
from panelgen.solids.tubes import tube_solid
from tests.factories import WIDE, board, rectangle, stick
from tests.solids.oracle import volume_of_member
from tests.strategies import bored_sticks, plain_sticks

LEAN = (0.3, 0.0, math.sqrt(1 - 0.09))
LEVEL = (0.0, 1.0, 0.0)
SIZE = 700.0 * 139.7 * 38.1

WITHOUT_A_BOOLEAN = {
    "plain": stick(),
    "bored": stick(bores=(Bore((300.0, 70.0, 0.0), 50.0), Bore((1200.0, 70.0, 0.0), 32.0))),
    "mitred and bored": stick(end=EndCut(0.7, 0.0), bores=(Bore((300.0, 70.0, 0.0), 50.0),)),
    "bevelled": stick(start=EndCut(0.3, -0.2), end=EndCut(0.0, 0.5)),
    "bevelled and bored": stick(end=EndCut(0.0, 0.5), bores=(Bore((300.0, 70.0, 0.0), 50.0),)),
    "bevelled and notched": stick(end=EndCut(0.1, 0.5), notches=(Notch(500.0, 540.0, 30.0), Notch(-3.0, 50.0, 20.0))),
    "bored at a slope": stick(bores=(Bore((300.0, 70.0, 0.0), 50.0, LEAN),)),
    "notched": stick(notches=(Notch(500.0, 540.0, 30.0), Notch(2400.0, 2500.0, 20.0, from_far_edge=True))),
    "notched in two": stick(notches=(Notch(500.0, 540.0, 200.0),)),
    "pointed": stick(length=60.0, start=EndCut(0.4, 0.0), end=EndCut(-0.4, 0.0)),
    "bored beside the stick": stick(bores=(Bore((300.0, -25.0, 0.0), 50.0),)),
}
WITH_A_BOOLEAN = {
    "bore over an edge": stick(bores=(Bore((300.0, 10.0, 0.0), 50.0),)),
    "bore along an edge": stick(bores=(Bore((300.0, 25.0, 0.0), 50.0),)),
    "bore in a bevel": stick(end=EndCut(0.0, 1.0), bores=(Bore((2420.0, 70.0, 0.0), 50.0),)),
    "bores that overlap": stick(bores=(Bore((300.0, 70.0, 0.0), 50.0), Bore((330.0, 70.0, 0.0), 50.0))),
    "bores that touch": stick(bores=(Bore((300.0, 70.0, 0.0), 50.0), Bore((350.0, 70.0, 0.0), 50.0))),
    "bores that cross": stick(bores=(Bore((300.0, 70.0, 19.0), 20.0, LEVEL), Bore((300.0, 70.0, 0.0), 32.0))),
    "bore within a bore": stick(bores=(Bore((300.0, 70.0, 0.0), 50.0), Bore((300.0, 70.0, 0.0), 40.0))),
    "bore through the narrow face": stick(bores=(Bore((300.0, 70.0, 19.0), 20.0, LEVEL),)),
    "bore along the grain": stick(bores=(Bore((0.0, 70.0, 20.0), 20.0, (1.0, 0.0, 0.0)),)),
    "bore wider than the stick": stick(bores=(Bore((300.0, 70.0, 0.0), 180.0),)),
    "bore at a slope in a notch": stick(
        notches=(Notch(500.0, 540.0, 30.0),), bores=(Bore((520.0, 30.0, 0.0), 25.0, LEAN),)
    ),
    "notch in a bevel": stick(end=EndCut(0.0, 0.5), notches=(Notch(2425.0, 2500.0, 30.0),)),
    "pointed across the thickness": stick(length=20.0, start=EndCut(0.0, -0.2), end=EndCut(0.0, 0.8)),
}


def proven(body: Body, volume: float, close: float = 1e-6) -> list[object]:
    """The solids of a body, valid and together of the volume."""
    solids = body_solids(body, volume)
    assert all_valid(solids)
    assert sum(map(volume_of, solids)) == pytest.approx(volume, rel=close)
    return solids


@pytest.mark.parametrize("member", WITHOUT_A_BOOLEAN.values(), ids=WITHOUT_A_BOOLEAN)
def test_common_sticks_need_no_boolean(member: Member) -> None:
    body = member_body(member)
    assert body.is_plain
    proven(body, member_volume(member))


@pytest.mark.parametrize("member", WITH_A_BOOLEAN.values(), ids=WITH_A_BOOLEAN)
def test_awkward_sticks_are_cut_and_proven(member: Member) -> None:
    body = member_body(member)
    assert not body.is_plain
    proven(body, member_volume(member))


def test_a_parted_stick_is_two_solids() -> None:
    for name, member in (WITHOUT_A_BOOLEAN | WITH_A_BOOLEAN).items():
        pieces = 2 if name in {"notched in two", "bore wider than the stick"} else 1
        assert len(body_solids(member_body(member), member_volume(member))) == pieces, name


def test_a_stick_drilled_away_is_refused() -> None:
    gone = stick(length=50.0, width=40.0, bores=(Bore((25.0, 20.0, 0.0), 200.0),))
    with pytest.raises(GeometryError, match="leave nothing"):
        body_solids(member_body(gone), member_volume(gone))


@pytest.mark.parametrize(
    "sheet",
    [
        board(),
        board(cutouts=(rectangle(300.0, 900.0, 500.0, 1500.0),), round_holes=(RoundHole(200.0, 200.0, 110.0, "a"),)),
        board(cutouts=(rectangle(600.0, 1219.2, 500.0, 1500.0),)),
        board(cutouts=(rectangle(-5.0, 1300.0, 500.0, 1500.0),)),
        board(outline=((0.0, 0.0), (1200.0, 0.0), (1200.0, 900.0), (0.0, 300.0))),
        board(round_holes=(RoundHole(0.0, 200.0, 110.0, "a"), RoundHole(40.0, 230.0, 90.0, "b"))),
    ],
    ids=["whole", "window and sleeve", "cut to the edge", "parted", "raked", "holes over an edge"],
)
def test_sheets(sheet: Sheet) -> None:
    proven(sheet_body(sheet), sheet_volume(sheet))


@given(plain_sticks())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_random_cut_and_notched_sticks_agree_with_cadquery(member: Member) -> None:
    agree_with_cadquery(member)


@given(bored_sticks())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_random_bored_sticks_agree_with_cadquery(member: Member) -> None:
    agree_with_cadquery(member)


def agree_with_cadquery(member: Member) -> None:
    """Volume, validity and solid of a member, or its refusal where nothing is left of it."""
    expected = volume_of_member(member)
    if expected < 1.0:
        with pytest.raises(GeometryError):
            body_solids(member_body(member), member_volume(member))
        return
    assert member_volume(member) == pytest.approx(expected, abs=1e-9 * SIZE)
    proven(member_body(member), member_volume(member))


@given(bored_sticks(leaning=True))
@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_random_leaning_bores_are_cut(member: Member) -> None:
    """The kernel draws where skew bores cross as close as it can: there a ten-thousandth is allowed."""
    volume = member_volume(member)
    if volume > 1.0:
        proven(member_body(member), volume, close=1e-4)


def test_equal_members_have_one_body() -> None:
    axis = (0.0, 0.0, -1.0)
    one = stick(id="a", mark="1W01-01", bores=(Bore((300.0, 70.0, 5.0), 50.0, run="x"),))
    other = stick(id="b", length=2438.4 + 1e-9, bores=(Bore((300.0, 70.0 - 1e-10, 90.0), 50.0, axis, run="y"),))
    assert member_body(one) is member_body(other)
    assert member_body(one) is not member_body(stick(width=WIDE - 0.001, bores=one.bores))


STRAIGHT = ((0.0, 0.0, 0.0), (0.0, 0.0, 600.0))
BENT = ((0.0, 0.0, 0.0), (0.0, 0.0, 500.0), (0.0, 300.0, 700.0), (400.0, 300.0, 700.0))
REVERSING = ((0.0, 0.0, 0.0), (500.0, 0.0, 0.0), (100.0, 20.0, 0.0))
CRAMPED = ((0.0, 0.0, 0.0), (0.0, 0.0, 500.0), (0.0, 15.0, 500.0), (0.0, 15.0, 900.0))


@pytest.mark.parametrize(
    ("path", "tubes"),
    [(STRAIGHT, 1), (BENT, 1), (REVERSING, 2), (CRAMPED, 3)],
    ids=["straight", "bent", "back", "cramped"],
)
def test_tubes_are_valid_and_as_long_as_their_path(path: tuple[tuple[float, float, float], ...], tubes: int) -> None:
    made = tubes_along(path, 25.0)
    solids = [tube_solid(tube) for tube in made]
    length = sum(math.dist(a, b) for a, b in pairwise(path))
    assert len(made) == tubes
    assert all_valid(solids)
    assert sum(map(volume_of, solids)) == pytest.approx(math.pi * 25.0**2 * length, rel=5e-8)
