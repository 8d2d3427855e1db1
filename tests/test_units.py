from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.errors import BadValueError, PanelgenError
from panelgen.units import (
    LENGTH_UNITS,
    format_feet_inches,
    format_length,
    inches,
    parse_density,
    parse_length,
    parse_mass,
    parse_pressure,
)

LENGTHS = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("24 in", 609.6),
        ("24in", 609.6),
        ('24"', 609.6),
        ("24 inches", 609.6),
        ("24 in.", 609.6),
        ("24 IN", 609.6),
        ("7'-6 1/2\"", 90.5 * 25.4),
        ("7'-6-1/2\"", 90.5 * 25.4),
        ("7' 6\"", 90 * 25.4),
        ("7'6\"", 90 * 25.4),
        ("7'-6", 90 * 25.4),
        ("7′-6″", 90 * 25.4),
        ("7 ft 6 in", 90 * 25.4),
        ("7'", 84 * 25.4),
        ("8 ft", 2438.4),
        ("8.5 feet", 2590.8),
        ("0'-0 1/16\"", 25.4 / 16),
        ("3/4 in", 19.05),
        ("97-1/8 in", 97.125 * 25.4),
        ("97 1/8 in", 97.125 * 25.4),
        ("97.125 in", 97.125 * 25.4),
        (".5 in", 12.7),
        ("2438 mm", 2438.0),
        ("1.2 m", 1200.0),
        ("30 cm", 300.0),
        ("-3 in", -76.2),
        ("-7'-6\"", -90 * 25.4),
        ("  600  ", 600.0),
    ],
)
def test_lengths_as_people_write_them(text: str, mm: float) -> None:
    assert parse_length(text) == pytest.approx(mm, abs=1e-9)


@pytest.mark.parametrize(("unit", "mm"), [("mm", 3.0), ("m", 3000.0), ("in", 76.2), ("ft", 914.4)])
def test_bare_numbers_are_in_the_declared_unit(unit: str, mm: float) -> None:
    assert parse_length(3, unit) == parse_length(3.0, unit) == parse_length("3", unit) == pytest.approx(mm)


def test_bare_fractions_are_in_the_declared_unit() -> None:
    assert parse_length("97-1/8", "in") == pytest.approx(inches(97.125))


@pytest.mark.parametrize(
    "value",
    [
        True, False, None, [], {}, math.nan, math.inf, -math.inf, 10**400, "", "   ", "abc", "in", "24 inn", "24 lb",
        "nan", "inf", "1e3", "1e400", "3/0 in", "97-9/8 in", "7'-12\"", "7 6", "--3 in", "10,000 ft", "9" * 61,
        "٣ in", "1_000", "24 in 3", "7'-6 m", "7 ft 6 mm",
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_a_remedy(value: object) -> None:
    with pytest.raises(BadValueError) as refused:
        parse_length(value)
    assert "write a length like 24 in" in refused.value.remedy
    assert refused.value.words
    assert isinstance(refused.value, ValueError)
    assert isinstance(refused.value, PanelgenError)


def test_a_comma_in_a_number_is_named() -> None:
    with pytest.raises(BadValueError, match="leave the comma out"):
        parse_length("10,000 ft")


def test_an_unknown_unit_is_named() -> None:
    with pytest.raises(BadValueError, match="'furlongs' is not a unit of length"):
        parse_length("3 furlongs")


def test_masses() -> None:
    # International yard and pound agreement (1959): 1 lb = 0.45359237 kg exactly.
    assert parse_mass("2500 lb") == pytest.approx(1133.980925, rel=1e-12)
    assert parse_mass("10 lbs") == pytest.approx(4.5359237, rel=1e-12)
    assert parse_mass("1100 kg") == parse_mass(1100) == parse_mass("1100") == 1100.0


def test_pressures() -> None:
    # NIST SP 811 (2008), app. B.8: 1 lbf/ft2 = 47.88026 Pa.
    assert parse_pressure("30 psf") == pytest.approx(30 * 47.88026e-3, rel=1e-7)
    assert parse_pressure("1440 Pa") == parse_pressure("1.44 kPa") == parse_pressure(1.44) == pytest.approx(1.44)


def test_densities() -> None:
    # NIST SP 811 (2008), app. B.8: 1 lb/ft3 = 16.01846 kg/m3.
    assert parse_density("3.5 pcf") == parse_density("3.5 lb/ft3") == pytest.approx(3.5 * 16.01846, rel=1e-6)
    assert parse_density("56 kg/m3") == parse_density("56 kg/m³") == parse_density(56) == 56.0


@pytest.mark.parametrize("parse", [parse_mass, parse_pressure, parse_density])
@pytest.mark.parametrize("value", [True, None, math.nan, math.inf, "", "heavy", "3 ft", "1,5 kg", "1 / 2"])
def test_what_is_no_quantity_is_refused_with_a_remedy(parse, value: object) -> None:
    with pytest.raises(BadValueError, match="write a"):
        parse(value)


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (inches(97.125), "8'-1 1/8\""),
        (2438.4, "8'-0\""),
        (12.7, "0'-0 1/2\""),
        (0.0, "0'-0\""),
        (-0.1, "0'-0\""),
        (-76.2, "-0'-3\""),
        (304.79, "1'-0\""),
        (inches(90.5), "7'-6 1/2\""),
    ],
)
def test_feet_and_inches(mm: float, text: str) -> None:
    assert format_feet_inches(mm) == text


def test_a_finer_denominator_shows_finer_steps() -> None:
    assert format_feet_inches(inches(1 / 32), 32) == "0'-0 1/32\""


@pytest.mark.parametrize(
    ("unit", "text"), [("mm", "2441.6 mm"), ("m", "2.4416 m"), ("in", "96 1/8 in"), ("ft", "8'-0 1/8\"")]
)
def test_lengths_in_each_unit(unit: str, text: str) -> None:
    assert format_length(inches(96.125), unit) == text


def test_trailing_zeros_are_left_out() -> None:
    assert format_length(2438.0, "mm") == "2438 mm"
    assert format_length(1200.0, "m") == "1.2 m"
    assert format_length(0.0, "mm") == format_length(-0.01, "mm") == "0 mm"


@pytest.mark.parametrize("mm", [math.nan, math.inf])
@pytest.mark.parametrize("unit", list(LENGTH_UNITS))
def test_what_is_not_finite_is_not_written(mm: float, unit: str) -> None:
    with pytest.raises(ValueError, match="finite"):
        format_length(mm, unit)


def test_a_denominator_below_one_is_refused() -> None:
    with pytest.raises(ValueError, match="denominator"):
        format_feet_inches(25.4, 0)


@given(LENGTHS, st.sampled_from([1, 2, 4, 8, 16, 32, 64]))
def test_feet_and_inches_read_back_within_half_a_step(mm: float, denominator: int) -> None:
    read = parse_length(format_feet_inches(mm, denominator))
    assert abs(read - mm) <= 25.4 / denominator / 2 + 1e-6


@given(LENGTHS, st.sampled_from(list(LENGTH_UNITS)))
def test_every_unit_reads_back_within_half_a_step(mm: float, unit: str) -> None:
    step = 0.1 if unit in {"mm", "m"} else 25.4 / 16
    assert abs(parse_length(format_length(mm, unit)) - mm) <= step / 2 + 1e-6


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    for parse in (parse_length, parse_mass, parse_pressure, parse_density):
        try:
            value = parse(text)
        except BadValueError:
            continue
        assert math.isfinite(value)
