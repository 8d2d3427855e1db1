"""The split of a strip against brute force over every set of joints."""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.design.split.best import Cost, best_split, pieces, without
from panelgen.geometry.rods import Bools


def every_split(costs: dict[tuple[int, int], Cost], allowed: Bools) -> list[tuple[int, tuple[int, ...], list[int]]]:
    """Every split into allowed pieces as (pieces, summed cost, stops), by trying each set of joints."""
    last = len(allowed) - 1
    splits = []
    for number in range(last):
        for joints in combinations(range(1, last), number):
            stops = [0, *joints, last]
            steps = list(pairwise(stops))
            if all(allowed[step] for step in steps):
                total = tuple(map(sum, zip(*(costs[step] for step in steps), strict=True)))
                splits.append((len(steps), total, stops))
    return splits


@settings(max_examples=300, deadline=None)
@given(count=st.integers(2, 9), density=st.floats(0.2, 1.0), seed=st.integers(0, 2**32 - 1))
def test_the_best_of_all_splits(count: int, density: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    allowed = np.triu(rng.random((count, count)) < density, 1)
    costs = {(i, j): (int(rng.integers(3)), int(rng.integers(9))) for j in range(count) for i in range(j)}
    splits = every_split(costs, allowed)
    found = best_split(range(count), lambda i, j: costs[i, j], allowed)
    if not splits:
        assert found is None
        return
    assert found is not None
    fewest = [split for split in splits if split[0] == min(splits)[0]]
    assert (found.legal, found.fewest) == (len(splits), len(fewest))
    assert (len(found.stops) - 1, list(found.stops)) in [
        (n, stops) for n, total, stops in fewest if total == min(fewest)[1]
    ]
    assert found.cost == (min(fewest)[1] if len(fewest) > 1 else None)


def test_each_piece_is_asked_for_once_and_only_where_it_matters() -> None:
    stops = (0.0, 1.0, 2.0, 3.0, 4.0)
    asked: list[tuple[int, int]] = []

    def cost(i: int, j: int) -> Cost:
        asked.append((i, j))
        return (0,)

    best_split(stops, cost, pieces(stops, 3.0))
    assert sorted(asked) == [(0, 1), (0, 2), (0, 3), (1, 4), (2, 4), (3, 4)]
    asked.clear()
    best_split(stops, cost, pieces(stops, 4.0))
    assert asked == []


def test_a_pin_is_a_joint_of_every_split() -> None:
    stops = (0.0, 1.0, 2.0, 3.0, 4.0)
    found = best_split(stops, lambda i, j: (0,), without(pieces(stops, 4.0), [1]))
    assert found is not None
    assert found.spans(stops) == ((0.0, 1.0), (1.0, 4.0))
    assert found.legal == 4


@pytest.mark.parametrize(("longest", "shortest", "fits"), [(2.0, 2.0, True), (1.999, 0.0, False), (3.0, 2.001, False)])
def test_pieces_keep_their_limits(longest: float, shortest: float, fits: bool) -> None:
    assert pieces((0.0, 2.0), longest, shortest)[0, 1] == fits
