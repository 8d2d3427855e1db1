"""The verdict on two sticks agrees with a solid modeller on hundreds of random pairs."""

from __future__ import annotations

import pytest

from tests.checks.oracle import compare_sticks


@pytest.mark.parametrize("notches", [0, 1])
def test_sticks_against_sticks(notches: int) -> None:
    agreement = compare_sticks(seed=51, count=300, notches=notches)
    assert agreement.disputed == []
    assert agreement.decided >= 290
    assert 0.15 < agreement.meet / agreement.decided < 0.85
