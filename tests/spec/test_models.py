from __future__ import annotations

from collections.abc import Callable

import pytest
from pydantic import ValidationError

from panelgen.catalog import Catalog
from panelgen.spec import Clearance, Gable, HouseSpec, OpeningSpec, UnitType, loads


@pytest.mark.parametrize(
    ("peak", "top"),
    [
        (None, ((0, 1000), (3000, 2500), (6000, 1000))),
        (0, ((0, 4000), (6000, 1000))),
        (6000, ((0, 1000), (6000, 4000))),
        (9000, ((0, 1000), (6000, 4000))),
        (2000, ((0, 2000), (2000, 3000), (6000, 1000))),
    ],
)
def test_the_top_of_a_gable(peak: float | None, top: tuple[tuple[float, float], ...]) -> None:
    """Both slopes are 6 in 12, and the lower end is at the eave."""
    assert Gable(eave=1000, rise=6, run=12, peak=peak).top(6000) == top


def test_a_window_has_clearance_all_round() -> None:
    unit = UnitType(kind="window", width=900, height=1200, clearance=Clearance(side=10, head=15, sill=20))
    opening = OpeningSpec(id="W", wall="S", type="w", center=2000, sill=800)
    assert opening.rough_opening(unit) == (1540.0, 800.0, 2460.0, 2035.0)


def test_a_door_stands_on_the_floor_without_clearance_below() -> None:
    unit = UnitType(kind="door", width=900, height=2000, clearance=Clearance(side=10, head=15, sill=20))
    assert OpeningSpec(id="D", wall="S", type="d", center=2000).rough_opening(unit) == (1540.0, 0.0, 2460.0, 2015.0)


def test_the_shops_products_come_on_top_of_the_catalog(good: str) -> None:
    catalog = loads(good).products.over(Catalog.default())
    assert (catalog.stock("2x7").thickness, catalog.stock("2x7").width) == (38.0, 165.0)
    assert catalog.sheet("board-12").sizes == ((1220.0, 2440.0),)
    assert catalog.stock("2x4") == Catalog.default().stock("2x4")


def test_the_layers_of_an_assembly_by_their_place(good: str) -> None:
    house: HouseSpec = loads(good)
    ext, partition = house.assemblies["ext"], house.assemblies["partition"]
    assert ext.outer_sheathing is ext.layers[0]
    assert ext.framing is ext.layers[1]
    assert ext.inner_sheathing is ext.layers[2]
    assert ext.strapping is ext.layers[3]
    assert partition.outer_sheathing is partition.inner_sheathing is partition.strapping is None


def test_two_equal_sheathings_are_told_apart_by_their_place(edited: Callable[..., str]) -> None:
    text = edited("product: osb-7/16, barrier: weather", "product: board-12, barrier: air, gap: 3")
    ext = loads(text).assemblies["ext"]
    assert ext.layers[0] == ext.layers[2]
    assert ext.outer_sheathing is ext.layers[0]
    assert ext.inner_sheathing is ext.layers[2]


def test_models_can_be_made_without_a_file() -> None:
    assert UnitType(kind="door", width="36 in", height="80 in").width == pytest.approx(914.4)
    with pytest.raises(ValidationError, match="write a length"):
        UnitType(kind="door", width="wide", height="80 in")
