"""Trapezoids fill an area and share none of it."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.geometry.trapezoids import trapezoids


def polygons(corners: np.ndarray) -> list[shapely.Polygon]:
    """Each trapezoid, its corners in turn."""
    return [shapely.Polygon((one[0, 0], one[1, 0], one[1, 1], one[0, 1])) for one in corners]


def test_a_rectangle_is_one() -> None:
    assert trapezoids(((0, 0), (4, 0), (4, 3), (0, 3))).tolist() == [[[[0, 0], [0, 3]], [[4, 0], [4, 3]]]]


def test_a_triangle_has_a_side_without_length() -> None:
    (one,) = trapezoids(((0, 0), (4, 0), (4, 3)))
    assert one.tolist() == [[[0, 0], [0, 0]], [[4, 0], [4, 3]]]


def test_a_window_leaves_four() -> None:
    found = trapezoids(((0, 0), (10, 0), (10, 8), (0, 8)), [((2, 3), (6, 3), (6, 5), (2, 5))])
    assert [one.area for one in polygons(found)] == [16.0, 12.0, 12.0, 32.0]


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 10**6))
def test_they_fill_any_area(seed: int) -> None:
    """A star of 3 to 9 corners with a smaller one cut out of it."""
    rng = np.random.default_rng(seed)
    count = int(rng.integers(3, 10))
    turns = (np.arange(count) + rng.uniform(0.0, 0.9, count)) * 2 * np.pi / count
    ring = np.column_stack((np.cos(turns), np.sin(turns))) * rng.uniform(300, 900, count)[:, None]
    holes = [ring * 0.5] if shapely.Polygon(ring).contains(shapely.Polygon(ring * 0.5)) else []
    whole = shapely.Polygon(ring, holes)
    found = polygons(trapezoids(ring.tolist(), [hole.tolist() for hole in holes]))
    assert sum(one.area for one in found) == pytest.approx(whole.area, rel=1e-9)
    assert all(one.within(whole.buffer(1e-6)) for one in found)
