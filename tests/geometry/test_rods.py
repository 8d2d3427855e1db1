from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.geometry.rods import Rods, nearest_points, rods_meet
from tests.geometry.solids import SIDES, drum, random_rods


def rod(start: tuple[float, ...], end: tuple[float, ...], radius: float, *round_: bool) -> Rods:
    at_start, at_end = round_ or (False, False)
    return Rods.between(
        np.array([start]), np.array([end]), np.array([radius]), np.array([at_start]), np.array([at_end])
    )


def test_flat_rods_meet_where_their_solids_do() -> None:
    """A prism inside and one around each rod settle every pair but those within 0.12 % of touching."""
    rng = np.random.default_rng(21)
    a, b = random_rods(rng, 500), random_rods(rng, 500)
    meet = rods_meet(a, b)
    near = np.flatnonzero(nearest_points(a, b)[2] <= a.radius + b.radius)
    around = 1 / math.cos(math.pi / SIDES)
    decided = 0
    for k in near:
        inner = not (drum(a, k) ^ drum(b, k)).is_empty()
        if inner == (not (drum(a, k, around) ^ drum(b, k, around)).is_empty()):
            assert meet[k] == inner
            decided += 1
    assert decided >= 140
    assert not meet[np.setdiff1d(np.arange(500), near)].any()


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6))
def test_nearest_points_are_nearest(seed: int) -> None:
    rng = np.random.default_rng(seed)
    a, b = random_rods(rng, 20), random_rods(rng, 20)
    s, t, distance = nearest_points(a, b)
    at_a, at_b = a.start + s[:, None] * a.direction, b.start + t[:, None] * b.direction
    assert np.allclose(np.linalg.norm(at_a - at_b, axis=1), distance)
    for share in np.linspace(0, 1, 11):
        for other in np.linspace(0, 1, 11):
            p = a.start + (share * a.length)[:, None] * a.direction
            q = b.start + (other * b.length)[:, None] * b.direction
            assert np.all(np.linalg.norm(p - q, axis=1) >= distance - 1e-9)


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6))
def test_meeting_is_mutual_and_keeps_under_motion(seed: int) -> None:
    rng = np.random.default_rng(seed)
    a, b = random_rods(rng, 40, bends=0.5), random_rods(rng, 40, bends=0.5)
    meet = rods_meet(a, b)
    shift = rng.uniform(-1000, 1000, 3)
    moved = [replace(rods, start=rods.start + shift) for rods in (a, b)]
    assert np.array_equal(rods_meet(b, a), meet)
    assert np.array_equal(rods_meet(*moved), meet)


@pytest.mark.parametrize(
    ("gap", "round_", "meets"),
    [(0.01, False, False), (-0.01, False, True), (0.01, True, True)],
    ids=["flat end short of the other", "flat end in the other", "round end reaches out"],
)
def test_end_of_a_rod_against_the_side_of_another(gap: float, round_: bool, meets: bool) -> None:
    ending = rod((0.0, 0.0, 20.0 + gap), (0.0, 0.0, 300.0), 15.0, round_, False)
    assert rods_meet(ending, rod((-200.0, 0.0, 0.0), (200.0, 0.0, 0.0), 20.0)).tolist() == [meets]


@pytest.mark.parametrize(("apart", "meets"), [(29.99, True), (30.01, False)])
def test_side_by_side(apart: float, meets: bool) -> None:
    a, b = rod((0.0, 0.0, 0.0), (500.0, 0.0, 0.0), 20.0), rod((200.0, apart, 0.0), (900.0, apart, 0.0), 10.0)
    assert rods_meet(a, b).tolist() == [meets]


@pytest.mark.parametrize(("gap", "meets"), [(0.01, False), (-0.01, True)])
def test_end_to_end_on_one_line(gap: float, meets: bool) -> None:
    a, b = rod((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), 20.0), rod((100.0 + gap, 5.0, 0.0), (300.0, 5.0, 0.0), 10.0)
    assert rods_meet(a, b).tolist() == [meets]


def test_one_inside_the_other() -> None:
    assert rods_meet(rod((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), 50.0), rod((40.0, 9.0, 9.0), (60.0, 9.0, 9.0), 3.0)).all()


def test_shaving_leaves_round_ends_in_place() -> None:
    shaved = rod((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), 10.0, True, False).shaved(1.0)
    assert shaved.start.tolist() == [[0.0, 0.0, 0.0]]
    assert shaved.end.tolist() == [[99.0, 0.0, 0.0]]
    assert shaved.radius.tolist() == [9.0]


def test_boxes_hold_flat_and_round_ends() -> None:
    boxes = rod((0.0, 0.0, 0.0), (100.0, 0.0, 0.0), 10.0, True, False).boxes()
    assert boxes.low.tolist() == [[-10.0, -10.0, -10.0]]
    assert boxes.high.tolist() == [[100.0, 10.0, 10.0]]
