from __future__ import annotations

import math
from dataclasses import replace

import pytest

from panelgen.checks.extents import part_outside, sheet_sheet
from panelgen.checks.sticks import member_member, member_shape, member_short
from panelgen.geometry.frames import Frame
from panelgen.model import EndCut, Member, Notch, Role
from tests.checks.builders import CAVITY, DEPTH, FLAT, SKIN, member, panel, plate, sheet, strap, stud
from tests.checks.looking import about, seen


def overlaps(*sticks: Member) -> list[tuple[str, ...]]:
    return about(seen(member_member, panel(sticks)))


@pytest.mark.parametrize(("gap", "clash"), [(1.0, False), (0.0, False), (-0.04, False), (-0.1, True), (-10.0, True)])
def test_studs_side_by_side(gap: float, clash: bool) -> None:
    assert overlaps(stud(100.0), stud(138.1 + gap, "b")) == ([("member.member", "stud@100", "b")] if clash else [])


def test_depth_and_place() -> None:
    (finding,) = seen(member_member, panel([stud(100.0), plate("top", 2395.3, 1000.0)]))
    assert finding.value == pytest.approx(5.0)
    assert finding.point == pytest.approx((119.05, 2397.8, DEPTH / 2))


def test_stick_inside_another() -> None:
    inner = member("inner", frame=Frame((110.0, 500.0, 50.0), *FLAT), size=(20.0, 20.0, 20.0))
    assert overlaps(stud(100.0), inner) == [("member.member", "stud@100", "inner")]


@pytest.mark.parametrize(("rise", "clash"), [(0.5, False), (0.4, True)])
def test_bevelled_studs_under_a_sloping_plate(rise: float, clash: bool) -> None:
    """Under a plate that rises 1 in 2 only a stud cut at that slope fits; its box overlaps the plate's either way."""
    slope = math.atan(0.5)
    axes = (math.cos(slope), math.sin(slope), 0.0), (0.0, 0.0, 1.0)
    # The plate's thickness runs from its frame's origin downward: its underside starts at (0, 1000).
    top = (0.0 - 38.1 * math.sin(slope), 1000.0 + 38.1 * math.cos(slope), 0.0)
    sloping = member("plate", Role.TOP_PLATE, Frame(top, *axes), (1000.0, DEPTH, 38.1))
    high = 1000.0 + 0.5 * (300.0 + 38.1)
    cut = stud(300.0, "cut", y=0.0, size=(high, DEPTH, 38.1), end=EndCut(0.0, rise))
    assert overlaps(sloping, cut) == ([("member.member", "plate", "cut")] if clash else [])


def test_let_in_strap_fills_its_notch() -> None:
    notched = stud(100.0, notches=[Notch(461.9, 525.4, 38.1)])
    let_in = member("let-in", Role.STRAP, Frame((0.0, 500.0, 0.0), *FLAT), (1000.0, 63.5, 38.1))
    assert overlaps(notched, let_in) == []
    assert overlaps(stud(100.0), let_in) == [("member.member", "stud@100", "let-in")]


@pytest.mark.parametrize(
    ("stick", "whole"),
    [
        (stud(0.0, end=EndCut(0.0, 2.0)), True),
        (member("wedge", size=(100.0, 140.0, 38.0), start=EndCut(0.5), end=EndCut(-0.5)), True),
        (stud(0.0, notches=[Notch(500.0, 600.0, 90.0)]), True),
        (stud(0.0, notches=[Notch(500.0, 600.0, DEPTH)]), False),
        (member("nothing", size=(50.0, 140.0, 38.0), start=EndCut(0.5), end=EndCut(0.5, 2.0)), False),
    ],
    ids=["bevelled", "pointed", "notched", "notched through", "nothing left"],
)
def test_sticks_are_one_piece(stick: Member, whole: bool) -> None:
    assert about(seen(member_shape, panel([stick]))) == ([] if whole else [("member.shape", stick.id)])


def test_short_sticks() -> None:
    block = stud(0.0, "block", size=(76.0, DEPTH, 38.1))
    (finding,) = seen(member_short, panel([block, stud(100.0)]), 76.2)
    assert (finding.parts, finding.value, finding.limit) == (("block",), 76.0, 76.2)


