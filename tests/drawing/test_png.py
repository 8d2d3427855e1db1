"""A PNG shows the same drawing, without a screen, the same each time."""

from __future__ import annotations

from io import BytesIO

import pytest
from PIL import Image

from panelgen.drawing.elevation import draw_elevation
from panelgen.drawing.looks import LOOKS, Look
from panelgen.drawing.marks import Spot
from panelgen.drawing.page import Area, Disc, Drawing, Line, Text
from panelgen.drawing.png import write_png
from panelgen.model.palette import OKABE_ITO
from tests.factories import wall_panel

WHITE = (255, 255, 255)
SQUARE = ((20.0, 20.0), (20.0, 80.0), (80.0, 80.0), (80.0, 20.0))
HOLE = ((40.0, 40.0), (60.0, 40.0), (60.0, 60.0), (40.0, 60.0))


def picture(*shapes: object, scale: float = 1.0) -> Image.Image:
    return Image.open(BytesIO(write_png(Drawing(100.0, 100.0, shapes, "t", "a"), scale)))


def dark(image: Image.Image, x: int, y: int) -> bool:
    return sum(image.getpixel((x, y))) < 3 * 128


def test_size_is_the_page_times_the_scale() -> None:
    assert picture().size == (100, 100)
    assert picture(scale=1.5).size == (150, 150)
    assert picture().format == "PNG"


def test_area_is_filled_and_its_cut_out_is_not() -> None:
    image = picture(Area((SQUARE, HOLE), Look.NAIL))
    assert dark(image, 30, 30)
    assert image.getpixel((50, 50)) == WHITE
    assert image.getpixel((10, 10)) == WHITE


def test_fill_is_as_faint_as_its_look() -> None:
    red, green, blue = picture(Area((SQUARE,), Look.INVOLVED)).getpixel((50, 50))
    wanted = [255 + (full - 255) * LOOKS[Look.INVOLVED].opacity for full in OKABE_ITO["vermillion"]]
    assert (red, green, blue) == pytest.approx(wanted, abs=2)


def test_line_is_as_wide_as_its_look_and_dashed_where_that_is() -> None:
    image = picture(Line(((10.0, 50.0), (90.0, 50.0)), Look.OUTER))
    row = [image.getpixel((x, 50)) != WHITE for x in range(10, 90)]
    dash, gap = LOOKS[Look.OUTER].dash
    assert sum(row) / len(row) == pytest.approx(dash / (dash + gap), abs=0.1)
    assert all(dark(picture(Line(((10.0, 50.0), (90.0, 50.0)), Look.RULE)), x, 50) for x in range(10, 90))


def test_dashes_go_on_around_corners() -> None:
    image = picture(Area((SQUARE,), Look.OUTER))
    sides = [[image.getpixel((x, 20)) for x in range(20, 80)], [image.getpixel((20, y)) for y in range(20, 80)]]
    for side in sides:
        drawn = [pixel != WHITE for pixel in side]
        assert 0.5 < sum(drawn) / len(drawn) < 0.9


def test_disc_and_round_line_without_length_are_round() -> None:
    ring = picture(Disc((50.0, 50.0), 20.0, Look.SPOT))
    assert ring.getpixel((70, 50)) == OKABE_ITO["vermillion"]
    assert ring.getpixel((50, 50)) == WHITE
    badge = picture(Line(((50.0, 50.0), (50.0, 50.0)), Look.BADGE))
    assert dark(badge, 50, 50)
    assert dark(badge, 57, 50)
    assert not dark(badge, 58, 58)


@pytest.mark.parametrize(("anchor", "inside"), [("start", (50, 80)), ("middle", (35, 65)), ("end", (20, 50))])
def test_words_stand_at_their_anchor(anchor: str, inside: tuple[int, int]) -> None:
    image = picture(Text((50.0, 50.0), "HHH", Look.CAPTION, anchor))
    columns = [x for x in range(100) if any(dark(image, x, y) for y in range(44, 56))]
    assert inside[0] - 1 <= min(columns) <= max(columns) <= inside[1] + 1


def test_spot_of_an_elevation_is_where_the_drawing_has_it() -> None:
    drawing = draw_elevation(wall_panel(), ["r0"], [Spot(1, 2000.0, 1500.0)])
    (ring,) = [shape for shape in drawing.shapes if isinstance(shape, Disc) and shape.look is Look.SPOT]
    image = Image.open(BytesIO(write_png(drawing, 1.0)))
    edge = (round(ring.centre[0] + ring.radius), round(ring.centre[1]))
    assert image.getpixel(edge) == pytest.approx(OKABE_ITO["vermillion"], abs=40)


def test_same_drawing_gives_the_same_bytes() -> None:
    drawing = draw_elevation(wall_panel(), ["r0"], [Spot(1, 2000.0, 1500.0)])
    assert write_png(drawing) == write_png(drawing)
