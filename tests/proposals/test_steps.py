"""Things are moved by lengths that a person would write."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.proposals.steps import distances, grid_of


@pytest.mark.parametrize(("unit", "grid"), [("in", 1.5875), ("ft", 1.5875), ("mm", 1.0), ("m", 1.0)])
def test_grid_follows_the_unit_of_the_spec(unit: str, grid: float) -> None:
    assert grid_of(unit) == grid


@given(st.floats(0.0, 200.0), st.floats(0.0, 2000.0), st.sampled_from(["in", "mm"]))
def test_distances_rise_on_the_grid_from_least_to_most(least: float, most: float, unit: str) -> None:
    grid = grid_of(unit)
    steps = list(distances(grid, least, most))
    assert steps == sorted(set(steps))
    assert all(least - 1e-5 <= step <= most for step in steps)
    assert all(step / grid == pytest.approx(round(step / grid)) for step in steps)
    assert not steps or steps[0] < least + grid + 1e-5


def test_steps_are_fine_where_little_is_asked() -> None:
    steps = list(distances(1.0, 0.0, 400.0))
    assert steps[:3] == [1.0, 4.0, 8.0]
    assert steps[-2:] == [352.0, 384.0]
