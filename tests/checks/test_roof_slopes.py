"""Houses under roofs of every slope, from nearly flat to steeper than 45 degrees: all joints are there, and closed."""

from __future__ import annotations

import json
from collections import Counter
from functools import cache

import pytest

from panelgen.api import check, design
from panelgen.model import House, JointKind
from panelgen.spec.loader import loads
from tests.random_houses import random_spec

RISES = (1, 2, 5, 13, 18)
"""Rises in a run of 12; as 12 is 45 degrees, what is square to the last two leans beyond the other side of a ridge."""

HOUSES = {"gables": 60, "hips on an L": 36, "gables on an L": 54}
"""Seeds of one-storey houses."""

LINES = (JointKind.RIDGE, JointKind.HIP, JointKind.VALLEY)


@cache
def house_of(seed: int, rise: float, own: float | None = None, edge: str = "1W0") -> House:
    """A random house without dormers, its roof at another slope, and at an edge at one of its `own`."""
    spec = random_spec(seed)
    (roof,) = spec["roofs"]
    roof["rise"] = rise
    roof.pop("openings", None)
    if own is not None:
        roof["edges"] = [*roof.get("edges", ()), {"edge": edge, "kind": "eave", "rise": own}]
    spec["openings"] = [one for one in spec["openings"] if not one["wall"].startswith("DM")]
    return design(loads(json.dumps(spec)))


def in_plan(house: House) -> dict[JointKind, float]:
    """How long the ridges, hips and valleys are as seen from above, mm."""
    found = Counter[JointKind]()
    for one in house.joints:
        if one.kind in LINES:
            found[one.kind] += one.length * (1.0 - one.along[2] ** 2) ** 0.5
    return dict(found)


@pytest.mark.parametrize("rise", RISES)
@pytest.mark.parametrize("name", HOUSES)
def test_no_joint_is_open_at_any_slope(name: str, rise: float) -> None:
    kinds = ("air.", "weather.", "joint.")
    assert [one.words for one in check(house_of(HOUSES[name], rise)) if one.code.startswith(kinds)] == []


@pytest.mark.parametrize(("rise", "first"), [(9, 12), (12.5, 13.5), (13, 10)])
@pytest.mark.parametrize("name", HOUSES)
def test_barriers_close_where_slopes_differ(name: str, rise: float, first: float) -> None:
    """Rafters are as deep on both sides, so on the steeper one their lower edges are lower under the same ridge."""
    found = check(house_of(HOUSES[name], rise, first))
    assert [one.words for one in found if one.code.startswith(("air.", "weather."))] == []


def test_a_row_of_sheets_may_touch_the_next_along_a_line() -> None:
    """The inner side of one plane comes to lie on a joint of two rows."""
    found = check(house_of(34, 3.22, 4.57, "1W1"))
    assert [one.words for one in found if one.code.startswith(("air.", "weather."))] == []


@pytest.mark.parametrize("rise", RISES)
@pytest.mark.parametrize("name", HOUSES)
def test_slopes_meet_along_the_same_lines_in_plan(name: str, rise: float) -> None:
    """Where all slopes are alike the plan of a roof does not depend on them, but for joints of panels in its lines."""
    other, usual = (in_plan(house_of(HOUSES[name], one)) for one in (rise, 6))
    assert other == pytest.approx(usual, abs=5.0)
