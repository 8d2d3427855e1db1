"""Studs against IRC Table R602.3(5), on both sides of each limit.

Spacing rows seen in an adapted field guide; the height of 10 ft partly from memory.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.structure.houses import FOOT, codes, found, storeys, without
from tests.design.houses import ASSEMBLIES


def framed(stock: str, spacing: str, **framing: Any) -> dict[str, Any]:
    layer = {"layer": "framing", "stock": stock, "spacing": spacing} | framing
    return {"exterior": {"layers": [layer]}}


def test_2x6_at_24_in_under_a_roof_and_a_floor() -> None:
    assert codes(storeys(2)) == []


@pytest.mark.parametrize(("stock", "storeys_up", "spacing", "wrong"), [
    ("2x4", 1, "24 in", []),
    ("2x4", 2, "16 in", []),
    ("2x4", 2, "24 in", ["stud.spacing"]),
    ("2x6", 3, "16 in", []),
    ("2x6", 3, "24 in", ["stud.spacing"]),
    ("2x4", 3, "16 in", ["stud.table"]),
])  # fmt: skip
def test_spacing_by_what_stands_above(stock: str, storeys_up: int, spacing: str, wrong: list[str]) -> None:
    findings = found(storeys(storeys_up, assemblies=ASSEMBLIES | framed(stock, spacing)))
    assert sorted({one.code for one in findings}) == wrong
    assert {one.panel[0] for one in findings} <= {"1"}


def test_a_stud_left_out() -> None:
    house = storeys(1)
    (finding,) = found(without(house, "N1/stud-2"))
    assert (finding.code, finding.limit) == ("stud.spacing", pytest.approx(609.6))
    assert finding.value == pytest.approx(2 * 609.6)
    assert "needs an engineer" in finding.words
    assert "of its capacity" in finding.words


@pytest.mark.parametrize(("height", "wrong"), [("10 ft", []), ("12 ft", ["stud.height"])])
def test_height(height: str, wrong: list[str]) -> None:
    assert codes(storeys(1, wall={"height": height}, shop={"line_height": "14 ft"})) == wrong


def test_height_of_a_wall_without_load() -> None:
    """Nonbearing 2x6 studs: 20 ft."""
    tall = storeys(1, wall={"height": "12 ft", "bearing": False}, shop={"line_height": "14 ft"})
    assert codes(tall) == []
    assert max(member.length for one in tall.panels for member in one.members if member.role == "stud") > 11 * FOOT


def test_stock_that_the_table_does_not_know() -> None:
    (finding, *_) = found(storeys(1, assemblies=ASSEMBLIES | framed("2x10", "24 in")))
    assert finding.code == "stud.table"
    assert (finding.value, finding.limit) == (None, None)
    assert "needs an engineer" in finding.words
