"""Ways by distance: places, turns, and the nearest place to a point."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.errors import GeometryError
from panelgen.geometry.frames import Vec3
from panelgen.geometry.polylines import Polyline

CORNER = Polyline.through([(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 50.0, 0.0)])
coordinate = st.integers(-500, 500).map(float)
points = st.tuples(coordinate, coordinate, coordinate)
ways = st.lists(points, min_size=2, max_size=6, unique=True).map(Polyline.through)


def test_a_corner_by_distance() -> None:
    assert CORNER.length == 150.0
    assert CORNER.point_at(120.0) == (100.0, 20.0, 0.0)
    assert (CORNER.point_at(-5.0), CORNER.point_at(1e9)) == (CORNER.points[0], CORNER.points[-1])
    assert [CORNER.stretch_at(place) for place in (0.0, 99.0, 100.0, 150.0)] == [0, 0, 1, 1]
    assert list(CORNER.bends) == [1]
    assert CORNER.turn(1) == pytest.approx(90.0)


def test_a_straight_way_has_no_bends() -> None:
    way = Polyline.through([(0.0, 0.0, 0.0), (50.0, 0.0, 0.0), (100.0, 0.0, 0.0)])
    assert way.points == ((0.0, 0.0, 0.0), (100.0, 0.0, 0.0))
    assert list(way.bends) == []


def test_one_place_is_no_way() -> None:
    with pytest.raises(GeometryError, match="two points apart"):
        Polyline.through([(1.0, 2.0, 3.0), (1.0, 2.0, 3.0)])


def test_of_two_nearest_places_the_first() -> None:
    assert CORNER.nearest((50.0, 50.0, 0.0)) == 50.0


@settings(max_examples=200, deadline=None)
@given(way=ways, share=st.floats(0.0, 1.0))
def test_a_place_on_the_way_is_its_own_nearest(way: Polyline, share: float) -> None:
    point = way.point_at(way.length * share)
    assert math.dist(way.point_at(way.nearest(point)), point) < 1e-6


@settings(max_examples=200, deadline=None)
@given(way=ways, point=points, share=st.floats(0.0, 1.0))
def test_nothing_on_the_way_is_nearer_than_the_nearest(way: Polyline, point: Vec3, share: float) -> None:
    nearest = math.dist(way.point_at(way.nearest(point)), point)
    assert nearest <= math.dist(way.point_at(way.length * share), point) + 1e-6
