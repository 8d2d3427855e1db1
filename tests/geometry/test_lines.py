from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.geometry.hexahedra import hexahedra_planes
from panelgen.geometry.lines import covered, in_cylinder, in_planes, perpendiculars
from tests.geometry.solids import random_corners, random_rods


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6))
def test_lines_enter_and_leave_hexahedra_on_their_faces(seed: int) -> None:
    rng = np.random.default_rng(seed)
    corners, rods = random_corners(rng, 30), random_rods(rng, 30)
    normals, offsets = hexahedra_planes(corners)
    low, high = in_planes(rods.start, rods.direction, normals, offsets)
    hit = low < high
    for at, inside in ((low, 0.0), (high, 0.0), ((low + high) / 2, -1e-9)):
        place = rods.start[hit] + at[hit, None] * rods.direction[hit]
        height = (np.einsum("nfc,nc->nf", normals[hit], place) - offsets[hit]).max(axis=1)
        assert np.all(np.abs(height) < 1e-6) if inside == 0.0 else np.all(height < inside)


def test_level_lines_are_inside_or_out_for_good() -> None:
    normals, offsets = np.array([[(0.0, 0.0, 1.0)]] * 2), np.array([[5.0]] * 2)
    points, along = np.array([(0.0, 0.0, 4.0), (0.0, 0.0, 6.0)]), np.array([(1.0, 0.0, 0.0)] * 2)
    low, high = in_planes(points, along, normals, offsets)
    assert low.tolist() == [-np.inf, np.inf]
    assert high.tolist() == [np.inf, -np.inf]


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6))
def test_lines_enter_and_leave_cylinders_on_their_surface(seed: int) -> None:
    rng = np.random.default_rng(seed)
    lines, rods = random_rods(rng, 30), random_rods(rng, 30)
    low, high = in_cylinder(lines.start, lines.direction, rods.start, rods.direction, rods.radius)
    hit = low < high
    for at in (low, high):
        offset = (lines.start + at[:, None] * lines.direction - rods.start)[hit]
        away = offset - np.einsum("nc,nc->n", offset, rods.direction[hit])[:, None] * rods.direction[hit]
        assert np.allclose(np.linalg.norm(away, axis=1), rods.radius[hit], atol=1e-6)


def test_line_along_a_cylinder() -> None:
    axis = np.array([[0.0, 0.0, 1.0]] * 2)
    low, high = in_cylinder(np.array([(3.0, 0, 0), (6.0, 0, 0)]), axis, np.zeros((2, 3)), axis, np.array([5.0, 5.0]))
    assert low.tolist() == [-np.inf, np.inf]
    assert high.tolist() == [np.inf, -np.inf]


@pytest.mark.parametrize(
    ("span", "intervals", "expected"),
    [
        ((0, 10), [(-1, 11)], True),
        ((0, 10), [(-1, 9)], False),
        ((0, 10), [(1, 11)], False),
        ((0, 10), [(4, 11), (-1, 5)], True),
        ((0, 10), [(5.5, 11), (-1, 5)], False),
        ((0, 10), [(-1, 11), (2, 3)], True),
        ((0, 10), [(20, 30), (-9, -2)], False),
        ((0, 10), [(np.inf, -np.inf), (0, 10)], True),
        ((5, 5), [(20, 30)], True),
        ((9, 3), [(20, 30)], True),
    ],
)
def test_covered(span: tuple[float, float], intervals: list[tuple[float, float]], expected: bool) -> None:
    starts, ends = np.array(intervals, dtype=float).T
    low, high = np.array(span, dtype=float)
    assert covered(low, high, starts, ends, 1e-9) == expected


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6))
def test_perpendiculars_make_right_handed_frames(seed: int) -> None:
    along = random_rods(np.random.default_rng(seed), 10).direction
    first, second = perpendiculars(along)
    frames = np.stack((first, second, along), axis=1)
    assert np.allclose(frames @ frames.transpose(0, 2, 1), np.eye(3))
    assert np.allclose(np.linalg.det(frames), 1.0)
