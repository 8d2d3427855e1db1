"""Whole houses at random: they are designed without an error, nothing stops them, and their airtight line closes."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.acceptance.house_random import faults

pytestmark = pytest.mark.slow


@settings(deadline=None, max_examples=15)
@given(st.integers(0, 100_000))
def test_a_random_house_has_no_faults(seed: int) -> None:
    assert faults(seed) == []
