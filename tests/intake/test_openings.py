"""Openings: taken with their unit, or left with the reason."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from panelgen.intake import Intake
from panelgen.spec import HouseSpec, OpeningSpec, UnitType
from tests.intake.drawing import Drawing, reasons

STUD = 3.5 * 25.4  # PS 20: a 2x4 is 3-1/2 in. wide


class Room:
    """One interior wall of 4000 by 115 by 2400 mm to cut openings in."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.drawing = Drawing()
        self.drawing.storey("1")
        self.wall: Any = self.drawing.wall("Wall", thickness=115, IsExternal=False)

    def read(self) -> tuple[Intake, HouseSpec]:
        return self.drawing.imported(self.folder)

    def only(self) -> tuple[OpeningSpec, UnitType, tuple[str, ...]]:
        intake, spec = self.read()
        (opening,), (taken,) = spec.openings, intake.taken_openings
        return opening, spec.unit_types[opening.type], taken.notes

    def refused(self) -> str:
        intake, spec = self.read()
        assert spec.openings == ()
        (left,) = intake.left
        return left.reason


@pytest.fixture
def room(tmp_path: Path) -> Room:
    return Room(tmp_path)


def test_an_opening_drawn_as_large_as_its_unit_gets_the_usual_clearance(room: Room) -> None:
    room.drawing.filling("IfcWindow", "W", 900, 1200, room.drawing.opening(room.wall, 1000, 900, 800, 1200))
    opening, unit, notes = room.only()
    assert opening.rough_opening(unit) == pytest.approx((987.3, 787.3, 1912.7, 2012.7))
    assert (unit.width, unit.height, notes) == (900, 1200, ())


def test_an_opening_drawn_as_a_rough_opening_keeps_its_size(room: Room) -> None:
    room.drawing.filling("IfcWindow", "W", 900, 1200, room.drawing.opening(room.wall, 1000, 920, 800, 1230))
    opening, unit, _ = room.only()
    assert opening.rough_opening(unit) == pytest.approx((1000, 800, 1920, 2030))
    assert (unit.width, unit.height) == (900, 1200)


def test_a_door_on_a_finished_floor_keeps_its_head(room: Room) -> None:
    room.drawing.filling("IfcDoor", "D", 900, 2050, room.drawing.opening(room.wall, 1000, 900, 25, 2050))
    opening, unit, _ = room.only()
    assert opening.sill is None
    assert opening.rough_opening(unit) == pytest.approx((987.3, 0, 1912.7, 25 + 2050 + 12.7))


def test_a_door_higher_up_keeps_its_place(room: Room) -> None:
    room.drawing.filling("IfcDoor", "D", 900, 1500, room.drawing.opening(room.wall, 1000, 900, 488, 1500))
    opening, unit, _ = room.only()
    assert opening.rough_opening(unit) == pytest.approx((987.3, 488, 1912.7, 488 + 1500 + 12.7))


def test_a_window_down_to_the_floor_has_a_sill_height_of_nothing(room: Room) -> None:
    room.drawing.filling("IfcWindow", "W", 900, 2000, room.drawing.opening(room.wall, 1000, 900, 5, 2000))
    assert room.only()[0].sill == 0.0


def test_swapped_unit_sizes_give_way_to_the_opening(room: Room) -> None:
    room.drawing.filling("IfcDoor", "D", 2050, 900, room.drawing.opening(room.wall, 1000, 900, 0, 2050))
    _, unit, notes = room.only()
    assert (unit.width, unit.height) == (900, 2050)
    (note,) = notes
    assert note.startswith("the model gives 2050 × 900 mm for the unit and 900 × 2050 mm for its opening: ")


def test_a_unit_without_a_size_takes_that_of_its_opening(room: Room) -> None:
    room.drawing.filling("IfcDoor", "D", 0, 0, room.drawing.opening(room.wall, 1000, 900, 0, 2050))
    _, unit, notes = room.only()
    assert (unit.width, unit.height) == (900, 2050)
    assert notes == ("no unit size: the size of the opening is used; confirm",)


