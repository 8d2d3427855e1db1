"""The shifts that leave a shank too near to a service, against distances worked out one shift at a time."""

from __future__ import annotations

import numpy as np
import pytest

from panelgen.design.fastening.blocked_shifts import blocked_shifts
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Rods, nearest_points

COUNT = 4000


@pytest.fixture(scope="module")
def cases() -> dict[str, Floats]:
    """Random shanks, slides and services, half of each along an axis of the panel: many parallel or square."""
    rng = np.random.default_rng(7)

    def unit() -> Floats:
        free = rng.normal(size=(COUNT, 3))
        free /= np.linalg.norm(free, axis=1, keepdims=True)
        square = np.eye(3)[rng.integers(0, 3, COUNT)] * rng.choice([-1.0, 1.0], (COUNT, 1))
        return np.where(rng.random((COUNT, 1)) < 0.5, free, square)

    return {
        "heads": rng.uniform(-60.0, 60.0, (COUNT, 3)),
        "shanks": unit() * rng.uniform(20.0, 90.0, (COUNT, 1)),
        "slides": unit(),
        "starts": rng.uniform(-60.0, 60.0, (COUNT, 3)),
        "axes": unit() * rng.uniform(5.0, 300.0, (COUNT, 1)),
        "reach": rng.uniform(3.0, 60.0, COUNT),
    }


def distances(cases: dict[str, Floats], shifts: Floats) -> Floats:
    """From each shank, moved by its shift, to its service."""
    flat = np.zeros(COUNT, dtype=bool)

    def rods(start: Floats, vector: Floats) -> Rods:
        return Rods.between(start, start + vector, np.zeros(COUNT), flat, flat)

    moved = cases["heads"] + shifts[:, None] * cases["slides"]
    return nearest_points(rods(moved, cases["shanks"]), rods(cases["starts"], cases["axes"]))[2]


def test_at_both_ends_the_shank_is_just_clear_and_between_them_it_is_not(cases: dict[str, Floats]) -> None:
    low, high = blocked_shifts(**cases)
    blocked = low < high
    assert 0.2 < blocked.mean() < 0.8
    low, high = np.where(blocked, low, 0.0), np.where(blocked, high, 0.0)
    for end in (low, high):
        there = distances(cases, end)
        assert there[blocked] == pytest.approx(cases["reach"][blocked], abs=1e-9)
    for share in (0.01, 0.3, 0.5, 0.9):
        between = distances(cases, low + share * (high - low))
        assert (between < cases["reach"])[blocked].all()


def test_everywhere_else_it_is_clear(cases: dict[str, Floats]) -> None:
    low, high = blocked_shifts(**cases)
    for shift in np.linspace(-500.0, 500.0, 101):
        outside = (shift <= low) | (shift >= high)
        assert (distances(cases, np.full(COUNT, shift)) > cases["reach"] - 1e-9)[outside].all()


def test_a_shank_square_to_a_pipe_is_moved_by_both_radii() -> None:
    """A nail 30 mm along z, moved along y, and a pipe along x 10 mm below it: reach 25 mm either way of y = -10."""
    low, high = blocked_shifts(
        heads=np.zeros((1, 3)),
        shanks=np.array([[0.0, 0.0, 30.0]]),
        slides=np.array([[0.0, 1.0, 0.0]]),
        starts=np.array([[-100.0, -10.0, 15.0]]),
        axes=np.array([[200.0, 0.0, 0.0]]),
        reach=np.array([25.0]),
    )
    assert (low[0], high[0]) == pytest.approx((-35.0, 15.0))


def test_a_shank_that_slides_along_a_pipe_beside_it_is_blocked_for_the_length_of_both_and_the_reach() -> None:
    low, high = blocked_shifts(
        heads=np.zeros((1, 3)),
        shanks=np.array([[30.0, 0.0, 0.0]]),
        slides=np.array([[1.0, 0.0, 0.0]]),
        starts=np.array([[0.0, 3.0, 0.0]]),
        axes=np.array([[200.0, 0.0, 0.0]]),
        reach=np.array([5.0]),
    )
    assert (low[0], high[0]) == pytest.approx((-30.0 - 4.0, 200.0 + 4.0))
