"""Labels never lie on one another, on what is blocked or off the page, and their leaders pass through none."""

from __future__ import annotations

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.drawing.labels import Placed, Wish, overlap, place_labels

PAGE = (0.0, 0.0, 400.0, 300.0)
INSIDE = st.tuples(st.floats(0, 400), st.floats(0, 300))
WISHES = st.lists(st.builds(Wish, INSIDE, st.floats(8, 90), st.floats(8, 20), st.floats(0, 12)), max_size=25)
RECTANGLES = st.lists(
    st.tuples(INSIDE, st.floats(1, 80), st.floats(1, 80)).map(
        lambda row: (row[0][0], row[0][1], row[0][0] + row[1], row[0][1] + row[2])
    ),
    max_size=5,
)


def found(places: tuple[Placed | None, ...]) -> list[Placed]:
    return [place for place in places if place is not None]


@settings(max_examples=60, deadline=None)
@given(WISHES, RECTANGLES)
def test_no_label_overlaps_another_or_what_is_blocked(
    wishes: list[Wish], blocked: list[tuple[float, float, float, float]]
) -> None:
    boxes = [shapely.box(*place.rectangle) for place in found(place_labels(wishes, PAGE, blocked))]
    for number, one in enumerate(boxes):
        assert shapely.box(*PAGE).buffer(1e-9).contains(one)
        assert not any(one.intersects(other) for other in boxes[:number])
        assert not any(one.intersects(shapely.box(*taken)) for taken in blocked)


@settings(max_examples=60, deadline=None)
@given(WISHES)
def test_no_leader_passes_through_another_label(wishes: list[Wish]) -> None:
    places = found(place_labels(wishes, PAGE))
    for one in places:
        line = shapely.LineString(one.leader)
        for other in places:
            inside = shapely.box(*other.rectangle).buffer(-1e-6)
            assert other is one or not line.intersects(inside)


@settings(max_examples=60, deadline=None)
@given(INSIDE, st.floats(0, 12))
def test_a_lone_label_keeps_clear_of_its_anchor_and_reaches_it(anchor: tuple[float, float], clear: float) -> None:
    (place,) = place_labels([Wish(anchor, 40.0, 16.0, clear)], PAGE)
    assert place is not None
    assert shapely.box(*place.rectangle).distance(shapely.Point(anchor)) >= clear - 1e-9
    assert shapely.LineString(place.leader).distance(shapely.Point(anchor)) <= clear + 1e-9


def test_a_wish_without_room_is_left_out_and_the_next_is_met() -> None:
    small, large = Wish((200.0, 150.0), 40.0, 16.0), Wish((200.0, 150.0), 500.0, 16.0)
    assert [place is None for place in place_labels([large, small], PAGE)] == [True, False]


def test_same_wishes_get_the_same_places() -> None:
    wishes = [Wish((100.0 + 3 * k, 100.0), 40.0, 16.0) for k in range(12)]
    assert place_labels(wishes, PAGE) == place_labels(wishes, PAGE)


def test_rectangles_that_touch_overlap_only_with_a_gap() -> None:
    one, other = (0.0, 0.0, 10.0, 10.0), (10.0, 0.0, 20.0, 10.0)
    assert not overlap(one, other)
    assert overlap(one, other, 0.1)