def test_a_bare_opening_is_taken_as_it_is(room: Room) -> None:
    room.drawing.opening(room.wall, 1000, 900, 0, 2050)
    opening, unit, _ = room.only()
    assert unit.kind == "opening"
    assert opening.rough_opening(unit) == (1000, 0, 1900, 2050)


def test_equal_units_share_a_type(room: Room) -> None:
    for x in (500, 2000):
        room.drawing.filling("IfcWindow", "W", 900, 1200, room.drawing.opening(room.wall, x, 900, 800, 1200))
    _, spec = room.read()
    assert [opening.id for opening in spec.openings] == ["W", "W-2"]
    assert list(spec.unit_types) == ["window 900 x 1200"]


def test_a_round_window_is_taken_as_its_rectangle(room: Room) -> None:
    void = room.drawing.opening(room.wall, 0, 0, 0, 0, body=room.drawing.round_void(2000, 1500, 400))
    room.drawing.filling("IfcWindow", "Eye", 800, 800, void)
    opening, unit, notes = room.only()
    assert (unit.width, unit.height, opening.center) == (800, 800, 2000)
    assert "not rectangular in the model: taken as the rectangle around it" in notes


def test_a_round_opening_without_a_unit_is_for_services(room: Room) -> None:
    room.drawing.opening(room.wall, 0, 0, 0, 0, body=room.drawing.round_void(2000, 1500, 400))
    assert room.refused().startswith("it is not rectangular and has no window or door")


def test_a_small_opening_without_a_unit_is_for_services(room: Room) -> None:
    room.drawing.opening(room.wall, 1000, 150, 2000, 100)
    assert room.refused().startswith("a hole for services, 150 × 100 mm")


def test_a_recess_does_not_go_through(room: Room) -> None:
    room.drawing.opening(room.wall, 1000, 900, 500, 900, across=(-57.5, 0))
    assert room.refused() == "it does not go through the wall: 57.5 of 115 mm"


@pytest.mark.parametrize(("x", "end"), [(5, "start"), (3095, "end")])
def test_an_opening_at_the_end_of_the_wall(x: float, end: str, room: Room) -> None:
    room.drawing.filling("IfcWindow", "W", 900, 1200, room.drawing.opening(room.wall, x, 900, 800, 1200))
    assert f"beyond the {end} of the wall" in room.refused()


def test_an_opening_through_the_top(room: Room) -> None:
    room.drawing.filling("IfcWindow", "W", 900, 1200, room.drawing.opening(room.wall, 1000, 900, 1190, 1200))
    assert "above the top of the wall" in room.refused()


def test_the_later_of_two_overlapping_openings_is_left(room: Room) -> None:
    room.drawing.filling("IfcWindow", "First", 900, 1200, room.drawing.opening(room.wall, 1000, 900, 800, 1200))
    room.drawing.filling("IfcWindow", "Second", 900, 1200, room.drawing.opening(room.wall, 1910, 900, 800, 1200))
    intake, spec = room.read()
    assert [opening.id for opening in spec.openings] == ["First"]
    assert reasons(intake)["Second"] == "its rough opening overlaps that of First"


def test_an_opening_that_names_the_wrong_wall_is_found_by_its_place(room: Room) -> None:
    other = room.drawing.wall("Other", (0, 5000), thickness=115, IsExternal=False)
    void = room.drawing.opening(other, 1000, 900, 0, 2050, inside=room.wall)
    room.drawing.filling("IfcDoor", "D", 900, 2050, void)
    opening, _, notes = room.only()
    assert opening.wall == "Wall"
    assert notes == ("the model names another wall for it: found by its place; confirm",)


def test_an_opening_in_no_wall(room: Room) -> None:
    nowhere = room.drawing.wall("Nowhere", (0, 5000), thickness=115, IsExternal=False)
    room.drawing.opening(room.wall, 5000, 900, 0, 2050, inside=nowhere)
    assert room.refused() == "it is in no wall that was taken"


