"""Distances between straight lengths, against the distances of points all over their surfaces."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.spatial import cKDTree

from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.leg_gaps import leg_gaps
from panelgen.geometry.legs import Legs
from panelgen.geometry.rods import Rods

_FLAT = np.zeros(1, dtype=bool)


def pipe(a: tuple[float, float, float], b: tuple[float, float, float], radius: float) -> Legs:
    rods = Rods.between(np.array([a]), np.array([b]), np.array([radius]), _FLAT, _FLAT)
    return Legs(rods, _FLAT, np.zeros((1, 8, 3)))


def duct(low: tuple[float, float, float], high: tuple[float, float, float]) -> Legs:
    middle = (np.array(low) + np.array(high)) / 2
    leg = pipe((low[0], middle[1], middle[2]), (high[0], middle[1], middle[2]), 1.0)
    return Legs(leg.rods, ~_FLAT, box_corners(np.array([low]), np.array([high])))


def cover(leg: Legs) -> np.ndarray:
    """Points of a cylinder's side and ends."""
    rods = leg.rods
    first = np.cross(rods.direction[0], (0.3, 0.4, 0.87))
    first /= np.linalg.norm(first)
    second = np.cross(rods.direction[0], first)
    turn = np.linspace(0, 2 * np.pi, 73)[:-1]
    ring = np.cos(turn)[:, None] * first + np.sin(turn)[:, None] * second
    sides = [
        rods.start[0] + at * rods.length[0] * rods.direction[0] + rods.radius[0] * ring for at in np.linspace(0, 1, 61)
    ]
    discs = [
        end + share * rods.radius[0] * ring for end in (rods.start[0], rods.end[0]) for share in np.linspace(0, 1, 9)
    ]
    return np.concatenate(sides + discs)


@pytest.mark.parametrize("seed", range(40))
def test_round_legs_against_points_of_their_surfaces(seed: int) -> None:
    rng = np.random.default_rng(seed)
    a = pipe(tuple(rng.uniform(-50, 50, 3)), tuple(rng.uniform(-50, 50, 3)), rng.uniform(2, 20))
    b = pipe(tuple(rng.uniform(60, 160, 3)), tuple(rng.uniform(60, 160, 3)), rng.uniform(2, 20))
    sampled = cKDTree(cover(a)).query(cover(b))[0].min()
    (gap,) = leg_gaps(a, b)
    assert sampled - 2.5 < gap <= sampled + 1e-3


def test_ends_face_to_face_and_rim_to_side() -> None:
    assert leg_gaps(pipe((0, 0, 0), (10, 0, 0), 5), pipe((13, 2, 0), (40, 2, 0), 5)) == pytest.approx(3.0, abs=1e-3)
    beside = pipe((14, -50, 12), (14, 50, 12), 2)
    assert leg_gaps(pipe((0, 0, 0), (10, 0, 0), 5), beside) == pytest.approx(np.hypot(4, 7) - 2, abs=1e-3)


def test_rectangular_legs() -> None:
    block = duct((0, 0, 0), (100, 50, 30))
    assert leg_gaps(block, duct((0, 60, 0), (100, 90, 30))) == pytest.approx(10.0)
    assert leg_gaps(block, pipe((0, 65, 10), (100, 65, 10), 5)) == pytest.approx(10.0)
    assert leg_gaps(pipe((-50, 25, 15), (-4, 25, 15), 5), block) == pytest.approx(4.0)
