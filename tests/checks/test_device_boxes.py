from __future__ import annotations

import pytest

from panelgen.checks.device_boxes import device_boxes
from panelgen.geometry.frames import Frame
from panelgen.model import Box
from tests.checks.builders import CAVITY, SKIN, WHY, box, opening, panel, run, sheet, strap, stud
from tests.checks.looking import about, seen

FRONT = -SKIN - CAVITY
INNER = sheet("inner", 0.0, 0.0, 1219.2, 2438.4)


def outlet(depth: float = CAVITY, x: float = 500.0) -> Box:
    """A box 50 wide and 76 high at (x, 400), its front flush with the straps."""
    return box("B1", x, 400.0, FRONT + depth, (50.0, 76.0, depth))


def found(*boxes: Box, **more: object) -> list[tuple[str, ...]]:
    members = more.pop("members", ())
    return about(seen(device_boxes, panel(members, boxes=boxes, **more)))


@pytest.mark.parametrize(("depth", "cuts"), [(CAVITY, False), (CAVITY + 0.1, True), (63.5, True)])
def test_box_deeper_than_the_cavity_cuts_the_barrier(depth: float, cuts: bool) -> None:
    assert found(outlet(depth), sheets=(INNER,)) == ([("box.sheet", "B1", "inner")] if cuts else [])


def test_box_in_a_cut_out_does_not() -> None:
    window = ((490.0, 310.0), (560.0, 310.0), (560.0, 410.0), (490.0, 410.0))
    assert found(outlet(63.5), sheets=(sheet("inner", 0.0, 0.0, 1219.2, 2438.4, cutouts=[window]),)) == []


@pytest.mark.parametrize(("y", "meets"), [(400.0, False), (399.9, True)])
def test_box_and_strap(y: float, meets: bool) -> None:
    members = (strap("row", y, 2000.0),)
    assert found(outlet(), members=members) == ([("box.member", "B1", "row")] if meets else [])


def test_deep_box_beside_a_stud() -> None:
    assert found(outlet(63.5, x=538.1), members=(stud(500.0),)) == []
    assert found(outlet(63.5, x=538.0), members=(stud(500.0),)) == [("box.member", "B1", "stud@500")]


def test_box_in_an_opening() -> None:
    assert found(outlet(), openings=(opening("W1", 300.0, 900.0, 100.0, 1000.0),)) == [("box.opening", "B1", "W1")]


def test_two_boxes() -> None:
    other = Box("B2", "device", (50.0, 76.0, CAVITY), Frame((549.0, 400.0, FRONT + CAVITY), *_AXES), WHY)
    assert found(outlet(), other) == [("box.box", "B1", "B2")]
    clear = Box("B2", "device", (50.0, 76.0, CAVITY), Frame((550.0, 400.0, FRONT + CAVITY), *_AXES), WHY)
    assert found(outlet(), clear) == []


_AXES = ((1.0, 0.0, 0.0), (0.0, -1.0, 0.0))


@pytest.mark.parametrize(
    ("path", "meets"),
    [
        (((0.0, 360.0, -30.0), (500.0, 360.0, -30.0)), False),
        (((0.0, 360.0, -30.0), (525.0, 360.0, -30.0)), False),
        (((0.0, 360.0, -30.0), (2000.0, 360.0, -30.0)), True),
        (((0.0, 411.1, -30.0), (2000.0, 411.1, -30.0)), False),
    ],
    ids=["ends at its side", "ends in it", "passes through", "passes above"],
)
def test_runs_end_at_boxes_and_never_pass_through(path: tuple[tuple[float, ...], ...], meets: bool) -> None:
    assert found(outlet(), runs=(run(*path),)) == ([("box.run", "run", "B1")] if meets else [])
