"""Places and quantities are said in millimetres and in feet and inches."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.review.wording import both, measured_words, place_pair, quantity_pair, title_words
from tests.review.findings import found


@pytest.mark.parametrize(
    ("value", "unit", "pair"),
    [
        (9.525, "mm", ("9.5 mm", "3/8 in")),
        (2565.4, "mm", ("2565.4 mm", "8'-5\"")),
        (-400.0, "mm", ("-400 mm", "-1'-3 3/4\"")),
        (8025.4, "kg", ("8,025 kg", "17,693 lb")),
        (0.000325, "m3", ("0.000325 m3", "")),
        (3.0, "", ("3", "")),
        (None, "mm", ("", "")),
    ],
)
def test_quantities(value: float | None, unit: str, pair: tuple[str, str]) -> None:
    assert quantity_pair(value, unit) == pair


def test_place_is_along_and_up() -> None:
    assert place_pair(found("a.b", at=(1282.7, 914.4))) == ("1283 mm along, 914 mm up", "4'-2 1/2\", 3'-0\"")
    assert place_pair(found("a.b")) == ("", "")


def test_limit_stands_behind_what_was_measured() -> None:
    assert measured_words(found("a.b")) == "9.5 mm (3/8 in), limit 15.9 mm (5/8 in)"
    assert measured_words(replace(found("a.b"), limit=None)) == "9.5 mm (3/8 in)"
    assert measured_words(replace(found("a.b"), value=None)) == ""


def test_second_way_to_say_it_is_in_brackets() -> None:
    assert both(("1 mm", "1/16 in")) == "1 mm (1/16 in)"
    assert both(("3", "")) == "3"


def test_title_is_the_first_clause_and_short() -> None:
    assert (
        title_words("run PW6 crosses the rough opening W114: lead it around")
        == "run PW6 crosses the rough opening W114"
    )
    long = title_words("word " * 60)
    assert len(long) <= 100
    assert long.endswith(" …")
