from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.errors import Problem
from panelgen.spec import loads

GABLE = "gable: {eave: 300, rise: 6 in, run: 12 in}"


@pytest.mark.parametrize(
    ("old", "new", "field", "words", "remedy"),
    [
        ("elevation: 2800", "elevation: 2400", "levels[1].elevation", "below the top of level 1, which is at 2500 mm",
         "raise its elevation to 2500 mm"),
        ("{wall: E, at", "{height: 12001, wall: E, at", "levels[0].outlines[0].corners[1].height", "wall is too high",
         "give 12000 mm or less"),
        (GABLE, "gable: {eave: 9 m, rise: 12 in}", "levels[1].walls[0].gable", "wall is too high", "check the unit"),
        (GABLE, "gable: {eave: 300, rise: 6 in, peak: 8001}", "levels[1].walls[0].gable.peak",
         "beyond the end of wall G, which is 8000 mm long", "a peak in the middle"),
        (GABLE, f"height: 3000 #!\n        {GABLE}", "levels[1].walls[0].height", "takes its height from the gable",
         "leave the height out"),
        ("end: [4000, 6000]", "end: [4000, 0]", "levels[0].walls[0].start", "wall P has no length", "its start or end"),
        ("end: [4000, 6000]", "end: [4000, 10000 ft]", "levels[0].walls[0].start", "wall P is too long",
         "check the unit, and give 100000 mm or less"),
    ],
)  # fmt: skip
def test_sizes_that_no_house_has(
    refusal: Callable[..., Problem], old: str, new: str, field: str, words: str, remedy: str
) -> None:
    problem = refusal(old, new)
    assert problem.field == field
    assert words in problem.message
    assert remedy in problem.remedy


def test_a_level_too_high(refusal: Callable[..., Problem]) -> None:
    problem = refusal("elevation: 2800\n    height: 2500", "elevation: 2800\n    height: 40 ft #!")
    assert (problem.field, problem.message) == ("levels[1].height", "this level is too high")


def test_the_order_of_levels_in_the_file_does_not_matter(refusal: Callable[..., Problem]) -> None:
    problem = refusal("elevation: 0\n", "elevation: 5000 #!\n")
    assert problem.field == "levels[0].elevation"
    assert "below the top of level 2" in problem.message


def test_levels_may_touch(edited: Callable[..., str]) -> None:
    assert loads(edited("elevation: 2800", "elevation: 2500")).levels[1].elevation == 2500


def test_a_peak_may_be_over_the_end(edited: Callable[..., str]) -> None:
    wall = loads(edited(GABLE, "gable: {eave: 300, rise: 6 in, peak: 8000}")).levels[1].walls[0]
    assert wall.gable is not None
    assert wall.gable.top(8000) == (pytest.approx((0.0, 300.0)), pytest.approx((8000.0, 4300.0)))


def test_an_outline_edge_too_long(refusal: Callable[..., Problem]) -> None:
    new = "[0, 6000]}\n      - assembly: ext\n        closed: false\n        corners:\n"
    new += "          - {wall: X, at: [0, 0]} #!\n          - {wall: Y, at: [10000 ft, 0]}\n"
    problem = refusal("[0, 6000]}\n", new)
    assert problem.field == "levels[0].outlines[1].corners[0].at"
    assert problem.value == "3048000 mm"
