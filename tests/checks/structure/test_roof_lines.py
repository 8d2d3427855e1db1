"""Hips and valleys: their feet land on studs, their upper ends on braces. IRC R802.4.3 and R802.4.5, from memory."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.checks import check_house
from panelgen.model import Finding, House, Member, Role
from tests.checks.looking import CATALOG
from tests.checks.structure.houses import changed
from tests.checks.structure.roofs import GABLES, roofed
from tests.design.roofs.houses import BOX, ELL

CODES = ("roof.brace", "roof.braced", "load.path", "load.wall", "load.block")
MIDDLE = {"wall": "B", "assembly": "partition", "start": [0.0, 3000.0], "end": [10000.0, 3000.0], "bearing": True}


def said(house: House) -> list[Finding]:
    return [one for one in check_house(house, CATALOG) if one.code in CODES]


def codes(house: House) -> set[str]:
    return {one.code for one in said(house)}


def test_gables_have_neither() -> None:
    assert said(roofed(BOX, edges=GABLES)) == []


@pytest.mark.parametrize("ceiling", ["", "y"])
def test_hips_land_on_the_corners(ceiling: str) -> None:
    """Through the ceiling too, whose joists and rims fill its depth there."""
    assert codes(roofed(BOX, ceiling=ceiling)) == {"roof.brace"}


@pytest.mark.parametrize("ceiling", ["", "x"])
def test_a_valley_lands_on_the_inner_corner(ceiling: str) -> None:
    assert codes(roofed(ELL, ceiling=ceiling)) == {"roof.brace"}


def test_a_hip_over_a_corner_without_studs() -> None:
    house = roofed(BOX)
    frames = {m.id: panel.frame for panel in house.panels for m in panel.members}

    def cut(member: Member) -> Member | None:
        x, y, _ = frames[member.id].point(*member.frame.origin)
        near = x < 400.0 and y < 400.0 and member.role in (Role.STUD, Role.POST)
        return None if near else member

    (lost,) = (one for one in said(changed(house, cut)) if one.code == "load.path")
    assert "hip" in lost.words
    assert lost.value == 2.0
    assert lost.house_point is not None
    assert max(lost.house_point[:2]) < 200.0


def test_a_bearing_wall_below_takes_a_brace() -> None:
    """The hips of the box meet over its middle, 3 m inside; a partition that bears nothing is no help."""
    braced = [one for one in said(roofed(BOX, walls=(MIDDLE,))) if one.code == "roof.braced"]
    assert [one.severity for one in braced] == ["note", "note"]
    assert all(len(one.parts) == 2 for one in braced)
    assert codes(roofed(BOX, walls=(MIDDLE | {"bearing": False},))) == {"roof.brace"}


@pytest.mark.parametrize(("aside", "code"), [(1300.0, "roof.braced"), (1600.0, "roof.brace")])
def test_a_brace_is_no_flatter_than_45_degrees(aside: float, code: str) -> None:
    """The hips meet some 1.45 m over the walls, measured at the middle of their boards."""
    wall = MIDDLE | {"start": [0.0, 3000.0 + aside], "end": [10000.0, 3000.0 + aside]}
    assert codes(roofed(BOX, walls=(wall,))) == {code}


def test_a_brace_goes_on_down_to_the_foundation() -> None:
    """The wall below the braces is lifted off the ground: nothing is under it."""
    house = roofed(BOX, walls=(MIDDLE,))

    def raised(whole: House) -> House:
        panels = [
            replace(one, frame=replace(one.frame, origin=(*one.frame.origin[:2], 400.0)), height=one.height - 400.0)
            if one.wall == "B"
            else one
            for one in whole.panels
        ]
        return replace(whole, panels=tuple(panels))

    lost = [one for one in said(raised(house)) if one.code == "load.wall"]
    assert len(lost) == 2
    assert all("brace" in one.words for one in lost)
