"""Thermal tables.

24 CFR 3280.509 (public law): framing shares of (b) and the restriction table of (c), with its worked case of loose
fill that tapers from 10 to 2 in.: ratio 0.20, 50 %, so R-25 counts as R-12.5. R-values: published secondary tables.
"""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.catalog.thermal import M2K_PER_FT2HF
from panelgen.catalog.thermal_rows import Restriction
from panelgen.errors import CatalogError

TABLES = Catalog.default().thermal


def test_unit() -> None:
    """1 ft2 h F/Btu is 0.1761 m2 K/W."""
    assert pytest.approx(0.17611, abs=1e-5) == M2K_PER_FT2HF


@pytest.mark.parametrize(("part", "share"), [("walls", 0.15), ("floors", 0.10), ("ceilings", 0.10)])
def test_framing_assumed_by_law(part: str, share: float) -> None:
    (row,) = (row for row in TABLES.framing if row.part == part and row.source.startswith("24 CFR"))
    assert (row.share, row.grade) == (pytest.approx(share), "A")


@pytest.mark.parametrize(
    ("ratio", "batt", "blown", "uniform"),
    [
        (0, 20, 15, 0),
        (8, 46, 36, 11),
        (10, 49, 39, 14),
        (20, 60, 50, 28),
        (50, 80, 72, 61),
        (80, 93, 90, 86),
        (100, 100, 100, 100),
    ],
)
def test_restricted_insulation(ratio: float, batt: float, blown: float, uniform: float) -> None:
    kinds: tuple[Restriction, ...] = ("batt", "blown", "uniform")
    assert [100 * TABLES.restricted(ratio / 100, how) for how in kinds] == pytest.approx([batt, blown, uniform])


def test_loose_fill_that_tapers() -> None:
    assert 25 * TABLES.restricted(2 / 10, "blown") == pytest.approx(12.5)


def test_between_rows_and_outside() -> None:
    assert TABLES.restricted(0.35, "batt") == pytest.approx(0.70)
    for ratio in (-0.1, 1.1):
        with pytest.raises(CatalogError, match="outside the table"):
            TABLES.restricted(ratio, "batt")


@pytest.mark.parametrize(
    ("product", "inches", "r"),
    [
        ("softwood", 3.5, 4.38),
        ("osb-5/8", 0.625, 0.63),
        ("plywood-1/2", 0.5, 0.625),
        ("gypsum-1/2", 0.5, 0.45),
        ("gypsum-5/8", 0.625, 0.56),
        ("dense-pack-cellulose", 1.0, 3.7),
    ],
)
def test_published_r_values(product: str, inches: float, r: float) -> None:
    conductivity = TABLES.conductivity(product).conductivity
    assert inches * 0.0254 / conductivity / M2K_PER_FT2HF == pytest.approx(r)


def test_products_belong_to_the_nearest_family() -> None:
    assert TABLES.conductivity("gypsum-1/2").name == "gypsum-1/2"
    assert TABLES.conductivity("gypsum-1/2-mr").name == "gypsum-1/2"
    assert TABLES.conductivity("gypsum-1/4").name == "gypsum"
    assert TABLES.conductivity("osb-1-1/8").name == "osb"
    with pytest.raises(CatalogError, match="cork"):
        TABLES.conductivity("cork")


@pytest.mark.parametrize(("place", "resistance"), [("inside", 0.13), ("outside", 0.04)])
def test_surfaces_of_a_wall_by_iso(place: str, resistance: float) -> None:
    row = TABLES.surface("iso-6946", "horizontal", place)
    assert (row.resistance, row.grade) == (resistance, "A")


def test_air_films_of_a_wall_by_parallel_path() -> None:
    films = [TABLES.surface("parallel-path", "horizontal", place).resistance for place in ("inside", "outside")]
    assert films == pytest.approx([0.68 * M2K_PER_FT2HF, 0.17 * M2K_PER_FT2HF])
