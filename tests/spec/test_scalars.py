from __future__ import annotations

import math

import pytest

from panelgen.spec.scalars import Scalar, resolved


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("", None), ("~", None), ("null", None), ("true", True), ("False", False), ("0", 0), ("-12", -12), ("+3", 3),
        ("1.5", 1.5), (".5", 0.5), ("-2.", -2.0), ("1e3", 1000.0), ("1.5E-2", 0.015),
        (".inf", math.inf), ("-.Inf", -math.inf),
    ],
)  # fmt: skip
def test_words_and_numbers(text: str, value: Scalar) -> None:
    assert resolved(text) == value
    assert type(resolved(text)) is type(value)


@pytest.mark.parametrize(
    "text",
    ["no", "yes", "on", "010", "0x1F", "1_000", "12:30", "2024-01-31", "24 in", "7'-6 1/2\"", "-", ".", "9" * 40],
)
def test_everything_else_stays_text(text: str) -> None:
    assert resolved(text) == text


def test_not_a_number() -> None:
    value = resolved(".NaN")
    assert isinstance(value, float)
    assert math.isnan(value)
