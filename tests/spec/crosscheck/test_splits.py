from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.errors import Problem
from panelgen.spec import loads

END = "waivers:\n"
SHOP = "shop: {line_length: 24 ft}"


def test_joints_that_can_be(edited: Callable[..., str]) -> None:
    stretches = "[{wall: S, start: 0, end: 4100}, {wall: E, start: 10 ft, end: 4000}]"
    text = edited(END, f"joints: [{{wall: S, at: 4200}}]\nno_joints: {stretches}\n{END}")
    house = loads(text)
    assert (house.joints[0].wall, house.joints[0].at) == ("S", 4200.0)
    assert house.no_joints[1].start == pytest.approx(3048.0)


@pytest.mark.parametrize(
    ("section", "field", "words", "remedy"),
    [
        ("joints: [{wall: X, at: 4200}]", "joints[0].wall", "no wall", "choose one of"),
        ("joints: [{wall: S, at: 8000}]", "joints[0].at", "is 8000 mm long", "from its start"),
        ("joints: [{wall: S, at: 2000}]", "joints[0].at", "rough opening of W1", "beside the opening"),
        ("joints: [{wall: S, at: 4200}, {wall: S, at: 4200}]", "joints[1].at", "joints[0] asks", "take one"),
        ("joints: [{wall: S, at: 4200}]\nno_joints: [{wall: S, start: 4000, end: 4300}]", "joints[0].at",
         "no_joints[0] forbids", "take one"),
        ("no_joints: [{wall: X, start: 0, end: 1}]", "no_joints[0].wall", "no wall", "choose one of"),
        ("no_joints: [{wall: E, start: 0, end: 6001}]", "no_joints[0].end", "is 6000 mm long", "from its start"),
        ("posts: [{id: P, wall: X, at: 1, reason: beam}]", "posts[0].wall", "no wall", "choose one of"),
        ("posts: [{id: P, wall: S, at: 8001, reason: beam}]", "posts[0].at", "is 8000 mm long", "from its start"),
        ("posts: [{id: P, wall: S, at: 2000, reason: beam}]", "posts[0].at", "opening of W1", "beside the opening"),
        ("no_joints: [{wall: E, start: 10, end: 10}]", "no_joints[0].end", "greater than start", "from the same place"),
    ],
)  # fmt: skip
def test_joints_that_cannot_be(
    problems: Callable[[str], tuple[Problem, ...]],
    edited: Callable[..., str],
    good: str,
    section: str,
    field: str,
    words: str,
    remedy: str,
) -> None:
    (problem,) = problems(edited(END, f"{section}\n{END}"))
    assert problem.field == field
    assert words in problem.message
    assert remedy in problem.remedy
    before = good[: good.index(END)].count("\n")
    assert problem.line == before + 1 + section.count("\n") * field.startswith("no_joints")


def test_a_crane_and_a_truck(edited: Callable[..., str]) -> None:
    table = "[{radius: 30 ft, mass: 2000 lb}, {radius: 50 ft, mass: 900 lb}]"
    house = loads(edited(SHOP, f"shop: {{crane: {{at: [1000, -4000], table: {table}}}, truck: {{length: 40 ft}}}}"))
    assert house.shop.crane is not None
    assert house.shop.truck is not None
    assert house.shop.crane.table[1].radius == pytest.approx(15240.0)
    assert house.shop.crane.table[0].mass == pytest.approx(907.185, abs=1e-3)
    assert (house.shop.truck.length, house.shop.truck.mass) == (pytest.approx(12192.0), None)


@pytest.mark.parametrize(
    ("shop", "field", "words", "remedy"),
    [
        ("crane: {at: [0, 0], table: [{radius: 9000, mass: 9}, {radius: 9000, mass: 8}]}", "shop.crane",
         "grow from row to row", "nearest first"),
        ("crane: {at: [0, 0], table: [{radius: 8000, mass: 8}, {radius: 9000, mass: 9}]}", "shop.crane",
         "no more at a greater radius", "chart"),
        ("truck: {}", "shop.truck", "what the truck can take", "give length"),
    ],
)  # fmt: skip
def test_what_no_crane_or_truck_is(
    refusal: Callable[..., Problem], shop: str, field: str, words: str, remedy: str
) -> None:
    problem = refusal(SHOP, f"shop: {{{shop}}}")
    assert problem.field == field
    assert words in problem.message
    assert remedy in problem.remedy
