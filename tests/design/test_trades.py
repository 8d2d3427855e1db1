"""Backing that follows from what later trades hang on a wall; heights are the catalog's, most of them from memory."""

from __future__ import annotations

from typing import Any

import pytest

from panelgen.catalog import Catalog
from panelgen.design.extents import extent_of
from panelgen.design.house import design
from panelgen.design.trades.backing import TradeRow, unbacked
from panelgen.errors import SpecError
from panelgen.model import House, Member, Role
from panelgen.spec import HouseSpec
from panelgen.spec.loader import loads
from tests.design.builders import assembly, brief, frame, tee, window
from tests.design.houses import house_data, one_wall

INCH = 25.4
RULES = Catalog.default().rules("irc-2021")
DOOR = {"id": "D1", "type": "door-36x80", "center": "8 ft"}


def hung(trade: dict[str, Any], openings: list[dict[str, Any]] | None = None, **more: Any) -> House:
    """A wall 16 ft long with one trade ``T1`` on it."""
    return design(one_wall("16 ft", openings, trades=[{"id": "T1", "wall": "N1"} | trade], **more))


def backing(house: House, kind: str) -> list[Member]:
    role = Role.STRAP if kind == "strap" else Role.BACKING
    return [m for one in house.panels for m in one.members if m.role is role and "T1" in m.id]


def middles(members: list[Member]) -> list[float]:
    """Heights of the middles of rows, in., each once."""
    boxes = [extent_of(member) for member in members]
    return sorted({round((box.y0 + box.y1) / 2 / INCH, 3) for box in boxes})


def gaps(house: House) -> list[str]:
    found = [*house.findings, *(finding for one in house.panels for finding in one.findings)]
    return [finding.words for finding in found if finding.code.startswith("backing.")]


def test_a_kitchen_gets_three_rows_of_straps() -> None:
    house = hung({"hang": "kitchen", "start": "2 ft", "end": "12 ft"})
    assert middles(backing(house, "strap")) == [34.5, 54.0, 84.0]
    assert {member.stock for member in backing(house, "strap")} == {"2x6"}
    assert backing(house, "blocking") == []
    assert gaps(house) == []


def test_a_grab_bar_is_blocked_behind_the_strap_too() -> None:
    house = hung({"hang": "grab bar", "start": "3 ft", "end": "6 ft"})
    assert middles(backing(house, "strap")) == [34.5]
    assert middles(backing(house, "blocking")) == [34.5]
    assert {member.stock for member in backing(house, "blocking")} == {"2x8"}


def test_a_wall_without_a_cavity_gets_blocking() -> None:
    trade = {"id": "T1", "wall": "N1", "hang": "handrail"}
    house = design(one_wall("16 ft", None, "bare", {"exterior": False}, trades=[trade]))
    assert backing(house, "strap") == []
    assert middles(backing(house, "blocking")) == [36.0]
    assert {round(extent_of(member).z0, 6) for member in backing(house, "blocking")} == {0.0}
    assert gaps(house) == []


def test_the_other_face_of_a_partition() -> None:
    trade = {"id": "T1", "wall": "N1", "hang": "handrail", "face": "outer"}
    house = design(one_wall("16 ft", None, "bare", {"exterior": False}, trades=[trade]))
    assert {round(extent_of(member).z1 / INCH, 6) for member in backing(house, "blocking")} == {3.5}


@pytest.mark.parametrize(
    ("mass", "stock", "behind"), [("20 kg", "2x6", 0), ("25 kg", "2x6", 0), ("40 kg", "2x8", 0), ("90 kg", "2x10", 1)]
)
def test_equipment_by_its_weight(mass: str, stock: str, behind: int) -> None:
    house = hung({"hang": "equipment", "height": "60 in", "mass": mass, "start": "3 ft", "end": "6 ft"})
    assert {member.stock for member in backing(house, "strap")} == {stock}
    assert bool(backing(house, "blocking")) == bool(behind)
    assert middles(backing(house, "strap")) == [60.0]


def test_equipment_beyond_the_table_needs_an_engineer() -> None:
    house = hung({"hang": "equipment", "height": "60 in", "mass": "200 kg"})
    (finding,) = house.findings
    assert (finding.code, finding.severity, finding.parts) == ("backing.load", "stop", ("T1",))
    assert "needs an engineer" in finding.words
    assert backing(house, "strap") == []


def test_a_row_across_a_door_is_reported() -> None:
    house = hung({"hang": "handrail"}, [DOOR])
    (words,) = gaps(house)
    assert "opening D1 is in the way" in words


def test_a_pipe_in_the_way_is_reported() -> None:
    """A drain up the cavity takes the place of the strap for more than its width."""
    pipe = {"id": "DR1", "system": "drain", "diameter": "5 in", "wall": "N1"}
    run = pipe | {"path": [["5 ft", "12 in", -30.0], ["5 ft", "60 in", -30.0]]}
    clear = hung({"hang": "handrail"})
    house = hung({"hang": "handrail"}, runs=[run])
    assert gaps(clear) == []
    assert any("something is in the way" in words for words in gaps(house))


