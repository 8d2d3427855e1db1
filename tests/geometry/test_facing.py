"""Faces of blocks that face one another, against areas by shapely."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from panelgen.geometry.facing import Facing, Opposite, facing, opposite
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners

ONE, OTHER = np.array([0]), np.array([1])
X, Y = np.array([[1.0, 0.0, 0.0]]), np.array([[0.0, 1.0, 0.0]])


def boxes(*sides: tuple[tuple[float, float, float], tuple[float, float, float]]) -> Floats:
    low, high = np.array(sides).transpose(1, 0, 2)
    return box_corners(low, high)


def between(corners: Floats, along: Floats, least: float = 1.0) -> tuple[Facing, Opposite]:
    found = facing(corners, ONE, OTHER, 5.0, 50.0)
    return found, opposite(found, np.repeat(along, len(found.row), axis=0), least)


def test_boxes_one_above_the_other() -> None:
    pair = boxes(((0, 0, 0), (1000, 140, 38)), ((300, 20, 45), (1500, 400, 83)))
    faces, found = between(pair, X)
    up = np.flatnonzero(faces.normal[:, 2] > 0.9)
    assert len(up) == 1
    assert (found.low[up], found.high[up]) == (300.0, 1000.0)
    assert found.gap[up].ravel() == pytest.approx([7.0, 7.0])
    _, found = between(pair, Y)
    assert (found.low[up], found.high[up]) == (20.0, 140.0)


@pytest.mark.parametrize(("lift", "count"), [(49.9, 1), (50.1, 0), (-4.9, 1), (-5.1, 0)])
def test_faces_too_far_ahead_or_behind_are_none(lift: float, count: int) -> None:
    pair = boxes(((0, 0, 0), (1000, 140, 38)), ((300, 20, 38 + lift), (900, 120, 76 + lift)))
    faces, _ = between(pair, X)
    assert np.count_nonzero(faces.normal[:, 2] > 0.9) == count


def test_boxes_beside_one_another_are_opposite_over_nothing() -> None:
    pair = boxes(((0, 0, 0), (1000, 140, 38)), ((0, 140, 38), (1000, 280, 76)))
    faces, found = between(pair, X)
    assert not (found.high > found.low).any()
    assert len(faces.row)


def test_a_box_that_leans_is_nearer_at_one_end() -> None:
    """A rise of 1 in 100 over 1,000 mm is 10 mm."""
    pair = boxes(((0, 0, 0), (1000, 140, 38)), ((0, 0, 40), (1000, 140, 78)))
    pair[1, :, 2] += pair[1, :, 0] / 100
    faces, found = between(pair, X)
    (up,) = np.flatnonzero(faces.normal[:, 2] > 0.9)
    assert found.gap[up] == pytest.approx([2.0, 12.0], abs=0.01)


quads = st.lists(st.tuples(st.floats(0.1, 1.4), st.floats(20.0, 100.0)), min_size=4, max_size=4)


def convex(corners: list[tuple[float, float]], middle: tuple[float, float]) -> Floats | None:
    """A convex quadrangle around a point: a corner in each quarter."""
    angles = [math.pi / 2 * quarter + turn for quarter, (turn, _) in enumerate(corners)]
    ring = [
        (middle[0] + r * math.cos(a), middle[1] + r * math.sin(a)) for a, (_, r) in zip(angles, corners, strict=True)
    ]
    polygon = shapely.Polygon(ring)
    return np.array(ring) if polygon.convex_hull.area - polygon.area < 1e-6 else None


def prism(ring: Floats, low: float, high: float) -> Floats:
    """Corners by the bits of their index: 4 upper, then around the ring."""
    order = ring[[0, 1, 3, 2]]
    return np.array([(*point, z) for z in (low, high) for point in order])


@given(quads, quads, st.floats(-60.0, 60.0), st.floats(-60.0, 60.0), st.floats(0.0, 2.0 * math.pi))
def test_any_two_quadrangles_overlap_along_a_line_as_their_areas_do(
    one: list[tuple[float, float]], other: list[tuple[float, float]], x: float, y: float, turn: float
) -> None:
    a, b = convex(one, (0.0, 0.0)), convex(other, (x, y))
    assume(a is not None and b is not None)
    along = np.array([[math.cos(turn), math.sin(turn), 0.0]])
    faces, found = between(np.stack((prism(a, 0.0, 38.0), prism(b, 40.0, 78.0))), along, 1e-6)
    (up,) = np.flatnonzero(faces.normal[:, 2] > 0.9)
    shared = shapely.Polygon(a).intersection(shapely.Polygon(b))
    if shared.area < 1.0:
        return
    s = shapely.get_coordinates(shared) @ along[0, :2]
    assert found.low[up] == pytest.approx(s.min(), abs=1e-4)
    assert found.high[up] == pytest.approx(s.max(), abs=1e-4)
    assert found.gap[up] == pytest.approx([2.0, 2.0])
