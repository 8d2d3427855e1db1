"""Vectors by the row agree with numpy's own functions."""

from __future__ import annotations

import numpy as np
import pytest

from panelgen.geometry.boxes import Boxes
from panelgen.geometry.vectors import crosses, lengths, triads, vector_rows

DRAW = np.random.default_rng(5)


@pytest.mark.parametrize(("a", "b"), [((7, 3), (7, 3)), ((4, 5, 1, 3), (4, 1, 6, 3)), ((0, 3), (0, 3)), ((3,), (2, 3))])
def test_products_and_lengths(a: tuple[int, ...], b: tuple[int, ...]) -> None:
    first, second = DRAW.normal(size=a), DRAW.normal(size=b)
    assert np.array_equal(crosses(first, second), np.cross(first, second))
    assert np.allclose(lengths(first), np.linalg.norm(first, axis=-1), rtol=1e-15)


def test_triads_are_right_handed() -> None:
    x, y = np.array([(1.0, 0.0, 0.0), (0.0, 0.6, 0.8)]), np.array([(0.0, 1.0, 0.0), (1.0, 0.0, 0.0)])
    axes = triads(x, y)
    assert np.allclose(np.linalg.det(axes), 1.0)
    assert np.array_equal(axes[:, 0], x)
    assert np.array_equal(axes[:, 1], y)


def test_rows_of_vectors() -> None:
    assert vector_rows([1, 2], lambda n: (n, 10.0 * n), width=2).tolist() == [[1.0, 10.0], [2.0, 20.0]]
    assert vector_rows([], lambda n: (n, n, n)).shape == (0, 3)


def test_boxes_around_points_and_around_groups() -> None:
    points = DRAW.normal(size=(6, 8, 3))
    boxes = Boxes.around(points)
    assert np.array_equal(boxes.low, points.min(axis=1))
    assert np.array_equal(boxes.high, points.max(axis=1))
    around = boxes.around_groups(np.array([2, 0, 2, 0, 0, 2]), 4)
    assert np.array_equal(around.low[[0, 2]], [boxes.low[[1, 3, 4]].min(axis=0), boxes.low[[0, 2, 5]].min(axis=0)])
    assert np.array_equal(around.high[[0, 2]], [boxes.high[[1, 3, 4]].max(axis=0), boxes.high[[0, 2, 5]].max(axis=0)])
    assert (around.low[[1, 3]] > around.high[[1, 3]]).all()
