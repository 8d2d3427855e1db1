"""A worked stud design: a city's permit record (document 1869732, page 80), read in the public record.

2x6 Spruce-Pine-Fir of Stud grade, 9 ft high at 24 in. on centre; dead load 683, live 960, snow 538 lb/ft of wall;
15 psf of wind as it enters the combinations. Plates of Hem-Fir and Douglas Fir.
"""

from __future__ import annotations

import math

import pytest

from panelgen.catalog import Catalog
from panelgen.checks.structure.stud_design import LineLoads, StudResult, column_stability, stud_result
from panelgen.units import MM_PER_FOOT, inches, parse_pressure

CATALOG = Catalog.default()
PLF = parse_pressure("1 psf") * MM_PER_FOOT / 1000  # N/mm
LOADS = LineLoads(683 * PLF, 960 * PLF, 538 * PLF)


def stud(plate: str = "HF", height: float = 9.0) -> StudResult:
    strengths = CATALOG.strengths
    return stud_result(
        CATALOG.stock("2x6"),
        strengths.values["SPF", "Stud"],
        strengths.sizes["Stud", "2x6"],
        strengths,
        height * MM_PER_FOOT,
        inches(24),
        LOADS,
        parse_pressure("15 psf"),
        strengths.values[plate, "No.2"].across,
    )


@pytest.mark.parametrize(
    ("share", "published"),
    [("dead_wind", 0.53), ("dead_live_snow_wind", 0.92), ("dead_live_snow", 0.72), ("dead_live", 0.71)],
)
def test_load_combinations(share: str, published: float) -> None:
    assert getattr(stud(), share) == pytest.approx(published, abs=0.006)


def test_bend_under_wind() -> None:
    """Published 0.18 in., limit L/240 = 0.45 in."""
    assert stud().bend / 25.4 == pytest.approx(0.18, abs=0.005)


@pytest.mark.parametrize(("plate", "published"), [("HF", 0.87), ("DF-L", 0.56)])
def test_plate_under_the_stud(plate: str, published: float) -> None:
    assert stud(plate).plate == pytest.approx(published, abs=0.006)


def test_worst_is_the_combination_with_everything() -> None:
    assert stud().worst == stud().dead_live_snow_wind


def test_too_slender_takes_all() -> None:
    """NDS 3.7.1.4: le/d is 50 at most; 5-1/2 in. times 50 is 22.9 ft."""
    assert math.isfinite(stud(height=22.9).dead_live)
    assert stud(height=23.0).worst == math.inf


def test_stability_factor_falls_from_one_as_columns_get_slender() -> None:
    factors = [column_stability(euler, 1.0) for euler in (1000.0, 10.0, 1.0, 0.1)]
    assert factors == sorted(factors, reverse=True)
    assert factors[0] == pytest.approx(1.0, abs=1e-3)
    assert factors[-1] < 0.1
