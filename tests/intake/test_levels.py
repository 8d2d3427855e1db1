"""Levels: storeys of the model, divided by where the walls really stand."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.intake.drawing import Drawing, level_of, lines


def test_storeys_are_levels(tmp_path: Path) -> None:
    drawing = Drawing("IFC2X3", "m")
    for name, elevation in (("Level 1", 0), ("Level 2", 2700), ("Roof", 5400)):
        drawing.storey(name, elevation)
        drawing.wall(f"Wall of {name}", height=2400)
    _, spec = drawing.imported(tmp_path)
    assert [(level.id, level.elevation, level.height) for level in spec.levels] == [
        ("1", 0, 2400), ("2", 2700, 2400), ("R", 5400, 2400),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "id"),
    [
        ("Level 2", "2"), ("00 groundfloor", "0"), ("Ground floor", "GF"), ("T/FDN", "TF"), ("Dachgeschoß", "D"),
        ("", "L"), ("二階", "L"), ("Level 1042", "10"),
    ],
)  # fmt: skip
def test_ids_come_from_names(name: str, id: str, tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey(name)
    drawing.wall()
    assert drawing.imported(tmp_path)[1].levels[0].id == id


def test_equal_names_get_ids_of_their_own(tmp_path: Path) -> None:
    drawing = Drawing()
    for elevation in (0, 3000, 6000):
        drawing.storey("Level 1", elevation)
        drawing.wall()
    assert [level.id for level in drawing.imported(tmp_path)[1].levels] == ["1", "1A", "1B"]


def test_walls_that_stand_elsewhere_get_a_level_without_a_floor(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("Level 1")
    for n in range(3):
        drawing.wall(f"Wall {n}", (0, 3000 * n))
    drawing.wall("Stair wall", (0, 20_000, 1500), height=3000)
    drawing.storey("Level 2", 2700)
    drawing.wall("Upper")
    intake, spec = drawing.imported(tmp_path)
    stair = level_of(spec, "Stair-wall")
    assert (stair.id, stair.elevation, stair.height, stair.has_floor) == ("1A", 1500, 3000, False)
    assert [level.has_floor for level in spec.levels if level.id in ("1", "2")] == [True, True]
    assert "storey 'Level 1' of the model: walls that stand 1500 mm above its elevation" in intake.spec_text


def test_parapets_carry_no_floor_and_their_flag_is_believed(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("Roof", 5400)
    drawing.wall("Parapet", height=600, IsExternal=True, LoadBearing=False)
    _, spec = drawing.imported(tmp_path)
    assert spec.levels[0].has_floor is False
    assert lines(spec)["Parapet"].bearing is False


def test_a_level_has_the_height_of_most_of_its_walls(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    for n, height in enumerate((2400, 2700, 2400, 2400, 2200)):
        drawing.wall(f"W{n}", (0, 3000 * n), height=height)
    _, spec = drawing.imported(tmp_path)
    assert spec.levels[0].height == 2400
    assert [line.height for line in spec.levels[0].walls] == [None, 2700, None, None, 2200]


def test_walls_that_reach_past_the_next_floor_give_their_own_height(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    drawing.wall("Tall", height=3100)
    drawing.storey("2", 2800)
    drawing.wall("Upper", height=2400)
    _, spec = drawing.imported(tmp_path)
    assert spec.levels[0].height == 2800
    assert lines(spec)["Tall"].height == 3100


def test_a_wall_in_no_storey_belongs_to_the_one_below_it(tmp_path: Path) -> None:
    drawing = Drawing()
    for name, elevation in (("Level 1", 0), ("Level 2", 2700)):
        drawing.storey(name, elevation)
    drawing.now = None
    drawing.wall("Loose", (0, 0, 2700))
    assert level_of(drawing.imported(tmp_path)[1], "Loose").id == "2"


def test_a_model_without_storeys(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.wall("Loose", (0, 0, 300))
    level = level_of(drawing.imported(tmp_path)[1], "Loose")
    assert (level.id, level.elevation) == ("L", 300)
