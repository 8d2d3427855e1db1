from __future__ import annotations

from collections.abc import Callable

import pytest

from panelgen.errors import Problem
from panelgen.spec import loads


@pytest.mark.parametrize(
    ("old", "new", "field", "first"),
    [
        (
            "{wall: N, at",
            "{wall: S, at",
            "levels[0].outlines[0].corners[2].wall",
            "levels[0].outlines[0].corners[0].wall",
        ),
        ("{wall: P, ass", "{wall: N, ass", "levels[0].walls[0].wall", "levels[0].outlines[0].corners[2].wall"),
        ("wall: G\n", "wall: P\n", "levels[1].walls[0].wall", "levels[0].walls[0].wall"),
        ('id: "2"', 'id: "1"', "levels[1].id", "levels[0].id"),
        ("id: D1", "id: W1", "openings[1].id", "openings[0].id"),
        ("id: R3", "id: R1", "runs[2].id", "runs[0].id"),
        (
            "boxes:\n",
            "  - {id: L1, run: R2, wall: W, at: [900, 300], product: sleeve-1, seal: tape}\nboxes:\n",
            "sleeves[1].id",
            "sleeves[0].id",
        ),
        (
            "backing:\n",
            "  - {id: B1, wall: S, product: square-4x1-1/4, at: [3500, 300]}\nbacking:\n",
            "boxes[1].id",
            "boxes[0].id",
        ),
        (
            "waivers:\n",
            "  - {id: K1, wall: E, start: 2000, end: 3000, height: 900, reason: shelf}\nwaivers:\n",
            "backing[1].id",
            "backing[0].id",
        ),
    ],
)
def test_an_id_given_twice(refusal: Callable[..., Problem], old: str, new: str, field: str, first: str) -> None:
    problem = refusal(old, new)
    assert problem.field == field
    assert problem.message.endswith(f"has this id: {first}")
    assert "an id of its own" in problem.remedy


def test_the_last_corner_of_an_open_outline_is_no_wall(edited: Callable[..., str]) -> None:
    text = edited("- assembly: ext\n", "- assembly: ext\n        closed: false\n", "{wall: W, at", "{wall: S, at")
    house = loads(text.replace("wall: W,", "wall: E,"))
    assert len(house.levels[0].outlines[0].corners) == 4
