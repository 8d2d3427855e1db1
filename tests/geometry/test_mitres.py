"""Tubes along a polyline: mitred at half the bend, parted where a mitre does not fit."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from panelgen.geometry.mitres import tubes_along

coordinate = st.integers(-2000, 2000).map(float)
paths = st.lists(st.tuples(coordinate, coordinate, coordinate), min_size=2, max_size=6, unique=True)


def test_repeated_and_straight_through_points_are_left_out() -> None:
    path = [(0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (300.0, 0.0, 0.0), (900.0, 0.0, 0.0), (900.0, 500.0, 0.0)]
    (tube,) = tubes_along(path, 20.0)
    assert tube.points == (path[0], path[3], path[4])


def test_no_tube_along_a_point() -> None:
    assert tubes_along([(1.0, 2.0, 3.0)], 20.0) == ()
    assert tubes_along([(1.0, 2.0, 3.0), (1.0, 2.0, 3.0)], 20.0) == ()


@pytest.mark.parametrize(("turn", "tubes"), [(5.0, 1), (90.0, 1), (134.0, 1), (136.0, 2), (180.0, 2)])
def test_bends_beyond_135_degrees_are_parted(turn: float, tubes: int) -> None:
    angle = math.radians(turn)
    path = [(0.0, 0.0, 0.0), (900.0, 0.0, 0.0), (900.0 + 900.0 * math.cos(angle), 900.0 * math.sin(angle), 0.0)]
    assert len(tubes_along(path, 20.0)) == tubes


@pytest.mark.parametrize(("offset", "tubes"), [(41.0, 1), (39.0, 2), (19.0, 3)])
def test_a_jog_shorter_than_its_mitres_is_parted(offset: float, tubes: int) -> None:
    """Two square bends of a tube of radius 20 take 20 mm each: of 40 mm both fit, of 20 mm one does."""
    path = [(0.0, 0.0, 0.0), (0.0, 0.0, 500.0), (0.0, offset, 500.0), (0.0, offset, 900.0)]
    assert len(tubes_along(path, 20.0)) == tubes


@given(paths, st.integers(3, 120).map(float))
def test_tubes_follow_the_path_end_to_end(path: list[tuple[float, float, float]], radius: float) -> None:
    tubes = tubes_along(path, radius)
    assert tubes[0].points[0] == path[0]
    assert tubes[-1].points[-1] == path[-1]
    assert all(a.points[-1] == b.points[0] for a, b in pairwise(tubes))
    length = sum(math.dist(a, b) for tube in tubes for a, b in pairwise(tube.points))
    assert length == pytest.approx(sum(math.dist(a, b) for a, b in pairwise(path)))


@given(paths, st.integers(3, 120).map(float))
def test_both_sides_of_a_mitre_meet_in_one_outline(path: list[tuple[float, float, float]], radius: float) -> None:
    """A point carried along the tube keeps its distance from the axis before and after each bend."""
    tubes = tubes_along(path, radius)
    assume(any(len(tube.points) > 2 for tube in tubes))
    for tube in tubes:
        for at, seam, along in zip(tube.points, tube.seams, (*tube.directions, tube.directions[-1]), strict=True):
            assert np.linalg.norm(np.cross(np.subtract(seam, at), along)) == pytest.approx(radius, rel=1e-6)
        for at, seam, normal in zip(tube.points, tube.seams, tube.normals, strict=True):
            assert np.dot(np.subtract(seam, at), normal) == pytest.approx(0.0, abs=1e-6)
        for k, (a, b) in enumerate(pairwise(tube.seams)):
            assert np.dot(np.subtract(b, a), tube.directions[k]) > 0
