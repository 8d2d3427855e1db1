from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from panelgen.geometry.rod_distances import axis_distances, ways_out
from tests.geometry.solids import cut_body, random_corners, random_rods, seen_distance

COUNT = 300


def test_distances_match_hulls_of_cut_bodies() -> None:
    rng = np.random.default_rng(11)
    corners, rods = random_corners(rng, COUNT), random_rods(rng, COUNT)
    distances = axis_distances(rods, corners)
    kinds = {"beyond": 0, "enters": 0, "beside": 0}
    for k in range(COUNT):
        body = cut_body(corners[k], rods, k)
        if body is None:
            kinds["beyond"] += 1
            assert distances[k] == np.inf
            continue
        expected = seen_distance(body, rods, k)
        kinds["beside" if expected > 0 else "enters"] += 1
        assert distances[k] == pytest.approx(max(expected, 0.0), abs=1e-6)
    assert min(kinds.values()) >= 5


def test_ways_out_match_hulls_of_cut_bodies() -> None:
    rng = np.random.default_rng(12)
    corners, rods = random_corners(rng, COUNT), random_rods(rng, COUNT, bends=0.5)
    meet = np.flatnonzero(axis_distances(rods, corners) < rods.radius)
    ways = ways_out(rods.take(meet), corners[meet])
    for way, k in zip(ways, meet, strict=True):
        body = cut_body(corners[k], rods, k)
        assert body is not None
        height = (corners[k] - rods.start[k]) @ rods.direction[k]
        lengthwise = [
            np.inf if rods.bend_start[k] else height.max(),
            np.inf if rods.bend_end[k] else rods.length[k] - height.min(),
        ]
        assert way == pytest.approx(min(rods.radius[k] - seen_distance(body, rods, k), *lengthwise), abs=1e-6)


@pytest.mark.parametrize("end", ["bend_start", "bend_end"])
def test_way_out_of_a_round_end_is_sideways(end: str) -> None:
    rng = np.random.default_rng(13)
    corners, rods = random_corners(rng, COUNT), random_rods(rng, COUNT)
    meet = axis_distances(rods, corners) < rods.radius
    flat, corners = rods.take(meet), corners[meet]
    bent = replace(flat, **{end: np.ones(len(flat), dtype=bool)})
    assert np.all(ways_out(bent, corners) >= ways_out(flat, corners))


def test_rod_along_an_axis_of_a_square_stick() -> None:
    bits = np.arange(8)
    stick = np.stack((bits >> 2 & 1, bits >> 1 & 1, bits & 1), axis=1) * (1000.0, 140.0, 38.0)
    rods = random_rods(np.random.default_rng(0), 1)
    beside = replace(
        rods, start=np.array([[500.0, 150.0, -10.0]]), direction=np.array([[0.0, 0.0, 1.0]]), length=np.array([60.0])
    )
    assert axis_distances(beside, stick[None]) == pytest.approx([10.0])
    short = replace(beside, length=np.array([9.0]))
    assert axis_distances(short, stick[None]).tolist() == [np.inf]