def test_board_is_backed_at_corners_and_at_the_ceiling() -> None:
    house = design(plan([{"id": "T1", "wall": "S", "hang": "board"}, {"id": "T2", "wall": "W", "hang": "board"}]))
    assert gaps(house) == []


def test_board_without_a_stud_at_a_corner() -> None:
    """A partition meets a bare wall: the studs that stand there back the board on both sides, and only they."""
    walls = assembly()
    bare = walls.model_copy(update={"layers": tuple(one for one in walls.layers if one.layer == "framing")})
    panel = brief(16 * 12 * INCH, walls=bare, tees=(tee(1500.0),))
    members = frame(panel)
    row = TradeRow("T1", "board", "inner", (0.0, panel.length), None, True, "test")
    assert unbacked(panel, members, [row], RULES) == ()
    left = [member for member in members if member.role is not Role.POST]
    found = unbacked(panel, left, [row], RULES)
    assert [one.code for one in found] == ["backing.gap", "backing.gap"]
    assert all("corner with wall P1" in one.words for one in found)
    topless = [member for member in members if member.role not in (Role.TOP_PLATE, Role.CAP_PLATE)]
    assert {one.point[1] for one in unbacked(panel, topless, [row], RULES) if one.point} == {panel.height - 19.05}


def test_board_around_an_opening() -> None:
    """Jacks, head and sill back its edges; without one of them the edge is reported."""
    walls = assembly()
    bare = walls.model_copy(update={"layers": tuple(one for one in walls.layers if one.layer == "framing")})
    panel = brief(16 * 12 * INCH, 96 * INCH, window(1500.0, 2700.0, 800.0, 2000.0), walls=bare)
    members = frame(panel)
    row = TradeRow("T1", "board", "inner", (0.0, panel.length), None, True, "test")

    def words(*roles: Role) -> list[str]:
        left = [member for member in members if member.role not in roles]
        return [one.words for one in unbacked(panel, left, [row], RULES)]

    assert words() == []
    assert [one.split(" mm ")[1] for one in words(Role.JACK, Role.KING)] == ["beside opening w1: add wood there"] * 2
    assert [one.split(" mm ")[1] for one in words(Role.SILL, Role.CRIPPLE)] == ["below opening w1: add wood there"]
    assert [one.split(" mm ")[1] for one in words(Role.HEAD_PLATE)] == ["above opening w1: add wood there"]


def test_board_under_a_lower_ceiling_gets_a_row() -> None:
    house = hung({"hang": "board", "height": "7 ft"})
    assert middles(backing(house, "strap")) == [84.0]
    assert gaps(house) == []


def plan(trades: list[dict[str, Any]]) -> HouseSpec:
    """Four walls and a partition between them."""
    corners = [
        {"wall": name, "at": at}
        for name, at in zip("SENW", ([0, 0], ["20 ft", 0], ["20 ft", "14 ft"], [0, "14 ft"]), strict=True)
    ]
    level = {
        "id": "1",
        "elevation": 0,
        "height": "97-1/8 in",
        "outlines": [{"assembly": "exterior", "corners": corners}],
        "walls": [{"wall": "P", "assembly": "bare", "start": ["9 ft", 0], "end": ["9 ft", "14 ft"]}],
    }
    return HouseSpec.model_validate(house_data([level], trades=trades), context={"unit": "mm"})


def test_walls_that_are_asked_nothing_stay_as_they_are() -> None:
    def parts(house: House) -> dict[str, tuple[object, ...]]:
        return {one.label: (one.members, one.sheets, one.bays) for one in house.panels if one.wall != "S"}

    assert parts(design(plan([{"id": "T1", "wall": "S", "hang": "kitchen"}]))) == parts(design(plan([])))


SPEC = """
panelgen: 1
house: x
design: {ground_snow: 30 psf, building_width: 24 ft}
assemblies: {a: {layers: [{layer: framing}]}}
levels: [{id: "1", elevation: 0, height: 8 ft, walls: [{wall: A, assembly: a, start: [0, 0], end: [12 ft, 0]}]}]
trades:
"""


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("{id: T, wall: B, hang: kitchen}", "B"),
        ("{id: T, wall: A, hang: piano}", "hang"),
        ("{id: T, wall: A, hang: equipment, height: 5 ft}", "equipment needs a height and a mass"),
        ("{id: T, wall: A, hang: kitchen, height: 5 ft}", "several heights"),
        ("{id: T, wall: A, hang: handrail, start: 4 ft, end: 2 ft}", "end must be greater than start"),
        ("{id: T, wall: A, hang: handrail, start: 4 ft, end: 20 ft}", "beyond the ends of wall A"),
        ("{id: T, wall: A, hang: handrail, height: 9 ft}", "above or below wall A"),
    ],
)
def test_trades_that_cannot_be(row: str, words: str) -> None:
    with pytest.raises(SpecError, match=words):
        loads(f"{SPEC}  - {row}\n")


def test_two_trades_of_one_name() -> None:
    with pytest.raises(SpecError, match="trade"):
        loads(f"{SPEC}  - {{id: T, wall: A, hang: handrail}}\n  - {{id: T, wall: A, hang: grab bar}}\n")
