from __future__ import annotations

import pytest

from panelgen.spec.lines import Path, dotted, entered, shown


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ((), ""),
        (("openings", 3, "width"), "openings[3].width"),
        (("unit_types", "W 36", "height"), "unit_types['W 36'].height"),
        (("a\x07b",), "['a\\x07b']"),
        ((0, 1), "[0][1]"),
    ],
)
def test_paths_as_a_person_writes_them(path: Path, text: str) -> None:
    assert dotted(path) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("24 inn", "'24 inn'"), ("a\x1b[31m", "'a\\x1b[31m'"), ("é", "'é'"), (None, "null"), (True, "true"),
        (False, "false"), (3, "3"), ([1, 2], "a list of 2"), ({"a": 1}, "a mapping of 1"),
    ],
)  # fmt: skip
def test_values_as_an_error_shows_them(value: object, text: str) -> None:
    assert shown(value) == text


def test_long_text_is_cut() -> None:
    assert shown("x" * 1000) == "'" + "x" * 59 + "…'"


def test_entering_what_is_not_there_gives_nothing() -> None:
    assert entered({"a": 1}, "a") == 1
    assert entered({"a": 1}, "b") is None
    assert entered([1], 3) is None
    assert entered(5, "a") is None
