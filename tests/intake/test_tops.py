"""Tops of walls: level, gable, single slope, or cut level with a remark."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from panelgen.intake.elevations import top_over
from panelgen.intake.records import NotTakenError
from tests.intake.drawing import Drawing, lines, reasons


def drawn(ring: list[tuple[float, float]]) -> Drawing:
    drawing = Drawing()
    drawing.storey("1")
    drawing.wall("Wall", bodies=[drawing.upright(ring, 140)], IsExternal=False)
    drawing.wall("Other", (0, 20_000), IsExternal=False)
    return drawing


def test_a_gable(tmp_path: Path) -> None:
    drawing = drawn([(0, 0), (4000, 0), (4000, 2400), (2000, 3400), (0, 2400)])
    wall = lines(drawing.imported(tmp_path)[1])["Wall"]
    assert wall.height is None
    assert wall.gable is not None
    np.testing.assert_allclose(wall.gable.top(4000), ((0, 2400), (2000, 3400), (4000, 2400)), atol=0.2)


def test_a_gable_off_the_middle(tmp_path: Path) -> None:
    drawing = drawn([(0, 0), (4000, 0), (4000, 2100), (1400, 3400), (0, 2700)])
    wall = lines(drawing.imported(tmp_path)[1])["Wall"]
    assert wall.gable is not None
    np.testing.assert_allclose(wall.gable.top(4000), ((0, 2700), (1400, 3400), (4000, 2100)), atol=0.2)


@pytest.mark.parametrize(("left", "right"), [(2400, 3000), (3000, 2400)])
def test_a_single_slope(left: float, right: float, tmp_path: Path) -> None:
    drawing = drawn([(0, 0), (4000, 0), (4000, right), (0, left)])
    wall = lines(drawing.imported(tmp_path)[1])["Wall"]
    assert wall.gable is not None
    np.testing.assert_allclose(wall.gable.top(4000), ((0, left), (4000, right)), atol=0.2)


def test_a_slope_goes_on_to_the_middle_of_the_framing_it_meets(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    ring = [(0, 0), (4000, 0), (4000, 2800), (0, 2400)]
    drawing.wall("Wall", (100, 0), bodies=[drawing.upright(ring, 140)], IsExternal=False)
    drawing.wall("Cross", (0, -2000), 90, 4000, IsExternal=False)
    wall = lines(drawing.imported(tmp_path)[1])["Wall"]
    assert (wall.start, wall.end) == ((0, 0), (4100, 0))
    assert wall.gable is not None
    np.testing.assert_allclose(wall.gable.top(4100), ((0, 2390), (4100, 2800)), atol=0.2)


def test_a_slope_that_would_run_into_the_ground_stays_on_the_body(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    ring = [(0, 0), (4000, 0), (4000, 1600), (0, 10)]
    drawing.wall("Wall", (100, 0), bodies=[drawing.upright(ring, 140)], IsExternal=False)
    drawing.wall("Cross", (0, -2000), 90, 4000, IsExternal=False)
    wall = lines(drawing.imported(tmp_path)[1])["Wall"]
    assert wall.start == (100, 0)
    assert wall.gable is not None
    assert wall.gable.eave == pytest.approx(10)


def test_a_stepped_top_is_cut_level_and_remarked(tmp_path: Path) -> None:
    drawing = drawn([(0, 0), (4000, 0), (4000, 2000), (2000, 2000), (2000, 2400), (0, 2400)])
    intake, spec = drawing.imported(tmp_path)
    assert lines(spec)["Wall"].height == 2000
    assert "cut level at its lowest point; confirm" in intake.spec_text


def test_a_top_that_comes_down_to_the_floor_between_is_left(tmp_path: Path) -> None:
    drawing = drawn([(0, 0), (4000, 0), (4000, 2400), (2000, 200), (0, 2400)])
    assert "neither level, nor one slope, nor a gable" in reasons(drawing.imported(tmp_path)[0])["Wall"]


def test_the_top_of_a_line_shorter_than_its_body() -> None:
    top = top_over(((0.0, 2400.0), (2000.0, 3400.0), (4000.0, 2400.0)), 100.0, 3900.0)
    assert (top.peak, top.eave, top.at(0.0), top.at(1900.0)) == (1900.0, 2450.0, 2450.0, 3400.0)


def test_a_peak_cut_off_by_a_neighbour_is_no_gable() -> None:
    with pytest.raises(NotTakenError, match="neither"):
        top_over(((0.0, 100.0), (100.0, 200.0), (4000.0, -3700.0)), 150.0, 4000.0)
