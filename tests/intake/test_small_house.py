"""A whole small house: schemas, units, with and without axes and flags, always the same spec."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from panelgen.catalog import Catalog
from panelgen.intake import Counts
from tests.intake.drawing import Drawing, lines, seen_from_above, small_house

SHEATHING = Catalog.default().sheet("osb-7/16").thickness
STUD = Catalog.default().stock("2x6").width
MIDDLE = SHEATHING + STUD / 2  # from the weather face of a 200 mm wall to the middle of its framing

IDS = {"A": "South.101", "B": "East.102", "C": "North.103", "D": "West.104", "P": "Partition.105"}
EXPECTED = {
    "South.101": [(MIDDLE, SHEATHING), (6000 - MIDDLE, SHEATHING)],
    "East.102": [(6000 - SHEATHING, MIDDLE), (6000 - SHEATHING, 4000 - MIDDLE)],
    "North.103": [(6000 - MIDDLE, 4000 - SHEATHING), (MIDDLE, 4000 - SHEATHING)],
    "West.104": [(SHEATHING, 4000 - MIDDLE), (SHEATHING, MIDDLE)],
}
PARTITION = [(2550.0, MIDDLE), (2550.0, 4000 - MIDDLE)]


@pytest.mark.parametrize("flags", [True, False], ids=["flags", "no flags"])
@pytest.mark.parametrize("axis", [True, False], ids=["axis", "no axis"])
@pytest.mark.parametrize("unit", ["mm", "m", "ft"])
@pytest.mark.parametrize("schema", ["IFC2X3", "IFC4"])
def test_lines_lie_where_the_model_has_its_walls(
    schema: str, unit: str, axis: bool, flags: bool, tmp_path: Path
) -> None:
    drawing = Drawing(schema, unit)
    small_house(drawing, axis=axis, flags=flags)
    intake, spec = drawing.imported(tmp_path)
    assert intake.counts == Counts(walls=5, walls_taken=5, openings=3, openings_taken=3)
    (level,) = spec.levels
    assert (level.id, level.elevation, level.height) == ("1", 0.0, 2400.0)
    found = lines(spec)
    for wall, ends in EXPECTED.items():
        line = found[wall]
        assert (line.exterior, line.along, line.height, line.assembly) == (True, "outer face", None, "exterior-2x6")
        np.testing.assert_allclose([line.start, line.end], ends, atol=0.1)
    partition = found[IDS["P"]]
    assert (partition.exterior, partition.along, partition.height) == (False, "center", 2300.0)
    assert spec.assemblies[partition.assembly].framing.stock == "2x4"
    np.testing.assert_allclose(sorted([partition.start, partition.end]), PARTITION, atol=0.1)


@pytest.mark.parametrize("unit", ["mm", "m", "ft"])
def test_openings_lie_where_the_model_has_them(unit: str, tmp_path: Path) -> None:
    drawing = Drawing("IFC4", unit)
    small_house(drawing)
    _, spec = drawing.imported(tmp_path)
    walls = lines(spec)
    openings = {opening.id: opening for opening in spec.openings}
    middles = {
        "Fixed.201": (1600.0, SHEATHING),
        "Single.202": (1550.0, 4000 - SHEATHING),
        "Single.203": (2550.0, 2100.0),
    }
    sizes = {"Fixed.201": ("window", 1200, 1100), "Single.202": ("door", 900, 2050), "Single.203": ("door", 800, 2030)}
    for name, middle in middles.items():
        line, unit_type = walls[openings[name].wall], spec.unit_types[openings[name].type]
        np.testing.assert_allclose(seen_from_above(line.start, line.end, openings[name].center), middle, atol=0.15)
        assert (unit_type.kind, unit_type.width, unit_type.height) == sizes[name]
    window = openings["Fixed.201"]
    assert window.rough_opening(spec.unit_types[window.type])[1] == pytest.approx(900 - 12.7)  # the unit keeps its sill
    assert [openings[name].sill for name in ("Single.202", "Single.203")] == [None, None]


def test_weather_side_is_on_the_right_however_the_model_draws_the_wall(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    for n, (at, degrees, length) in enumerate(
        [((6000, 100), 180, 6000), ((5900, 3800), 270, 3600), ((0, 3900), 0, 6000), ((100, 200), 90, 3600)]
    ):
        drawing.wall(f"W{n}", at, degrees, length, IsExternal=True)
    _, spec = drawing.imported(tmp_path)
    for line in lines(spec).values():
        (x0, y0), (x1, y1) = line.start, line.end
        cross = (x1 - x0) * (2000 - y0) - (y1 - y0) * (3000 - x0)
        assert cross > 0, f"the middle of the house is left of {line.wall}"


@pytest.mark.parametrize("degrees", [0.0, 17.0, 45.0, 203.5])
def test_a_turned_house_keeps_its_shape(degrees: float, tmp_path: Path) -> None:
    drawing = Drawing("IFC4", "m")
    drawing.building.ObjectPlacement = drawing.local((1000, -2000, 0), degrees)
    small_house(drawing)
    _, spec = drawing.imported(tmp_path)
    turn = math.radians(degrees)
    matrix = np.array([(math.cos(turn), -math.sin(turn)), (math.sin(turn), math.cos(turn))])
    for wall, ends in EXPECTED.items():
        line = lines(spec)[wall]
        np.testing.assert_allclose([line.start, line.end], np.array(ends) @ matrix.T + (1000, -2000), atol=0.1)


def test_a_house_far_from_the_origin_is_moved_by_whole_metres(tmp_path: Path) -> None:
    drawing = Drawing("IFC4", "m")
    drawing.building.ObjectPlacement = drawing.local((448_000_500, 5_400_000_250, 0))
    small_house(drawing)
    intake, spec = drawing.imported(tmp_path)
    np.testing.assert_allclose(lines(spec)["South.101"].start, np.add(EXPECTED["South.101"][0], (500, 250)), atol=0.1)
    assert "its origin is the model's (448000000, 5400000000) mm" in intake.spec_text


def test_the_same_model_gives_the_same_text(tmp_path: Path) -> None:
    drawing = Drawing()
    small_house(drawing)
    first, _ = drawing.imported(tmp_path)
    second, _ = drawing.imported(tmp_path)
    assert first == second
