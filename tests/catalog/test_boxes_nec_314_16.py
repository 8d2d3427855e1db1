"""Box volumes and box fill: NEC 314.16 in a public reproduction of its tables and a box-fill chart."""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.errors import CatalogError
from panelgen.units import MM_PER_INCH, inches

CATALOG = Catalog.default()
CUBIC_INCH = MM_PER_INCH**3


@pytest.mark.parametrize(
    ("name", "volume"),
    [
        ("device-3x2x2", 10.0),
        ("device-3x2x2-1/4", 10.5),
        ("device-3x2x2-1/2", 12.5),
        ("device-3x2x2-3/4", 14.0),
        ("device-3x2x3-1/2", 18.0),
        ("square-4x1-1/4", 18.0),
        ("square-4x1-1/2", 21.0),
        ("square-4x2-1/8", 30.3),
        ("square-4-11/16x1-1/4", 25.5),
        ("square-4-11/16x1-1/2", 29.5),
        ("square-4-11/16x2-1/8", 42.0),
    ],
)
def test_volumes(name: str, volume: float) -> None:
    box = CATALOG.box(name)
    assert box.volume == pytest.approx(volume * CUBIC_INCH)
    # the table's minimum volume is less than the outside of the box
    assert box.volume < box.width * box.height * box.depth


def test_size_of_a_device_box() -> None:
    box = CATALOG.box("device-3x2x2-1/2")
    assert (box.width, box.height, box.depth) == pytest.approx((inches(2), inches(3), inches(2.5)))


def test_worked_box_fill() -> None:
    """Two 12-2 cables, a receptacle and clamps: 8 allowances of 2.25 in3 are 18.0 in3."""
    fill = CATALOG.box_fill(12, conductors=4, devices=1, clamps=True, grounds=True)
    assert fill == pytest.approx(18.0 * CUBIC_INCH)
    assert fill <= CATALOG.box("device-3x2x3-1/2").volume + 1e-6
    assert fill > CATALOG.box("device-3x2x2-3/4").volume


@pytest.mark.parametrize(("gauge", "volume"), [(14, 2.00), (12, 2.25), (10, 2.50), (8, 3.00), (6, 5.00)])
def test_allowance_per_conductor(gauge: int, volume: float) -> None:
    assert CATALOG.box_fill(gauge, conductors=1) == pytest.approx(volume * CUBIC_INCH)


def test_unknown_gauge() -> None:
    with pytest.raises(CatalogError, match="no wire gauge 13"):
        CATALOG.box_fill(13, conductors=1)


def test_devices_clamps_and_grounds_count_at_the_largest_wire() -> None:
    """NEC 314.16(B): two 14 and two 12 conductors, a device and the grounds: 4.00 + 4.50 + 3 x 2.25 in3."""
    fill = CATALOG.mixed_box_fill({14: 2, 12: 2}, devices=1, grounds=True)
    assert fill == pytest.approx((4.00 + 4.50 + 3 * 2.25) * CUBIC_INCH)
