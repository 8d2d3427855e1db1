"""The combined method on a published timber-framed wall.

Building (Scotland) Act 2003 consultation, Annex 6.B.2 (read in a public copy): brick, cavity, plywood, mineral wool
between studs (90.5 and 9.5 %), plasterboard. Section resistances 3.971 and 1.715 m2 K/W are printed there; its last
line, U = 0.29, is from memory.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.errors import BadValueError
from panelgen.plans.thermal import Section, limits

OUTSIDE, BRICK, CAVITY, PLYWOOD, PLASTERBOARD, INSIDE = 0.040, 0.132, 0.090, 0.146, 0.100, 0.130
WOOL, STUD = 3.333, 1.077


def section(share: float, middle: float) -> Section:
    return Section(share, (OUTSIDE, BRICK, CAVITY, PLYWOOD, middle, PLASTERBOARD, INSIDE))


WALL = (section(0.905, WOOL), section(0.095, STUD))


def test_sections() -> None:
    assert [one.total for one in WALL] == pytest.approx([3.971, 1.715])


def test_both_limits_and_their_mean() -> None:
    wall = limits(WALL)
    assert wall.upper == pytest.approx(3.530, abs=5e-4)
    assert wall.lower == pytest.approx(3.418, abs=5e-4)
    assert wall.resistance == pytest.approx(3.474, abs=5e-4)
    assert wall.transmittance == pytest.approx(0.288, abs=5e-4)
    assert round(wall.transmittance, 2) == 0.29


def test_parallel_paths_are_the_upper_limit() -> None:
    """Areas weighted by their own U: 0.905 / 3.971 + 0.095 / 1.715."""
    assert limits(WALL).parallel_transmittance == pytest.approx(0.905 / 3.971 + 0.095 / 1.715, abs=1e-6)


def test_one_section_is_a_plain_sum() -> None:
    """A published wall of layers in series: 0.63 + 7.5 + 6.25 + 0.56 + 0.68 + 0.17 = 15.79."""
    series = limits((Section(1.0, (0.63, 0.0, 7.5, 6.25, 0.56, 0.68, 0.17)),))
    assert (series.upper, series.lower) == (pytest.approx(15.79), pytest.approx(15.79))
    assert series.transmittance == pytest.approx(0.0633, abs=1e-4)


RESISTANCE = st.floats(0.01, 10.0)


@given(st.floats(0.0, 1.0), st.lists(st.tuples(RESISTANCE, RESISTANCE), min_size=1, max_size=6))
def test_the_lower_limit_is_never_above_the_upper(share: float, layers: list[tuple[float, float]]) -> None:
    sections = (Section(share, tuple(a for a, _ in layers)), Section(1.0 - share, tuple(b for _, b in layers)))
    found = limits(sections)
    assert found.lower <= found.upper * (1 + 1e-9)
    totals = [one.total for one in sections]
    assert min(totals) * (1 - 1e-9) <= found.upper <= max(totals) * (1 + 1e-9)
    assert sum(map(min, layers)) * (1 - 1e-9) <= found.lower


@pytest.mark.parametrize("sections", [(), (Section(0.9, (1.0,)),), (Section(0.5, (1.0,)), Section(0.5, (1.0, 2.0)))])
def test_sections_that_are_no_whole(sections: tuple[Section, ...]) -> None:
    with pytest.raises(BadValueError):
        limits(sections)
