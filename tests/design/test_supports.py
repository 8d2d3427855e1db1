"""Supports: nowhere farther apart than the rule set allows, and no more than that takes."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.design.services.holes import Holes
from panelgen.design.services.supports import supports
from panelgen.design.unfinished import Unfinished
from panelgen.geometry.frames import Frame
from panelgen.model import Bore, Box, HardwareKind, Member, RunPart, Why
from tests.design.builders import brief
from tests.factories import OUTWARD, UP, stick

FOOT = 304.8
PANEL = brief(40 * FOOT)
RULES = Catalog.default().rules("irc-2021")
WHY = Why("run.test", "", "")
LOW = (0.0, 500.0, 70.0)


def run(*path: tuple[float, float, float], product: str = "pex-1/2", **fields: Any) -> RunPart:
    return RunPart("R.1", "R", "cold water", product, 15.9, path, WHY, **fields)


def bored_stud(x: float) -> Member:
    hole = Bore((500.0, 70.0, 0.0), 19.0, run="A+R")
    return stick(id=f"s{x}", frame=Frame((x - 19.05, 0.0, 0.0), UP, OUTWARD), bores=(hole,))


def places(part: RunPart, members: tuple[Member, ...] = (), boxes: tuple[Box, ...] = ()) -> list[float]:
    panel = Unfinished(PANEL, members, (part,), boxes)
    (made,) = supports([panel], Holes.of([members]), RULES)
    assert all(one.kind is HardwareKind.SUPPORT and one.count == 1 and one.parts == ("R.1",) for one in made)
    assert len({one.id for one in made}) == len(made)
    return [math.dist(one.point, part.path[0]) for one in made]


def box(x: float) -> Box:
    """A 50 mm box whose right side is at x, around the run's height."""
    frame = Frame((x - 50.0, 550.0, 90.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0))
    return Box("B", "box", (50.0, 100.0, 50.0), frame, WHY)


def test_level_pipe_is_held_every_32_in() -> None:
    """IRC 2018 Table P2605.1: PEX to 1 in., 32 in. level and 10 ft upright. 8 ft takes three, each for 32 in."""
    assert places(run(LOW, (8 * FOOT, 500.0, 70.0))) == pytest.approx([16 * 25.4, 48 * 25.4, 80 * 25.4])


def test_upright_pipe_is_held_every_10_ft() -> None:
    assert places(run((0.0, 0.0, 70.0), (0.0, 10 * FOOT, 70.0))) == pytest.approx([5 * FOOT])
    assert len(places(run((0.0, 0.0, 70.0), (0.0, 10.1 * FOOT, 70.0)))) == 2


def test_holes_hold_a_run() -> None:
    """Studs at 24 in. hold PEX that may span 32 in., and cable that may span 4-1/2 ft (NEC 334.30)."""
    studs = tuple(bored_stud(24 * 25.4 * number) for number in range(1, 4))
    assert places(run(LOW, (8 * FOOT, 500.0, 70.0)), studs) == []
    assert places(run(LOW, (8 * FOOT, 500.0, 70.0), product="nm-12/2"), studs) == []


def test_supports_stand_between_holes_that_are_too_far_apart() -> None:
    studs = (bored_stud(24 * 25.4), bored_stud(84 * 25.4))
    assert places(run(LOW, (8 * FOOT, 500.0, 70.0)), studs) == pytest.approx([54 * 25.4])


def test_cable_is_held_within_12_in_of_its_box() -> None:
    """NEC 334.30: 12 in. from a box, then 4-1/2 ft."""
    cable = run(LOW, (5 * FOOT, 500.0, 70.0), product="nm-12/2")
    assert places(cable, boxes=(box(0.0),)) == pytest.approx([FOOT])
    assert places(cable, boxes=(box(0.0), box(5 * FOOT + 50.0))) == pytest.approx([FOOT, 4 * FOOT])
    assert places(cable, (bored_stud(0.9 * FOOT),), (box(0.0),)) == []


def test_a_run_that_goes_on_does_not_end_at_a_box() -> None:
    cable = run(LOW, (5 * FOOT, 500.0, 70.0), product="nm-12/2", enters=True)
    assert places(cable, boxes=(box(0.0),)) != pytest.approx([FOOT])


def test_a_run_by_its_diameter_has_no_rule() -> None:
    assert places(run(LOW, (8 * FOOT, 500.0, 70.0), product="16.0 mm")) == []


@settings(max_examples=100, deadline=None)
@given(length=st.floats(10.0, 12000.0), studs=st.lists(st.floats(0.0, 12000.0), max_size=5))
def test_no_span_is_too_long_and_no_support_too_many(length: float, studs: list[float]) -> None:
    inside = [x for x in studs if 1.0 < x < length - 1.0]
    part = run(LOW, (length, 500.0, 70.0))
    made = places(part, tuple(bored_stud(x) for x in inside))
    most = 32 * 25.4
    held = sorted([*made, *inside])
    assert held
    spans = [held[0], *(b - a for a, b in pairwise(held)), length - held[-1]]
    assert max(spans) <= most + 1e-3
    gaps = sorted([0.0, *inside, length])
    fewest = sum(math.ceil((b - a) / most - 1e-6) - 1 for a, b in pairwise(gaps) if b - a > 1e-6)
    assert len(made) <= max(fewest + (not inside), 1)
