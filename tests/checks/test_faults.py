"""Planted faults are found and panels without a fault are not reported, by fixed seeds and by random ones."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.checks.faults.clean import clean_house
from tests.checks.faults.planting import KINDS, clean_houses, false_reports, is_found, planted, planted_in
from tests.checks.faults.registry import JOINED
from tests.checks.faults.walls import Wall, random_wall

PER_KIND = 3


@cache
def faults() -> dict[str, list[bool]]:
    """Whether each of some faults of every kind is found."""
    results: dict[str, list[bool]] = {}
    for name, case in planted(7, PER_KIND * len(KINDS)):
        results.setdefault(name, []).append(is_found(case))
    return results


@pytest.mark.parametrize("name", KINDS)
def test_every_kind_of_fault_is_found(name: str) -> None:
    assert faults()[name] == [True] * PER_KIND


def test_there_are_enough_kinds() -> None:
    assert len(KINDS) >= 20


def test_panels_without_a_fault_are_not_reported() -> None:
    houses = list(clean_houses(7, 100))
    assert sum(len(house.runs) for house in houses) > 150
    assert [false_reports(house) for house in houses] == [[]] * 100


@cache
def wall(seed: int, panels: int) -> Wall:
    return random_wall(np.random.default_rng(seed), panels=panels)


SEEDS = st.integers(0, 2**32 - 1)


@settings(max_examples=100)
@given(name=st.sampled_from(tuple(KINDS)), walls=st.integers(0, 15), seed=SEEDS)
def test_random_faults(name: str, walls: int, seed: int) -> None:
    case = planted_in(wall(walls, 2 if name in JOINED else 1), name, np.random.default_rng(seed))
    assume(case is not None)
    assert is_found(case)


@settings(max_examples=60)
@given(walls=st.integers(0, 15), seed=SEEDS)
def test_random_panels_without_a_fault(walls: int, seed: int) -> None:
    assert false_reports(clean_house(np.random.default_rng(seed), wall(walls, 1))) == []
