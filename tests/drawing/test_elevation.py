"""An elevation shows the panel to scale, marks what is asked, and keeps its words apart."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.drawing.elevation import View, draw_elevation
from panelgen.drawing.labels import overlap
from panelgen.drawing.looks import LOOKS, Look
from panelgen.drawing.marks import Spot, number_words, text_width
from panelgen.drawing.page import Area, Disc, Drawing, Line, Rectangle, Text, beside
from panelgen.model import Opening, PanelKind
from tests.factories import WHY, raked_panel, wall_panel

WINDOW = Opening("W1", "window", 1524.0, 2724.0, 914.4, 2057.4, 1180.0, 1120.0, None, WHY)
PANEL = replace(wall_panel(), openings=(WINDOW,), fittings=())
NEAR = (1400.0, 800.0, 2000.0, 1400.0)


def texts(drawing: Drawing, look: Look) -> list[Text]:
    return [shape for shape in drawing.shapes if isinstance(shape, Text) and shape.look is look]


def words(drawing: Drawing, look: Look) -> list[str]:
    return [text.words for text in texts(drawing, look)]


def rings(drawing: Drawing) -> list[tuple[float, float]]:
    return [shape.centre for shape in drawing.shapes if isinstance(shape, Disc) and shape.look is Look.SPOT]


def bounds(drawing: Drawing, look: Look) -> list[Rectangle]:
    """Left, top, right and bottom of the areas and lines in a look."""
    lots = [
        shape.points if isinstance(shape, Line) else shape.rings[0]
        for shape in drawing.shapes
        if isinstance(shape, Area | Line) and shape.look is look
    ]
    return [
        (min(x for x, _ in lot), min(y for _, y in lot), max(x for x, _ in lot), max(y for _, y in lot)) for lot in lots
    ]


def scale(drawing: Drawing) -> float:
    """Pixels to the mm, by the scale bar and what is written beside it."""
    ((left, _, right, _),) = bounds(drawing, Look.RULE)
    size = texts(drawing, Look.LABEL)[-1].words.rpartition("(")[2]
    return (right - left) / float(size.removesuffix(" mm)"))


@pytest.mark.parametrize("view", [View(), View(300.0, 900.0), View(window=NEAR), View(900.0, 300.0, from_room=True)])
def test_parts_have_the_scale_that_the_bar_tells(view: View) -> None:
    drawing = draw_elevation(PANEL, view=view)
    ((left, top, right, bottom),) = bounds(drawing, Look.OPENING)
    x0, y0, x1, y1 = view.window or (WINDOW.x0, WINDOW.y0, WINDOW.x1, WINDOW.y1)
    seen = (min(x1, WINDOW.x1) - max(x0, WINDOW.x0), min(y1, WINDOW.y1) - max(y0, WINDOW.y0))
    assert (right - left, bottom - top) == pytest.approx([side * scale(drawing) for side in seen], rel=5e-3)
    assert drawing.height <= view.height + 1e-6


def test_from_the_room_the_panel_is_turned_around() -> None:
    out, room = (draw_elevation(PANEL, view=View(from_room=room)) for room in (False, True))
    ((left, top, right, bottom),) = bounds(out, Look.OPENING)
    mirrored = (out.width - right, top, out.width - left, bottom)
    assert bounds(room, Look.OPENING)[0] == pytest.approx(mirrored)
    assert ["the room" in one.title for one in (out, room)] == [False, True]


@pytest.mark.parametrize(
    ("kind", "sides"),
    [
        (PanelKind.EXTERIOR_WALL, ("the weather side", "the room")),
        (PanelKind.FLOOR, ("above", "below")),
        (PanelKind.CEILING, ("above", "below")),
    ],
)
def test_the_side_it_is_seen_from_is_named(kind: PanelKind, sides: tuple[str, str]) -> None:
    panel = replace(PANEL, kind=kind)
    drawn = [draw_elevation(panel, view=View(from_room=inside)) for inside in (False, True)]
    assert [words(drawing, Look.CAPTION)[0] for drawing in drawn] == [f"{panel.label} from {side}" for side in sides]


def test_spot_is_ringed_where_it_is_and_has_its_number() -> None:
    drawing = draw_elevation(PANEL, spots=[Spot(7, WINDOW.x0, WINDOW.y1)])
    ((left, top, _, _),) = bounds(drawing, Look.OPENING)
    assert rings(drawing) == [pytest.approx((left, top))]
    assert words(drawing, Look.NUMBER) == ["7"]
    assert "spot 7 at 1524 mm along and 2057 mm up" in drawing.alt.lower()


def test_spots_that_fall_together_share_a_ring() -> None:
    spots = [Spot(1, 500.0, 500.0), Spot(2, 505.0, 500.0), Spot(3, 3000.0, 500.0), Spot(4, 500.0, 505.0)]
    drawing = draw_elevation(PANEL, spots=spots)
    assert len(rings(drawing)) == 2
    assert words(drawing, Look.NUMBER) == ["1–2, 4", "3"]


@pytest.mark.parametrize(
    ("numbers", "said"), [([3], "3"), ([2, 1, 3], "1–3"), ([1, 2, 4, 6, 7], "1–2, 4, 6–7"), ([], "")]
)
def test_numbers_in_words(numbers: list[int], said: str) -> None:
    assert number_words(numbers) == said


def test_only_parts_involved_are_named_and_marked() -> None:
    plain = draw_elevation(PANEL)
    marked = draw_elevation(PANEL, ["1W01.s01", "r0", "no such part"])
    assert words(plain, Look.LABEL) == words(marked, Look.LABEL)[-1:]
    assert words(marked, Look.LABEL)[:-1] == ["1W01-05", "r0"]
    assert bounds(plain, Look.INVOLVED) == []
    assert len(bounds(marked, Look.INVOLVED)) == 2
    assert len(bounds(marked, Look.RUN)) == len(bounds(plain, Look.RUN)) - 1


def test_of_a_sheet_or_an_opening_only_the_edge_is_marked() -> None:
    drawing = draw_elevation(PANEL, ["W1", "1W01.outer0"])
    assert len(bounds(drawing, Look.EDGE)) == 2
    assert bounds(drawing, Look.INVOLVED) == []


def test_close_up_shows_nothing_outside_its_window() -> None:
    drawing = draw_elevation(PANEL, spots=[Spot(1, 1600.0, 1000.0), Spot(2, 4000.0, 1000.0)], view=View(window=NEAR))
    ((left, top, right, bottom),) = bounds(drawing, Look.FRAME)
    for look in (Look.MEMBER, Look.OUTER, Look.STRAP, Look.OPENING, Look.RUN):
        for a, b, c, d in bounds(drawing, look):
            assert left - 1e-6 <= a <= c <= right + 1e-6
            assert top - 1e-6 <= b <= d <= bottom + 1e-6
    assert words(drawing, Look.NUMBER) == ["1"]


def test_spot_beside_the_panel_is_shown_and_one_far_off_is_not() -> None:
    drawing = draw_elevation(PANEL, spots=[Spot(1, -600.0, 3000.0), Spot(2, 1e7, 0.0)])
    ((x, y),) = rings(drawing)
    assert 0 < x < bounds(drawing, Look.OPENING)[0][0]
    assert y > 0
    assert drawing.width <= View().width


SPOTS = st.lists(st.tuples(st.floats(-100, 5000), st.floats(-100, 2800)), min_size=1, max_size=40)
INVOLVED = st.lists(st.sampled_from([part.id for part in (*PANEL.members, *PANEL.sheets)] + ["r0", "W1"]), max_size=20)


@settings(max_examples=25, deadline=None)
@given(SPOTS, INVOLVED, st.sampled_from([None, NEAR]))
def test_no_words_of_a_picture_overlap(
    spots: list[tuple[float, float]], involved: list[str], window: Rectangle | None
) -> None:
    marks = [Spot(number, x, y) for number, (x, y) in enumerate(spots, start=1)]
    drawing = draw_elevation(PANEL, involved, marks, View(window=window))
    boxes = [*badges(drawing), *map(box, texts(drawing, Look.LABEL)), *map(box, texts(drawing, Look.CAPTION))]
    assert [pair for pair in itertools.combinations(boxes, 2) if overlap(*pair)] == []
    assert all(
        left >= 0 and right <= drawing.width and top >= 0 and bottom <= drawing.height
        for left, top, right, bottom in boxes
    )


def box(text: Text) -> Rectangle:
    (x, y), width = text.at, text_width(text.words)
    left = {"start": x, "middle": x - width / 2, "end": x - width}[text.anchor]
    half = LOOKS[text.look].size / 2
    return (left, y - half, left + width, y + half)


def badges(drawing: Drawing) -> list[Rectangle]:
    half = LOOKS[Look.BADGE].width / 2
    return [(a - half, b - half, c + half, d + half) for a, b, c, d in bounds(drawing, Look.BADGE)]


def test_slope_of_a_gable_is_drawn() -> None:
    panel = raked_panel()
    drawing = draw_elevation(panel)
    tallest = min(top for _, top, _, _ in bounds(drawing, Look.MEMBER))
    ((_, low, _, high),) = bounds(drawing, Look.OUTER)
    assert high - low == pytest.approx(panel.height * scale(drawing), rel=2e-3)
    assert tallest == pytest.approx(low, abs=1.0)


def test_two_drawings_stand_beside_each_other() -> None:
    left, right = draw_elevation(PANEL), draw_elevation(PANEL, view=View(window=NEAR))
    both = beside(left, right, 8.0)
    assert both.width == left.width + 8.0 + right.width
    assert both.height == max(left.height, right.height)
    moved = both.shapes[len(left.shapes) :]
    assert [type(shape) for shape in moved] == [type(shape) for shape in right.shapes]
    frame = bounds(right, Look.FRAME)[0]
    shift = left.width + 8.0
    assert bounds(both, Look.FRAME)[0] == pytest.approx((frame[0] + shift, frame[1], frame[2] + shift, frame[3]))
