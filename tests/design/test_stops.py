"""Where along a strip panels may meet."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from panelgen.design.split.stops import legal_joints, stops_between


def test_joints_keep_clear_of_stretches_and_ends() -> None:
    layout = [600.0 * n for n in range(11)]
    joints = legal_joints(layout, (0.0, 6000.0), [(700.0, 2300.0)], 600.0)
    assert joints == (600.0, 2400.0, 3000.0, 3600.0, 4200.0, 4800.0, 5400.0)
    assert legal_joints(layout, (0.0, 6000.0), [(600.0, 2400.0), (3000.1, 5399.9)], 600.1) == (2400.0, 3000.0)


def test_what_the_spec_asks_for_is_a_stop_on_the_layout_or_off_it() -> None:
    stops = stops_between((0.0, 3000.0), (600.0, 1200.0, 1800.0), (1300.0, 600.0, 3000.0, 4000.0))
    assert stops.at == (0.0, 600.0, 1200.0, 1300.0, 1800.0, 3000.0)
    assert stops.fixed == (0, 1, 3, 5)
    assert stops.pins == (1, 3)


@given(
    st.lists(st.integers(1, 40), min_size=1, max_size=6, unique=True),
    st.lists(st.integers(1, 40), max_size=3),
    st.integers(0, 15),
    st.integers(10, 50),
)
def test_pieces_reach_over_no_pin_and_are_short_between_fixed_stops_only(
    places: list[int], pins: list[int], shortest: int, longest: int
) -> None:
    stops = stops_between((0.0, 41.0), map(float, places), map(float, pins))
    allowed = stops.allowed(float(shortest), float(longest))
    fixed = {0.0, 41.0, *map(float, pins)}
    assert set(stops.at) == {*fixed, *map(float, places)}
    for i, j in combinations(range(len(stops.at)), 2):
        a, b = stops.at[i], stops.at[j]
        over = any(a < pin < b for pin in pins)
        long_enough = b - a >= shortest or (a in fixed and b in fixed)
        assert allowed[i, j] == (not over and long_enough and b - a <= longest)
    assert not allowed[list(range(len(stops.at))), list(range(len(stops.at)))].any()
