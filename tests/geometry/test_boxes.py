from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.geometry.boxes import Boxes, overlapping, spread


def random_boxes(rng: np.random.Generator, count: int) -> Boxes:
    low = rng.integers(0, 60, (count, 3)).astype(float)
    return Boxes(low, low + rng.integers(0, 25, (count, 3)))


def by_hand(a: Boxes, b: Boxes, same_group: np.ndarray) -> list[tuple[int, int]]:
    hits = np.all((a.low[:, None] < b.high) & (b.low < a.high[:, None]), axis=2) & same_group
    return [(int(i), int(j)) for i, j in np.argwhere(hits)]


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6), st.integers(0, 40), st.integers(0, 40))
def test_overlapping_finds_every_pair_once_and_in_order(seed: int, n: int, m: int) -> None:
    rng = np.random.default_rng(seed)
    a, b = random_boxes(rng, n), random_boxes(rng, m)
    i, j = overlapping(a, b)
    thick = np.all(a.high > a.low, axis=1)[:, None] & np.all(b.high > b.low, axis=1)
    expected = by_hand(a, b, thick)
    assert [pair for pair in zip(i.tolist(), j.tolist(), strict=True) if thick[pair]] == expected


@settings(deadline=None, max_examples=40)
@given(st.integers(0, 10**6))
def test_groups_keep_to_themselves(seed: int) -> None:
    rng = np.random.default_rng(seed)
    a, b = (Boxes(boxes.low, boxes.high + 1.0) for boxes in (random_boxes(rng, 30), random_boxes(rng, 40)))
    groups = rng.integers(0, 4, 30), rng.integers(0, 4, 40)
    i, j = overlapping(a, b, *groups)
    assert list(zip(i.tolist(), j.tolist(), strict=True)) == by_hand(a, b, groups[0][:, None] == groups[1])


def test_boxes_of_a_group_that_reach_far_beyond_the_others_stay_in_it() -> None:
    a = Boxes(np.zeros((2, 3)), np.ones((2, 3)))
    b = Boxes(np.full((1, 3), -50.0), np.full((1, 3), 50.0))
    i, _ = overlapping(a, b, np.array([0, 1]), np.array([0]))
    assert i.tolist() == [0]


def test_touching_is_not_overlapping() -> None:
    a = Boxes(np.zeros((1, 3)), np.ones((1, 3)))
    i, _ = overlapping(a, a.shifted(np.array([[1.0, 0.0, 0.0]])))
    assert len(i) == 0


def test_grown_and_around() -> None:
    boxes = Boxes.around(np.array([[(0.0, 0.0, 0.0), (2.0, 3.0, 4.0)]])).grown(1.0)
    assert boxes.low.tolist() == [[-1.0, -1.0, -1.0]]
    assert boxes.high.tolist() == [[3.0, 4.0, 5.0]]


@pytest.mark.parametrize(
    ("starts", "counts", "owner", "index"),
    [([4, 0, 7], [2, 0, 3], [0, 0, 2, 2, 2], [4, 5, 7, 8, 9]), ([3], [0], [], [])],
)
def test_spread_writes_out_ranges(starts: list[int], counts: list[int], owner: list[int], index: list[int]) -> None:
    got = spread(np.array(starts), np.array(counts))
    assert [part.tolist() for part in got] == [owner, index]
