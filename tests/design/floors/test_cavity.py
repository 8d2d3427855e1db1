"""Straps under ceilings: rows across the joists that stop at the walls below, screwed to every joist they cross."""

from __future__ import annotations

from itertools import pairwise

import pytest
import shapely

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.draft import Draft
from panelgen.design.house import design
from panelgen.model import House, Member, Panel, PanelKind, Role
from panelgen.spec import HouseSpec
from tests.design.floors.houses import FOOT, bearing, floored
from tests.design.solids import assert_apart


@pytest.fixture(scope="module")
def spec() -> HouseSpec:
    lower = [bearing("1M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))]
    upper = [
        bearing("2M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT)),
        bearing("2P", (15 * FOOT, 12 * FOOT), (15 * FOOT, 24 * FOOT), carries=False),
    ]
    return floored(lower=lower, upper=upper, ceiling={"joists": "y"})


@pytest.fixture(scope="module")
def house(spec: HouseSpec) -> House:
    return design(spec)


def ceilings(house: House) -> list[Panel]:
    return [panel for panel in house.panels if panel.kind is PanelKind.CEILING]


def straps(panel: Panel) -> list[Member]:
    return [member for member in panel.members if member.role is Role.STRAP]


def test_straps_lie_under_the_barrier_and_are_apart(house: House) -> None:
    for panel in ceilings(house):
        assert straps(panel)
        assert_apart(straps(panel))
        for member in straps(panel):
            low, high = member.corners()[:, 2].min(), member.corners()[:, 2].max()
            assert (low, high) == pytest.approx((-11.1125 - 19.05, -11.1125))


def test_straps_stop_at_every_wall_below(spec: HouseSpec, house: House) -> None:
    (deck,) = (one for one in Draft.of(spec).decks if one.kind is PanelKind.CEILING)
    walls = shapely.union_all([shapely.box(*band.body) for band in deck.below])
    assert {band.wall for band in deck.below} == {"2A", "2B", "2C", "2D", "2M", "2P"}
    for panel in ceilings(house):
        for member in straps(panel):
            xs, ys = member.corners()[:, 0] + panel.wall_start, member.corners()[:, 1] + panel.wall_base
            assert walls.distance(shapely.box(xs.min(), ys.min(), xs.max(), ys.max())) >= 3.0 - 1e-6


def test_rows_are_no_farther_apart_than_the_spec_asks(house: House) -> None:
    for panel in ceilings(house):
        rows = sorted({round(member.frame.origin[1], 3) for member in straps(panel)})
        assert all(b - a <= 16 * 25.4 + 1e-3 for a, b in pairwise(rows))


def test_each_strap_is_screwed_where_it_crosses_a_joist(house: House) -> None:
    for panel in ceilings(house):
        numbers = [k for k, member in enumerate(panel.members) if member.role is Role.STRAP]
        screwed = {k for batch in panel.fasteners if "strap to stud" in batch.id for k in batch.fastened.tolist()}
        assert screwed >= set(numbers)


def test_nothing_clashes(house: House) -> None:
    found = {finding.code for finding in check_house(house, Catalog.default())}
    assert not {code for code in found if code.startswith(("member.", "panel.", "part.", "fastener.", "strap."))}
