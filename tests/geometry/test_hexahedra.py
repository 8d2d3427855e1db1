from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize
from scipy.spatial import ConvexHull

from panelgen.geometry.hexahedra import EDGES, FACE_EDGES, hexahedra_planes, overlap_depths, point_distances
from tests.geometry.solids import block, random_corners


def test_every_edge_is_on_two_faces() -> None:
    assert np.bincount(FACE_EDGES.ravel()).tolist() == [2] * len(EDGES)


def test_planes_are_those_of_the_hull() -> None:
    corners = random_corners(np.random.default_rng(31), 20)
    normals, offsets = hexahedra_planes(corners)
    for k in range(20):
        expected = np.unique(ConvexHull(corners[k]).equations.round(9), axis=0)
        got = np.unique(np.column_stack((normals[k], -offsets[k])).round(9), axis=0)
        assert np.allclose(got, expected, atol=1e-6)


def test_point_distances_match_quadratic_programs() -> None:
    rng = np.random.default_rng(32)
    corners = random_corners(rng, 60)
    points = rng.uniform(-500, 500, (60, 3))
    distances = point_distances(points, corners)
    for k in range(60):
        rows = ConvexHull(corners[k]).equations
        nearest = minimize(
            lambda x, k=k: ((x - points[k]) ** 2).sum(),
            corners[k].mean(axis=0),
            jac=lambda x, k=k: 2 * (x - points[k]),
            constraints={"type": "ineq", "fun": lambda x, rows=rows: -rows[:, :3] @ x - rows[:, 3]},
            method="SLSQP",
            options={"ftol": 1e-12, "maxiter": 500},
        )
        assert distances[k] == pytest.approx(np.sqrt(nearest.fun), abs=1e-3)
    assert point_distances(corners.mean(axis=1), corners).tolist() == [0.0] * 60


def test_overlap_matches_volumes_of_solids() -> None:
    rng = np.random.default_rng(33)
    a, b = random_corners(rng, 300), random_corners(rng, 300)
    depth = overlap_depths(a, b)
    volume = np.array([(block(a[k]) ^ block(b[k])).volume() for k in range(300)])
    clear = np.abs(depth) > 1e-3
    assert clear.sum() >= 295
    assert np.array_equal((depth > 0)[clear], (volume > 0)[clear])
    assert 0.2 < (depth > 0).mean() < 0.8


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6))
def test_overlap_depth_is_how_far_to_move(seed: int) -> None:
    """Moved by the depth along some axis they touch; a little less and they still overlap, whatever the axis."""
    rng = np.random.default_rng(seed)
    a, b = random_corners(rng, 4), random_corners(rng, 4)
    depth = overlap_depths(a, b)
    hit = depth > 1.0
    for _ in range(8):
        push = rng.normal(size=(4, 1, 3))
        push *= (depth * 0.999 / np.linalg.norm(push[:, 0], axis=1))[:, None, None]
        assert np.all(overlap_depths(a, b + push)[hit] > 0)


def test_wedge_has_a_face_that_bounds_nothing() -> None:
    bits = np.arange(8)
    corners = np.stack((bits >> 2 & 1, bits >> 1 & 1, bits & 1), axis=1) * (100.0, 50.0, 30.0)
    corners[[2, 3], 0] = corners[[6, 7], 0] = 40.0
    normals, _ = hexahedra_planes(corners[None])
    assert np.linalg.norm(normals[0], axis=1).round(6).tolist() == [1, 1, 1, 0, 1, 1]
    assert point_distances(np.array([[40.0, 60.0, 15.0]]), corners[None]) == pytest.approx([10.0])
    shifted = corners[None] + (0.0, 49.9, 0.0)
    assert overlap_depths(corners[None], shifted) == pytest.approx([0.1], abs=0.05)
