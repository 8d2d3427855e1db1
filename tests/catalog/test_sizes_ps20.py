"""Dressed sizes and section properties.

PS 20 sizes, as printed with A, S and I in a public table of structural lumber properties and in a
second one of sawn lumber dimensions (read there, not in PS 20 or the NDS Supplement themselves).
"""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.units import MM_PER_INCH

CATALOG = Catalog.default()

PRINTED = [
    # nominal, b in, d in, A in2, S in3, I in4: rounded as printed
    ("2x3", 1.5, 2.5, 3.75, 1.56, 1.95),
    ("2x4", 1.5, 3.5, 5.25, 3.06, 5.36),
    ("2x6", 1.5, 5.5, 8.25, 7.56, 20.8),
    ("2x8", 1.5, 7.25, 10.875, 13.1, 47.6),
    ("2x10", 1.5, 9.25, 13.875, 21.4, 98.9),
    ("2x12", 1.5, 11.25, 16.875, 31.6, 178.0),
    ("4x4", 3.5, 3.5, 12.25, 7.15, 12.5),
    ("4x6", 3.5, 5.5, 19.25, 17.6, 48.5),
]


@pytest.mark.parametrize(("name", "b", "d", "area", "modulus", "inertia"), PRINTED)
def test_section_properties_are_the_printed_ones(
    name: str, b: float, d: float, area: float, modulus: float, inertia: float
) -> None:
    stock = CATALOG.stock(name)
    assert (stock.thickness, stock.width) == pytest.approx((b * MM_PER_INCH, d * MM_PER_INCH))
    assert stock.area / MM_PER_INCH**2 == pytest.approx(area)
    # half a unit of the third printed figure
    assert stock.section_modulus / MM_PER_INCH**3 == pytest.approx(modulus, rel=0.004)
    assert stock.second_moment / MM_PER_INCH**4 == pytest.approx(inertia, rel=0.004)


@pytest.mark.parametrize(("name", "width"), [("1x3", 2.5), ("1x4", 3.5), ("1x6", 5.5)])
def test_boards_are_three_quarters_thick(name: str, width: float) -> None:
    board = CATALOG.stock(name)
    assert (board.thickness, board.width) == pytest.approx((0.75 * MM_PER_INCH, width * MM_PER_INCH))
