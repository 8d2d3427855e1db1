"""The verdict on a run and a stick agrees with a solid modeller on hundreds of random pairs."""

from __future__ import annotations

import pytest

from tests.checks.oracle import KINDS, Agreement, compare_runs


@pytest.mark.parametrize("kind", KINDS)
def test_runs_against_sticks(kind: str) -> None:
    agreement = compare_runs(kind, seed=41, count=100)
    assert agreement.disputed == []
    assert agreement.decided >= 90
    assert 0.15 < agreement.meet / agreement.decided < 0.85


def test_an_agreement_adds_up() -> None:
    both = Agreement(10, 4, []) + Agreement(5, 1, ["pair"])
    assert (both.decided, both.meet, both.disputed) == (15, 5, ["pair"])
