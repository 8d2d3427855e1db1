"""An airtight panel without insulation is told of, with its area."""

from __future__ import annotations

import pytest

from panelgen.api import check, design
from panelgen.model import Finding
from panelgen.spec.loader import loads
from tests import specs

FOOT = 304.8


def bare(text: str) -> list[Finding]:
    return [one for one in check(design(loads(text))) if one.code == "insulation.missing"]


def test_an_insulated_house_lacks_nothing() -> None:
    assert bare(specs.clean()) == []


def test_walls_without_insulation_are_told_of_with_their_area() -> None:
    """20 ft by 16 ft of walls 97-1/8 in. high, less what corners take of them and one window."""
    spacing = "spacing: 24}"
    assert specs.clean().count(spacing) == 1
    found = bare(specs.clean().replace(spacing, "spacing: 24, insulation: null}"))
    around = 2 * (20 + 16) * FOOT * 97.125 * 25.4 / 1e6
    assert len(found) >= 4
    assert around - 4 < sum(one.value or 0.0 for one in found) < around
    assert {one.unit for one in found} == {"m2"}


@pytest.mark.parametrize("word", ["barrier: air", "barrier: weather"])
def test_only_the_air_barrier_asks_for_it(word: str) -> None:
    text = specs.clean().replace("spacing: 24}", "spacing: 24, insulation: null}").replace(word, "barrier: none")
    assert bool(bare(text)) is (word == "barrier: weather")
