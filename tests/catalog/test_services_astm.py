"""Outside sizes of pipes, conduits and cables.

PEX ASTM F876 and copper tube size: a county plan sheet and a size chart. PVC Schedule 40, ASTM
D1785/D2665: public size pages and a copy of D1785. EMT, ANSI C80.3: three public pages. NM-B: a cable
maker's published table. Ducts, sleeves and bore clearances: common practice, no source.
"""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.errors import CatalogError
from panelgen.units import inches

CATALOG = Catalog.default()


@pytest.mark.parametrize(
    ("name", "outside"),
    [
        ("pex-3/8", 0.500),
        ("pex-1/2", 0.625),
        ("pex-5/8", 0.750),
        ("pex-3/4", 0.875),
        ("pex-1", 1.125),
        ("pvc-1/2", 0.840),
        ("pvc-3/4", 1.050),
        ("pvc-1", 1.315),
        ("pvc-1-1/4", 1.660),
        ("pvc-1-1/2", 1.900),
        ("pvc-2", 2.375),
        ("pvc-3", 3.500),
        ("pvc-4", 4.500),
        ("emt-1/2", 0.706),
        ("emt-3/4", 0.922),
        ("emt-1", 1.163),
        ("emt-1-1/4", 1.510),
        ("nm-14/2", 0.372),
        ("nm-14/3", 0.478),
        ("nm-12/2", 0.422),
        ("nm-12/3", 0.524),
        ("nm-10/2", 0.505),
    ],
)
def test_outside_diameters(name: str, outside: float) -> None:
    size = CATALOG.service_size(name)
    assert size.diameter == pytest.approx(inches(outside))
    assert not size.unverified


@pytest.mark.parametrize("nominal", ["1/2", "3/4", "1"])
def test_copper_and_cpvc_have_the_outside_of_pex(nominal: str) -> None:
    """Copper tube size: nominal and 1/8 in. (ASTM B88)."""
    copper, cpvc, pex = (CATALOG.service_size(f"{kind}-{nominal}").diameter for kind in ("copper", "cpvc", "pex"))
    assert copper == cpvc == pex


@pytest.mark.parametrize(
    ("name", "least", "greatest"),
    [
        ("pvc-1-1/2", 48.11, 48.41),
        ("pvc-2", 60.17, 60.47),
        ("pvc-3", 88.70, 89.10),
        ("pvc-4", 114.07, 114.53),
    ],
)
def test_pvc_lies_in_the_metric_ranges_of_d1785(name: str, least: float, greatest: float) -> None:
    assert least <= CATALOG.service_size(name).diameter <= greatest


def test_what_a_flat_strap_cavity_takes() -> None:
    """Arithmetic of a 3/4 in. cavity behind 1x3 straps: 12/3 cable and 1/2 in. PEX fit, 3/4 in. PEX does not."""
    cavity = CATALOG.stock("1x3").thickness
    assert CATALOG.service_size("pex-1/2").diameter < cavity
    assert CATALOG.service_size("nm-12/3").diameter < cavity
    assert CATALOG.service_size("pex-3/4").diameter > cavity


def test_3_inch_drain_fills_a_2x4_wall() -> None:
    assert CATALOG.service_size("pvc-3").diameter == pytest.approx(CATALOG.stock("2x4").width)


def test_holes_are_wider_than_runs_by_practice_only() -> None:
    size = CATALOG.service_size("pex-1/2")
    assert size.bore_clearance == CATALOG.bore_clearance("pipe").clearance > 0
    assert size.clearance.unverified
    assert CATALOG.bore_clearance("other").unverified


@pytest.mark.parametrize(
    ("run", "sleeve"), [("nm-12/2", "sleeve-1/2"), ("pvc-2", "sleeve-2-1/2"), ("pvc-3", "sleeve-3-1/2")]
)
def test_sleeves_take_runs_and_cut_a_larger_hole(run: str, sleeve: str) -> None:
    product = CATALOG.sleeve(sleeve)
    assert CATALOG.service_size(run).diameter <= product.inside < product.outside


def test_unknown_size_names_the_nearest() -> None:
    with pytest.raises(CatalogError, match=r"no service size 'pex-1/3'.*pex-1"):
        CATALOG.service_size("pex-1/3")
