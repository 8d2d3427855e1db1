"""Headers and trimmers of floor openings, single and double: IRC R502.10, from memory."""

from __future__ import annotations

import pytest

from panelgen.design.house import design
from panelgen.model import House
from tests.checks.structure.houses import FOOT, INCH, found, without
from tests.design.floors.houses import bearing, floored

LINE = bearing("P1", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))


def stair(wide: float, y: float = 13 * FOOT, long: float = 6 * FOOT) -> House:
    opening = {"id": "ST1", "at": [18 * FOOT, y], "size": [wide, long]}
    size = {"stock": "2x10", "depth": 9.25 * INCH, "spacing": 16 * INCH}
    return design(floored(**size, openings=[opening], lower=[LINE]))


def lacking(house: House) -> list[tuple[str, float]]:
    return [(one.words.split()[1], one.value or 0.0) for one in found(house) if one.code == "opening.plies"]


def only(house: House, end: str) -> str:
    """The one stick whose id ends so."""
    (id,) = (m.id for panel in house.panels for m in panel.members if end in m.id)  # noqa: A001
    return id


def test_all_around_an_opening_sticks_are_doubled() -> None:
    assert lacking(stair(5 * FOOT)) == []


@pytest.mark.parametrize(("wide", "wrong"), [(4 * FOOT - INCH, []), (4 * FOOT + INCH, [("header", 1.0)])])
def test_a_short_header_may_be_single(wide: float, wrong: list[tuple[str, float]]) -> None:
    house = stair(wide)
    assert lacking(without(house, only(house, "ST1/header-low-2"))) == wrong


@pytest.mark.parametrize(("feet", "wrong"), [(2.9, []), (3.1, [("trimmer", 1.0)])])
def test_single_trimmers_carry_headers_near_their_bearing(feet: float, wrong: list[tuple[str, float]]) -> None:
    """Both headers are so far from the bearings, which are 12 ft apart."""
    house = stair(3 * FOOT, (12 + feet) * FOOT, (12 - 2 * feet) * FOOT)
    assert lacking(without(house, only(house, "ST1/trimmer-left-2"))) == wrong
