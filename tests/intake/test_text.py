"""The text: what a person reads first, and names from the model that must not break it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from panelgen.intake.lengths import written
from panelgen.intake.names import Ids, comment, family_id, house_name, type_id
from panelgen.intake.remarks import Remarks
from panelgen.intake.text import write
from panelgen.spec.quantities import ID_PATTERN
from tests.intake.drawing import Drawing, small_house

HOSTILE = "Wall\nlevels: []\r\n\x85 \u2028 # \"x' {a: *b} \x00\x1b[31m ../.."


def test_the_head_says_where_it_comes_from_and_what_to_review(tmp_path: Path) -> None:
    drawing = Drawing()
    small_house(drawing)
    text = drawing.imported(tmp_path)[0].spec_text
    head = text.splitlines()
    assert head[0] == "# House spec made by 'panelgen import' from model.ifc (IFC4)."
    assert head[1] == "# Taken: 5 of 5 walls and 3 of 3 openings; what was not is listed at the end with the reason."
    for field in ("ground_snow", "building_width", "line_length", "line_height"):
        assert re.search(rf"^  {field}: .+  # PLACEHOLDER: .+; confirm$", text, re.MULTILINE)
    assert text.endswith("\n# Everything in the model that is a wall or an opening came through.\n")


def test_what_was_left_is_listed_at_the_end(tmp_path: Path) -> None:
    drawing = Drawing()
    small_house(drawing)
    tiles = drawing.wall("Tiles", (0, 9000), thickness=13)
    text = drawing.imported(tmp_path)[0].spec_text
    line = f"#   wall Tiles [{tiles.GlobalId}]: a finish, not a framed wall: only 13 mm thick"
    assert text.splitlines()[-2:] == ["# Not taken:", line]


def test_the_width_is_the_shorter_side_of_the_exterior_walls(tmp_path: Path) -> None:
    drawing = Drawing()
    small_house(drawing)
    assert drawing.imported(tmp_path)[1].design.building_width == pytest.approx(4000 - 2 * 7 / 16 * 25.4, abs=0.1)


def test_hostile_names_stay_in_their_comments(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.project.Name = HOSTILE
    drawing.storey(HOSTILE)
    wall = drawing.wall(HOSTILE, IsExternal=False)
    drawing.material(wall, HOSTILE)
    drawing.filling("IfcDoor", HOSTILE, 900, 2050, drawing.opening(wall, 1000, 900, 0, 2050))
    intake, spec = drawing.imported(tmp_path)
    assert len(spec.levels) == len(spec.levels[0].walls) == len(spec.openings) == 1
    assert "\x1b" not in intake.spec_text
    assert spec.house.startswith("Wall levels")


@given(st.text())
def test_a_comment_is_one_printable_line(text: str) -> None:
    assert comment(text).isprintable()
    assert yaml.safe_load(f"a: 1 # {comment(text)}\n# {comment(text)}\nb: 2") == {"a": 1, "b": 2}


@given(st.lists(st.text(max_size=60), max_size=8))
def test_ids_are_ids_and_unique(names: list[str]) -> None:
    ids = Ids()
    found = [ids.unique(make(name, "wall")) for name in names for make in (type_id, family_id)]
    assert all(re.fullmatch(ID_PATTERN, name) for name in found)
    assert len(set(found)) == len(found)


@pytest.mark.parametrize(
    ("name", "of_type", "of_family"),
    [
        ("Basic Wall:Exterior - Brick:138062", "Exterior-Brick.138062", "Basic-Wall.138062"),
        ("M_Fixed:819mm x 759mm:819mm x 759mm:147994", "819mm-x-759mm.147994", "M_Fixed.147994"),
        ("Küche – Wand 3", "Kuche-Wand-3", "Kuche-Wand-3"),
        ("", "x", "x"),
        (":::", "x", "x"),
        ("12345", "12345", "12345"),
        ("W" * 60 + ":9", "W" * 38 + ".9", "W" * 38 + ".9"),
    ],
)
def test_ids_from_names(name: str, of_type: str, of_family: str) -> None:
    assert (type_id(name, "x"), family_id(name, "x")) == (of_type, of_family)


@pytest.mark.parametrize(
    ("wishes", "name"),
    [
        (("// PROJECT/NUMBER //",), "PROJECT NUMBER"),
        (("", None, "../../etc", "x"), "etc"),
        (("...", "--"), "house"),
        (("Tern Cottage.",), "Tern Cottage"),
        (("x" * 200,), "x" * 80),
    ],
)
def test_house_names(wishes: tuple[str | None, ...], name: str) -> None:
    assert house_name(*wishes) == name


@given(st.floats(-1e7, 1e7))
def test_written_lengths_are_numbers_to_the_tenth(value: float) -> None:
    text = written(value)
    assert abs(float(text) - value) <= 0.05 + 1e-6
    assert not text.startswith("-0") or float(text) != 0
    assert re.fullmatch(r"-?\d+(\.[1-9])?", text)


plane = st.characters(codec="utf-8", max_codepoint=0xFFFD)
scalars = st.none() | st.booleans() | st.integers(-(10**6), 10**6) | st.text(plane, max_size=20)
flat = st.dictionaries(st.text("abcxyz019 .-_'\"#", min_size=1, max_size=8), scalars, max_size=4)


@given(
    st.dictionaries(
        st.sampled_from(["design", "unit_types"]), st.dictionaries(st.text(plane, max_size=6), flat, min_size=1)
    )
)
def test_what_is_written_reads_back(data: dict[str, object]) -> None:
    assert (yaml.safe_load(write(data, Remarks((), {}, ()))) or {}) == data