def test_an_opening_of_a_wall_that_was_not_taken_gives_its_reason(room: Room) -> None:
    finish = room.drawing.wall("Finish", (0, 5000), thickness=13)
    room.drawing.filling("IfcDoor", "D", 900, 2050, room.drawing.opening(finish, 1000, 900, 0, 2050))
    intake, _ = room.read()
    assert reasons(intake)["D"] == f"its wall was not taken: {reasons(intake)['Finish']}"


def test_a_roof_window(room: Room) -> None:
    roof = room.drawing.rooted("IfcRoof", Name="Roof", ObjectPlacement=room.drawing.local((0, 0, 3000)))
    room.drawing.filling("IfcWindow", "Sky", 900, 900, room.drawing.opening(roof, 1000, 900, 0, 900))
    assert room.refused() == "it is in a roof, not in a wall"


def test_a_void_in_a_slab_is_nobodys_window(room: Room) -> None:
    slab = room.drawing.rooted("IfcSlab", Name="Slab", ObjectPlacement=room.drawing.local((0, 0, 3000)))
    room.drawing.opening(slab, 1000, 900, 0, 900)
    intake, _ = room.read()
    assert (intake.counts.openings, intake.left) == (0, ())


def test_a_door_that_fills_no_opening_is_found_by_its_place(room: Room) -> None:
    room.drawing.filling("IfcDoor", "D", 900, 2050, at=(room.wall, 1000, 0))
    opening, unit, notes = room.only()
    assert (opening.center, unit.kind, unit.width, unit.height) == (1450, "door", 900, 2050)
    assert notes == ("the model links it to no opening: found by its place; confirm",)


def test_a_door_that_stands_in_an_unfilled_opening_is_its_unit(room: Room) -> None:
    room.drawing.opening(room.wall, 990, 920, 0, 2070)
    room.drawing.filling("IfcDoor", "D", 900, 2050, at=(room.wall, 1000, 0))
    opening, unit, _ = room.only()
    assert (unit.kind, unit.width) == ("door", 900)
    assert opening.rough_opening(unit) == pytest.approx((990, 0, 1910, 2070))


@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4"])
def test_an_opening_already_cut_from_the_body(schema: str, tmp_path: Path) -> None:
    drawing = Drawing(schema)
    drawing.storey("1")
    body = drawing.pierced(4000, 115, 2400, (1000, 800, 1900, 2000))
    drawing.wall("Wall", bodies=[body], IsExternal=False)
    intake, spec = drawing.imported(tmp_path)
    (opening,) = spec.openings
    assert opening.rough_opening(spec.unit_types[opening.type]) == pytest.approx((1000, 800, 1900, 2000), abs=0.2)
    assert intake.taken_openings[0].notes == ("cut from the wall's body, with no window or door in the model; confirm",)


def test_a_door_cut_from_the_foot_of_the_body(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    ring = [(0, 0), (1000, 0), (1000, 2050), (1900, 2050), (1900, 0), (4000, 0), (4000, 2400), (0, 2400)]
    wall = drawing.wall("Wall", bodies=[drawing.upright(ring, 115)], IsExternal=False)
    drawing.filling("IfcDoor", "D", 880, 2030, at=(wall, 1010, 0))
    _, spec = drawing.imported(tmp_path)
    (opening,) = spec.openings
    unit = spec.unit_types[opening.type]
    assert unit.kind == "door"
    assert opening.rough_opening(unit) == pytest.approx((1000, 0, 1900, 2050), abs=0.2)


def test_a_wall_cut_in_two_by_a_full_height_opening(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    bodies = [drawing.block(1500, 115, 2400), drawing.block(1600, 115, 2400, x0=2400)]
    drawing.wall("Wall", bodies=bodies, IsExternal=False)
    intake, spec = drawing.imported(tmp_path)
    assert intake.counts.walls_taken == 1
    assert spec.openings == ()
    assert "above the top of the wall" in reasons(intake)["hole in Wall"]
