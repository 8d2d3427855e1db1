"""Lines of points are moved as a fitter would: square bends stay square, ends that are held stay."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.proposals.moves import deepened, detoured, end_moved, nearest_point, nearest_segment, shifted

STRAIGHT = ((0.0, 0.0, 0.0), (1000.0, 0.0, 0.0))
BENT = ((0.0, 0.0, 0.0), (500.0, 0.0, 0.0), (500.0, 400.0, 0.0), (900.0, 400.0, 0.0))


def test_a_middle_segment_takes_its_neighbours_with_it() -> None:
    assert shifted(BENT, 1, (30.0, 0.0, 0.0)) == (
        (0.0, 0.0, 0.0), (530.0, 0.0, 0.0), (530.0, 400.0, 0.0), (900.0, 400.0, 0.0),
    )  # fmt: skip


def test_a_shift_that_no_neighbour_can_take_up_moves_the_whole_run() -> None:
    assert shifted(BENT, 0, (0.0, 0.0, 10.0)) == tuple((x, y, z + 10.0) for x, y, z in BENT)


def test_a_held_end_is_not_moved() -> None:
    assert shifted(BENT, 0, (0.0, 20.0, 0.0), (True, False)) is None
    assert shifted(BENT, 2, (0.0, 20.0, 0.0), (True, False)) is not None


def test_a_shift_never_folds_the_run_back() -> None:
    assert shifted(BENT, 1, (-500.0, 0.0, 0.0)) is None
    assert shifted(BENT, 1, (600.0, 0.0, 0.0)) is None


def test_a_detour_keeps_both_ends() -> None:
    assert detoured(STRAIGHT, 0, (300.0, 600.0), (0.0, 50.0, 0.0)) == (
        STRAIGHT[0], (300.0, 0.0, 0.0), (300.0, 50.0, 0.0), (600.0, 50.0, 0.0), (600.0, 0.0, 0.0), STRAIGHT[1],
    )  # fmt: skip


def test_a_detour_over_all_of_a_segment_starts_at_its_ends() -> None:
    assert detoured(STRAIGHT, 0, (-50.0, 2000.0), (0.0, 0.0, 20.0)) == (
        STRAIGHT[0], (0.0, 0.0, 20.0), (1000.0, 0.0, 20.0), STRAIGHT[1],
    )  # fmt: skip


def test_a_detour_that_goes_back_over_the_run_is_none() -> None:
    assert detoured(BENT, 1, (0.0, 400.0), (-50.0, 0.0, 0.0)) is None


def test_one_depth_joins_points_that_come_together() -> None:
    line = ((0.0, 0.0, -30.0), (100.0, 0.0, -30.0), (100.0, 0.0, 60.0), (300.0, 0.0, 60.0))
    assert deepened(line, (0.0, 0.0, 1.0), -30.0) == ((0.0, 0.0, -30.0), (100.0, 0.0, -30.0), (300.0, 0.0, -30.0))
    assert deepened(((0.0, 0.0, -30.0), (0.0, 0.0, 60.0)), (0.0, 0.0, 1.0), 0.0) is None


def test_an_end_moves_along_its_own_segment() -> None:
    assert end_moved(STRAIGHT, True, -40.0) == (STRAIGHT[0], (960.0, 0.0, 0.0))
    assert end_moved(STRAIGHT, False, 25.0) == ((-25.0, 0.0, 0.0), STRAIGHT[1])
    assert end_moved(STRAIGHT, True, -999.0) is None


def test_nearest_segment_and_point() -> None:
    assert nearest_segment(BENT, (510.0, 150.0, 0.0)) == (1, 150.0)
    assert nearest_point(BENT, (510.0, 150.0, 0.0)) == (500.0, 150.0, 0.0)


@given(st.floats(-300, 300), st.floats(-300, 300), st.integers(0, 2))
def test_a_shift_keeps_every_direction(dx: float, dy: float, k: int) -> None:
    moved = shifted(BENT, k, (dx, 0.0, 0.0)) or shifted(BENT, k, (0.0, dy, 0.0)) or BENT
    for (a, b), (c, d) in zip(pairwise(BENT), pairwise(moved), strict=True):
        old, new = [q - p for p, q in zip(a, b, strict=True)], [q - p for p, q in zip(c, d, strict=True)]
        cosine = sum(p * q for p, q in zip(old, new, strict=True)) / math.dist(a, b) / math.dist(c, d)
        assert cosine == pytest.approx(1.0)
