from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.geometry.convex import Convex, hull_ring

SQUARE = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
UPRIGHT = np.eye(3)[None]
HERE = np.zeros((1, 3))


def cube() -> Convex:
    return Convex.prisms([SQUARE], np.array([(0.0, 100.0)]), HERE, UPRIGHT)


def inside(solid: Convex, start: tuple[float, ...], end: tuple[float, ...], grown: float = 0.0) -> list[float]:
    row = np.zeros(1, dtype=np.int64)
    shares: list[float] = solid.stretches(row, np.array([start]), np.array([end]), np.array([grown]))[0].tolist()
    return shares


def test_a_line_through_a_cube_is_inside_between_its_faces() -> None:
    assert inside(cube(), (-100.0, 50.0, 50.0), (300.0, 50.0, 50.0)) == pytest.approx([0.25, 0.5])


def test_growing_reaches_farther_on_every_side() -> None:
    assert inside(cube(), (-100.0, 50.0, 50.0), (300.0, 50.0, 50.0), 20.0) == pytest.approx([0.2, 0.55])
    start, stop = inside(cube(), (-100.0, 110.0, 50.0), (300.0, 110.0, 50.0))
    assert start > stop
    start, stop = inside(cube(), (-100.0, 110.0, 50.0), (300.0, 110.0, 50.0), 11.0)
    assert start < stop


def test_boxes_lie_close_around_solids_of_any_frame() -> None:
    axes = np.array([[(0.0, 1.0, 0.0), (0.0, 0.0, 1.0), (1.0, 0.0, 0.0)]])
    solid = Convex.prisms([SQUARE], np.array([(0.0, 30.0)]), np.array([(5.0, 6.0, 7.0)]), axes)
    assert solid.boxes.low[0].tolist() == [5.0, 6.0, 7.0]
    assert solid.boxes.high[0].tolist() == [35.0, 106.0, 107.0]


@settings(deadline=None, max_examples=60)
@given(st.integers(0, 10**6))
def test_stretches_agree_with_points_along_the_line(seed: int) -> None:
    rng = np.random.default_rng(seed)
    rings = [hull_ring([tuple(point) for point in rng.uniform(-100, 100, (rng.integers(4, 9), 2))]) for _ in range(6)]
    z = np.sort(rng.uniform(-50, 50, (6, 2)), axis=1)
    turns = rng.uniform(0, math.tau, 6)
    ahead = [(math.cos(turn), math.sin(turn)) for turn in turns]
    axes = np.array([((x, y, 0.0), (0.0, 0.0, 1.0), (y, -x, 0.0)) for x, y in ahead])
    origins = rng.uniform(-50, 50, (6, 3))
    solids = Convex.prisms(rings, z, origins, axes)
    start, end = rng.uniform(-200, 200, (2, 6, 3))
    shares = solids.stretches(np.arange(6), start, end, np.zeros(6))
    along = np.linspace(0.0, 1.0, 401)
    for k in range(6):
        points = start[k] + along[:, None] * (end[k] - start[k])
        holds = (points @ solids.normals[k].T <= solids.reach[k] + 1e-9).all(axis=1)
        low, high = shares[k]
        clear = np.minimum(np.abs(along - low), np.abs(along - high)) > 1e-9
        assert (holds[clear] == ((along >= low) & (along <= high))[clear]).all()
        local = (points - origins[k]) @ axes[k].T
        assert (holds <= ((local[:, 2] >= z[k, 0] - 1e-6) & (local[:, 2] <= z[k, 1] + 1e-6))).all()
