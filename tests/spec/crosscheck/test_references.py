from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.errors import Problem


@pytest.mark.parametrize(
    ("old", "new", "field", "words", "remedy"),
    [
        ("- assembly: ext\n", "- assembly: exterior\n", "levels[0].outlines[0].assembly", "no assembly",
         "ext, partition"),
        ("{wall: E, at", "{assembly: partitoin, wall: E, at", "levels[0].outlines[0].corners[1].assembly",
         "no assembly",
         "did you mean partition?"),
        ("assembly: partition", "assembly: partitions", "levels[0].walls[0].assembly", "no assembly", "partition?"),
        ("type: hall door", "type: hall-door", "openings[1].type", "no unit type", "did you mean hall door?"),
        ("wall: S, type: hall", "wall: X, type: hall", "openings[1].wall", "no wall",
         "choose one of: S, E, N, W, P, G"),
        ("nm-12/2, wall: S", "nm-12/2, wall: X", "runs[0].wall", "no wall", "choose one of"),
        ("run: R2, wall: W", "run: R2, wall: X", "sleeves[0].wall", "no wall", "choose one of"),
        ("id: B1, wall: S", "id: B1, wall: X", "boxes[0].wall", "no wall", "choose one of"),
        ("id: K1, wall: E", "id: K1, wall: X", "backing[0].wall", "no wall", "choose one of"),
        ("run: R2", "run: Q2", "sleeves[0].run", "no run", "choose one of: R1, R2, R3"),
    ],
)  # fmt: skip
def test_a_name_that_points_to_nothing(
    problems: Callable[[str], tuple[Problem, ...]],
    edited: Callable[..., str],
    good: str,
    old: str,
    new: str,
    field: str,
    words: str,
    remedy: str,
) -> None:
    found = [problem for problem in problems(edited(old, new)) if problem.field == field]
    (problem,) = found
    assert words in problem.message
    assert remedy in problem.remedy
    assert problem.line == good[: good.index(old)].count("\n") + 1


def test_the_name_is_shown(refusal: Callable[..., Problem]) -> None:
    assert refusal("run: R2", "run: Q2").value == "'Q2'"


def test_nothing_else_is_said_about_what_a_missing_wall_holds(refusal: Callable[..., Problem]) -> None:
    assert refusal("wall: S, type: hall", "wall: X, type: hall").field == "openings[1].wall"
