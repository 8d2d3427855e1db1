"""Material layers: the stud layer decides the framing and where it lies."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.intake.materials import Makeup, Ply
from tests.intake.drawing import Drawing, lines

FURRING = [("Metal - Stud Layer", 136.0), ("Plasterboard", 16.0)]
TIMBER = [
    ("Cladding", 22.0), ("Air gap", 28.0), ("Sheathing board", 12.0), ("Timber stud", 140.0), ("Lining board", 25.0),
]  # fmt: skip


@pytest.mark.parametrize("turn", [0, 180], ids=["drawn along x", "drawn against x"])
@pytest.mark.parametrize("sense", ["NEGATIVE", "POSITIVE"])
def test_framing_lies_in_the_stud_layer(sense: str, turn: int, tmp_path: Path) -> None:
    drawing = Drawing("IFC2X3", "ft")
    drawing.storey("1")
    wall = drawing.wall("Furring", (0, 0) if turn == 0 else (4000, 0), turn, 4000, 152, IsExternal=False)
    drawing.layers(wall, FURRING, 76 if sense == "NEGATIVE" else -76, sense)
    line = lines(drawing.imported(tmp_path)[1])["Furring"]
    studs_below = (sense == "POSITIVE") == (turn == 0)  # the first layer, 136 of 152 mm, lies at the -y face
    assert line.assembly == "interior-2x6"
    assert line.start[1] == pytest.approx(-8 if studs_below else 8, abs=0.05)


def test_an_exterior_wall_is_drawn_at_the_weather_face_of_its_studs(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    wall = drawing.wall("Front", (0, 0), 0, 4000, 227, IsExternal=True)
    drawing.layers(wall, TIMBER, 113.5)  # cladding at +y
    line = lines(drawing.imported(tmp_path)[1])["Front"]
    studs_middle = 113.5 - 22 - 28 - 12 - 70
    assert line.assembly == "exterior-2x6"
    assert line.start[0] > line.end[0]  # walked with the first layer, the outermost, on the right
    assert line.start[1] == pytest.approx(studs_middle + Catalog.default().stock("2x6").width / 2, abs=0.1)


def test_layers_that_do_not_add_up_to_the_body_have_no_place(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    wall = drawing.wall("Odd", (0, 0), 0, 4000, 124, IsExternal=False)
    drawing.layers(wall, [("Stud", 92.0), ("Plasterboard", 16.0)], 62)
    line = lines(drawing.imported(tmp_path)[1])["Odd"]
    assert (line.assembly, line.start[1]) == ("interior-2x4", 0.0)


sizes = st.lists(st.floats(5, 200), min_size=1, max_size=6)


@given(sizes)
def test_the_core_is_the_thickest_of_several_layers(thicknesses: list[float]) -> None:
    makeup = Makeup(tuple(Ply("wood", size) for size in thicknesses), ("wood",))
    core = makeup.core
    assert (core is None) == (len(thicknesses) == 1)
    assert core is None or core.thickness == max(thicknesses)


@given(st.lists(st.floats(-100, 100), min_size=1, max_size=4))
def test_mirroring_twice_changes_nothing(middles: list[float]) -> None:
    makeup = Makeup(tuple(Ply("x", 10.0, middle) for middle in middles))
    assert makeup.mirrored().mirrored() == makeup
    assert [ply.middle for ply in makeup.mirrored().plies] == [-middle for middle in middles]
