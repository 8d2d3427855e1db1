from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.errors import Problem
from panelgen.spec import loads

DOOR = "  - {id: D1, wall: S, type: hall door, center: 6000}\n"


@pytest.mark.parametrize(
    ("old", "new", "field", "words", "remedy"),
    [
        ("center: 2000", "center: 459", "openings[0].center", "beyond the ends of wall S", "move its center"),
        ("center: 6000", "center: 7516", "openings[1].center", "beyond the ends of wall S", "move its center"),
        (
            "sill: 900",
            "sill: 1281",
            "openings[0].sill",
            "above the top of wall S, which is at 2500 mm",
            "lower its sill",
        ),
        ("center: 6000", "center: 2944", "openings[1].center", "opening D1 overlaps opening W1", "move one of the two"),
        (", sill: 900", "", "openings[0].sill", "window W1 has no sill height", "the rough opening's bottom"),
    ],
)
def test_openings_that_do_not_fit(
    refusal: Callable[..., Problem], old: str, new: str, field: str, words: str, remedy: str
) -> None:
    problem = refusal(old, new)
    assert problem.field == field
    assert words in problem.message
    assert remedy in problem.remedy


def test_an_opening_wider_than_its_wall(refusal: Callable[..., Problem]) -> None:
    window = "  - {id: W1, wall: S, type: casement, center: 2000, sill: 900}\n"
    problem = refusal(window + DOOR, DOOR.replace("}", "} #!"), "width: 950", "width: 9 m")
    assert problem.field == "openings[0].type"
    assert problem.message == "the rough opening is wider than wall S, which is 8000 mm long"
    assert problem.value == "9020 mm"
    assert "a narrower unit" in problem.remedy


def test_a_door_higher_than_its_wall(refusal: Callable[..., Problem]) -> None:
    problem = refusal("height: 2050", "height: 2491", DOOR, DOOR.replace("}", "} #!"))
    assert problem.field == "openings[1].type"
    assert "above the top of wall S" in problem.message


def test_an_opening_under_a_slope(refusal: Callable[..., Problem]) -> None:
    old = "  - {id: D1, wall: S, type: hall door, center: 6000}"
    # The slope is 6 in 12 from 300 mm: over the near side at x = 1540 it is 300 + 770 = 1070 mm high.
    problem = refusal(old, "  - {id: D1, wall: G, type: casement, center: 2000, sill: 100}")
    assert "above the top of wall G, which is at 1070 mm there" in problem.message


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("center: 2000", "center: 460"),
        ("center: 6000", "center: 7515"),
        ("center: 6000", "center: 2945"),
        ("sill: 900", "sill: 1280"),
        ("height: 2050", "height: 2490"),
    ],
)
def test_openings_may_touch_ends_top_and_each_other(edited: Callable[..., str], old: str, new: str) -> None:
    assert len(loads(edited(old, new)).openings) == 2


def test_one_opening_over_another_is_no_overlap(edited: Callable[..., str]) -> None:
    text = edited(
        "height: 1200",
        "height: 500",
        "sill: 900}",
        "sill: 900}\n  - {id: W2, wall: S, type: casement, center: 2000, sill: 1420}",
    )
    assert len(loads(text).openings) == 3


def test_every_overlapping_opening_is_named_once(
    edited: Callable[..., str], problems: Callable[[str], tuple[Problem, ...]]
) -> None:
    rows = "".join(f"  - {{id: X{n}, wall: S, type: casement, center: {2000 + n}, sill: 900}}\n" for n in range(1, 4))
    found = problems(edited("runs:\n", rows + "runs:\n"))
    assert [problem.field for problem in found] == ["openings[2].center", "openings[3].center", "openings[4].center"]
