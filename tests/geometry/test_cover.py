"""What covers leave open of stretches of many lines."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from panelgen.geometry.cover import Lines, uncovered

spans = st.lists(st.tuples(st.integers(0, 2), st.integers(0, 30), st.integers(1, 12)), max_size=8)


def lines(found: list[tuple[int, int, int]]) -> Lines:
    line, low, size = np.array(found, dtype=np.int64).reshape(-1, 3).T
    return line, low.astype(float), (low + size).astype(float)


def cells(found: Lines) -> set[tuple[int, int]]:
    return {
        (line, cell)
        for line, low, high in zip(*(column.tolist() for column in found), strict=True)
        for cell in range(int(low), int(high))
    }


@given(spans, spans)
def test_whole_numbers_by_counting(stretches: list[tuple[int, int, int]], covers: list[tuple[int, int, int]]) -> None:
    left = uncovered(lines(stretches), lines(covers))
    assert cells(left) == cells(lines(stretches)) - cells(lines(covers))


@given(spans)
def test_what_nothing_covers_is_joined(stretches: list[tuple[int, int, int]]) -> None:
    line, low, high = uncovered(lines(stretches), lines([]))
    assert (high > low).all()
    same = line[1:] == line[:-1]
    assert (low[1:][same] > high[:-1][same]).all()
