"""Headers and trimmers of openings in floors and roofs, single and double: IRC R502.10 and R802.9, from memory."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.design.house import design
from panelgen.model import House, Panel
from tests.checks.builders import stud
from tests.checks.structure.houses import FOOT, INCH, found, without
from tests.checks.structure.roofs import GABLES, roofed
from tests.design.floors.houses import bearing, floored
from tests.design.roofs.houses import BOX

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


def skylight(wide: float) -> House:
    """A gable roof with an opening ``wide`` across, between a wall and the ridge."""
    opening = {"id": "SK", "edge": "w0", "at": [2150.0, 1700.0], "size": [wide, 900.0], "kind": "skylight"}
    return roofed(BOX, edges=GABLES, openings=[opening])


@pytest.mark.parametrize("piece", ["trimmer-left-2", "trimmer-right-2", "lower-header-2", "upper-header-2"])
def test_wide_openings_of_roofs_are_framed_double(piece: str) -> None:
    house = skylight(4 * FOOT + 2 * INCH)
    assert lacking(house) == []
    assert lacking(without(house, only(house, f"SK/{piece}"))) == [
        ("trimmer" if piece.startswith("trimmer") else "header", 1.0)
    ]


def test_narrow_openings_of_roofs_are_framed_single() -> None:
    house = skylight(4 * FOOT - 2 * INCH)
    assert not any("SK/trimmer-left-2" in m.id for panel in house.panels for m in panel.members)
    assert lacking(house) == []


def test_doubled_trimmers_of_a_roof_stand_on_two_studs() -> None:
    """They come down between the studs of the layout, where one at most is within 5 in.; posts beneath take them."""
    house = skylight(4 * FOOT + 2 * INCH)
    lost = [one for one in found(house) if one.code == "load.path"]
    assert len(lost) == 2
    assert all("trimmer" in one.words and one.value == 2.0 and len(one.parts) == 2 for one in lost)
    points = [one.house_point for one in lost if one.house_point is not None]

    def posted(panel: Panel) -> Panel:
        if panel.wall != "w0":
            return panel
        xs = [float(panel.frame.to_local([point])[0][0]) for point in points]
        new = [replace(stud(x + 40.0 * k), id=f"post-{x:.0f}-{k}") for x in xs for k in (-1, 0)]
        return replace(
            panel, members=(*panel.members, *(one for one in new if 0.0 < one.frame.origin[0] < panel.length))
        )

    assert [
        one for one in found(replace(house, panels=tuple(map(posted, house.panels)))) if one.code == "load.path"
    ] == []
    assert [one for one in found(skylight(4 * FOOT - 2 * INCH)) if one.code == "load.path"] == []