@pytest.mark.parametrize(
    ("part", "place"),
    [
        (stud(0.0), None),
        (stud(3961.9), None),
        (stud(3962.0), "the panel at its right end"),
        (stud(0.0, y=76.3), "the panel at its top"),
        (stud(0.0, y=-1.0), "the panel at its bottom"),
        (stud(0.0, size=(2000.0, 140.0, 38.1)), "the framing on the weather side"),
        (plate("cap", 2400.3, 4500.0, role=Role.CAP_PLATE), None),
        (plate("top", 2400.3, 4500.0, role=Role.TOP_PLATE), "the panel at its right end"),
        (strap("row", 500.0, 4100.0, -50.0), None),
        (strap("row", 500.0, 4700.0), "the panel at its right end"),
    ],
)
def test_sticks_keep_to_their_layer_and_the_outline(part: Member, place: str | None) -> None:
    findings = seen(part_outside, panel([part]))
    assert [finding.words.partition("sticks out of ")[2].partition(":")[0] for finding in findings] == (
        [] if place is None else [place]
    )


def test_sheets_keep_to_their_layer_and_the_outline() -> None:
    inner = sheet("inner", 0.0, 0.0, 1219.2, 2438.4)
    high = sheet("high", 0.0, 10.0, 1219.2, 2438.4)
    lap = sheet("lap", -150.0, 0.0, 1219.2, 2438.4, layer="outer sheathing")
    deep = sheet("deep", 0.0, 0.0, 1219.2, 2438.4, layer="outer sheathing")
    sunk = replace(deep, frame=Frame((0.0, 0.0, DEPTH - 1.0), *FLAT))
    found = seen(part_outside, panel((), sheets=(inner, high, lap, sunk)))
    assert about(found) == [("part.outside", "high"), ("part.outside", "deep")]
    assert [finding.value for finding in found] == pytest.approx([10.0, 1.0])


def test_rake_bounds_sheets_by_their_corners() -> None:
    gable = {"profile": ((0.0, 0.0), (4000.0, 0.0), (4000.0, 1000.0), (0.0, 3000.0)), "height": 3000.0}
    plain = sheet("s", 0.0, 0.0, 1000.0, 2400.0)
    cut = replace(plain, outline=((0.0, 0.0), (1000.0, 0.0), (1000.0, 2500.0), (0.0, 3000.0)))
    too_high = replace(plain, outline=((0.0, 0.0), (1000.0, 0.0), (1000.0, 2501.0), (0.0, 3000.0)))
    assert seen(part_outside, panel((), sheets=(cut,), **gable)) == []
    assert about(seen(part_outside, panel((), sheets=(too_high,), **gable))) == [("part.outside", "s")]


@pytest.mark.parametrize(("x", "clash"), [(1222.4, False), (1219.2, False), (1219.1, True)])
def test_sheets_of_a_layer(x: float, clash: bool) -> None:
    left, right = sheet("left", 0.0, 0.0, 1219.2, 2438.4), sheet("right", x, 0.0, 1219.2, 2438.4)
    assert about(seen(sheet_sheet, panel((), sheets=(left, right)))) == (
        [("sheet.sheet", "left", "right")] if clash else []
    )


def test_sheet_in_the_cut_out_of_another_and_sheets_of_two_layers() -> None:
    window = ((100.0, 100.0), (600.0, 100.0), (600.0, 900.0), (100.0, 900.0))
    frame = sheet("frame", 0.0, 0.0, 1219.2, 2438.4, cutouts=[window])
    assert seen(sheet_sheet, panel((), sheets=(frame, sheet("infill", 100.0, 100.0, 500.0, 800.0)))) == []
    other = sheet("other", 0.0, 0.0, 1219.2, 2438.4, layer="outer sheathing")
    assert seen(sheet_sheet, panel((), sheets=(frame, other))) == []


def test_strapping_lies_in_its_layer() -> None:
    low = member(
        "low", Role.STRAP, Frame((0.0, 0.0, -SKIN - CAVITY - 2.0), *FLAT), (500.0, 63.5, CAVITY), layer="strapping"
    )
    (finding,) = seen(part_outside, panel([low]))
    assert "the strapping on the room side" in finding.words
