"""Houses under roofs of every slope, from nearly flat to steeper than 45 degrees: all joints are there, and closed."""

from __future__ import annotations

import json
from functools import cache

import pytest

from panelgen.api import check, design
from panelgen.model import House
from panelgen.spec.loader import loads
from tests.random_houses import random_spec

RISES = (1, 2, 6, 13, 18)
"""Rises in a run of 12; as 12 is 45 degrees, what is square to the last two leans beyond the other side of a ridge."""

HOUSES = {"gables": 60, "hips on an L": 36, "gables on an L": 54, "hips on a U or T": 2}
"""Seeds of one-storey houses."""


@cache
def house_of(seed: int, rise: float) -> House:
    """A random house without dormers, its roof at another slope."""
    spec = random_spec(seed)
    (roof,) = spec["roofs"]
    roof["rise"] = rise
    roof.pop("openings", None)
    spec["openings"] = [one for one in spec["openings"] if not one["wall"].startswith("DM")]
    return design(loads(json.dumps(spec)))


@pytest.mark.parametrize("rise", RISES)
@pytest.mark.parametrize("name", HOUSES)
def test_no_joint_is_open_at_any_slope(name: str, rise: float) -> None:
    kinds = ("air.", "weather.", "joint.")
    assert [one.words for one in check(house_of(HOUSES[name], rise)) if one.code.startswith(kinds)] == []
