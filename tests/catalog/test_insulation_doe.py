"""Dense-packed cellulose: US DOE fact sheet on loose-fill insulation, read in a reproduction."""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.units import MM_PER_INCH, inches, parse_density, parse_mass

CATALOG = Catalog.default()


def test_wall_density() -> None:
    product = CATALOG.insulation("dense-pack-cellulose")
    assert product.density == pytest.approx(parse_density("3.5 pcf"))
    assert not product.unverified


def test_one_bag_fills_three_cavities() -> None:
    """8 ft walls of 2x4 at 16 in.: one 30 lb bag for three cavities, which take 28.6 lb."""
    wide, deep, high = inches(16) - inches(1.5), CATALOG.stock("2x4").width, inches(92.625)
    cubic_metres = 3 * wide * deep * high * 1e-9
    mass = cubic_metres * CATALOG.insulation("dense-pack-cellulose").density
    assert mass == pytest.approx(parse_mass("28.6 lb"), abs=parse_mass("0.05 lb"))
    assert mass <= parse_mass("30 lb")
    assert mass + mass / 3 > parse_mass("30 lb")
    assert cubic_metres * 1e9 / MM_PER_INCH**3 == pytest.approx(3 * 14.5 * 3.5 * 92.625)
