from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.errors import Problem
from panelgen.spec import loads

R1 = "[[3000, 300, cavity], [3000, 2000, cavity]]"
R2 = "[[500, 300, framing], [500, 300, 140], [900, 300, 140]]"


@pytest.mark.parametrize(
    ("old", "new", "field", "words", "remedy"),
    [
        (R1, "[[3000, 300, cavity], [3000, 300, cavity]]", "runs[0].path[1]", "the one before it again", "take it out"),
        (R1, "[[-1, 300, cavity], [3000, 300, cavity]]", "runs[0].path[0][0]", "beyond the ends of wall S",
         "from its start"),
        (R1, "[[0, 300, cavity], [8001, 300, cavity]]", "runs[0].path[1][0]", "which is 8000 mm long",
         "from its start"),
        (R1, "[[0, -1, cavity], [3000, 300, cavity]]", "runs[0].path[0][1]", "above or below wall S",
         "from the bottom"),
        (R1, "[[0, 300, cavity], [0, 2501, cavity]]", "runs[0].path[1][1]", "whose top is at 2500 mm",
         "from the bottom"),
        # Wall W: framing 139.7 mm, OSB 11.1 mm outside, board 12 mm and a 38.1 mm strap inside; the radius is 8 mm.
        (R2, "[[500, 300, 0], [500, 300, 159]]", "runs[1].path[1][2]",
         "outside the layers of wall W, which go from -50.1 mm to 150.8 mm", "positive toward the weather"),
        (R2, "[[500, 300, 0], [500, 300, -59]]", "runs[1].path[1][2]", "outside the layers of wall W", "inner face"),
        ("nm-12/2, wall: S, path: " + R1, "nm-12/2, wall: P, path: " + R1, "runs[0].path[0][2]",
         "wall P has no service cavity", "add strapping"),
        ("diameter: 16", "diameter: 201", "runs[1].diameter", "thicker than wall W, which is 200.9 mm deep",
         "a smaller run"),
        ("run: R2", "run: R1", "sleeves[0].run", "run R1 is in wall S, and this sleeve in wall W", "name a run of"),
        ("at: [500, 300]", "at: [6001, 300]", "sleeves[0].at[0]", "sleeve L1 goes beyond the ends of wall W",
         "from its start"),
        ("at: [500, 300]", "at: [500, -1]", "sleeves[0].at[1]", "sleeve L1 goes above or below wall W",
         "from the bottom"),
        # A 4 in box reaches 50.8 mm each way.
        ("at: [3000, 300]", "at: [50, 300]", "boxes[0].at[0]", "box B1 goes beyond the ends of wall S",
         "from its start"),
        ("at: [3000, 300]", "at: [3000, 2450]", "boxes[0].at[1]", "box B1 goes above or below wall S",
         "from the bottom"),
        ("start: 1000", "start: -1", "backing[0].start", "backing K1 goes beyond the ends of wall E", "from its start"),
        ("end: 2000", "end: 6001", "backing[0].end", "backing K1 goes beyond the ends of wall E", "from its start"),
        ("height: 900, reason", "height: 2501, reason", "backing[0].height", "above or below wall E",
         "from the bottom"),
    ],
)  # fmt: skip
def test_services_that_are_not_in_their_wall(
    problems: Callable[[str], tuple[Problem, ...]],
    edited: Callable[..., str],
    good: str,
    old: str,
    new: str,
    field: str,
    words: str,
    remedy: str,
) -> None:
    found = {problem.field: problem for problem in problems(edited(old, new))}
    assert words in found[field].message
    assert remedy in found[field].remedy
    assert found[field].line == good[: good.index(old)].count("\n") + 1
    prefix = field.partition("[")[0]
    assert all(other.startswith(prefix) for other in found)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (R1, "[[0, 0, cavity], [8000, 2500, framing]]"),
        (R2, "[[0, 0, 158.8], [0, 0, -58.1]]"),
        (R2, "[[0, 0, cavity], [0, 0, framing]]"),
        ("diameter: 16", "diameter: 200.9"),
        ("run: R2", "run: R3"),
        ("at: [3000, 300]", "at: [50.8, 50.8]"),
        ("start: 1000, end: 2000", "start: 0, end: 6000"),
    ],
)
def test_the_edge_of_the_wall_is_in_the_wall(edited: Callable[..., str], old: str, new: str) -> None:
    assert loads(edited(old, new)).runs


def test_points_of_a_run_without_wall_are_not_bound_to_one(edited: Callable[..., str]) -> None:
    assert loads(edited("[1000, 1000, 0]", "[-1000, -1000, -9 m]")).runs[2].path[0] == (-1000, -1000, -9000)
