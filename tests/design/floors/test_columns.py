"""Fields are split the best way there is: as trying every split finds, within what line, truck and crane take."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest

from panelgen.catalog import Catalog
from panelgen.design.draft import Draft
from panelgen.design.floors.masses import CellMasses
from panelgen.design.floors.stocks import stocks_of
from panelgen.design.house import design
from panelgen.model import PanelKind, Partition
from panelgen.model.masses import panel_mass
from panelgen.spec import HouseSpec
from tests.design.floors.houses import FOOT, STAIR, bearing, floored
from tests.design.floors.random_fields import field_disagreement, random_field
from tests.random_houses import random_house

SPACING = 24 * 25.4


def floor(wide: float, long: float, **more: Any) -> HouseSpec:
    """A rectangular floor of I-joists at 24 in. along y."""
    ring = ((0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long))
    return floored(ring, stock="i-9-1/2", depth=241.3, spacing=SPACING, **more)


def of_floor(spec: HouseSpec) -> Partition:
    (found,) = (one for one in Draft.of(spec).partitions if one.wall == "F2")
    return found


@pytest.mark.parametrize("seed", range(60))
def test_a_field_is_split_as_trying_every_split_finds(seed: int) -> None:
    words, _ = field_disagreement(random_field(seed))
    assert not words


def test_random_fields_are_of_every_kind() -> None:
    splits = [of_floor(random_field(seed)) for seed in range(20)]
    assert {one.legal > 0 for one in splits} == {True, False}
    assert {bool(one.across) for one in splits} == {True, False}
    assert max(one.fewest for one in splits) > 1


def test_a_cassette_goes_on_the_truck() -> None:
    spec = floor(9000.0, 7000.0, shop={"truck": {"height": 2500.0, "length": 8000.0}})
    spans = pairwise((0.0, *of_floor(spec).joints, 9000.0))
    assert all(b - a <= 2500.0 for a, b in spans)


@pytest.mark.parametrize(("limit", "panels"), [(2438.4, 2), (2438.3, 3)])
@pytest.mark.parametrize("owner", ["line", "truck"])
def test_both_sides_of_the_size_of_line_and_truck(owner: str, limit: float, panels: int) -> None:
    """Two columns of 8 ft, or else three of less, of joists too long to lie across the line."""
    shop = {"line_height": limit} if owner == "line" else {"truck": {"length": 9000.0, "height": limit}}
    assert of_floor(floor(16 * FOOT, 20 * FOOT, shop=shop)).panels == panels


@pytest.mark.parametrize(("longest", "panels"), [(12 * FOOT, 2), (12 * FOOT - 1.0, 3)])
def test_both_sides_of_the_longest_stick_in_the_rack(longest: float, panels: int) -> None:
    walls = [bearing(f"1M{n}", (0.0, n * FOOT), (8 * FOOT, n * FOOT)) for n in (8, 12, 16)]
    ring = ((0.0, 0.0), (8 * FOOT, 0.0), (8 * FOOT, 24 * FOOT), (0.0, 24 * FOOT))
    shop = {"longest_stock": longest}
    spec = floored(ring, stock="2x10", depth=9.25 * 25.4, spacing=SPACING, lower=walls, shop=shop)
    assert of_floor(spec).panels == panels


def test_both_sides_of_a_mass() -> None:
    """The heavier of the cassettes that no limit parts, in the shop, on the truck and at the crane."""
    free = floor(16 * FOOT, 20 * FOOT)
    (deck,) = Draft.of(free).decks
    catalog = Catalog.default()
    cells = CellMasses(deck, stocks_of(deck, catalog), (0.0, 8 * FOOT, 16 * FOOT), (0.0, 20 * FOOT), catalog)
    most = float(max(cells.mass[0, 1, 0, 1], cells.mass[0, 1, 1, 2])) / 0.96
    for over, panels in ((0.1, 2), (-0.1, 3)):
        crane = {"at": [0.0, 0.0], "table": [{"radius": 20_000.0, "mass": most + over}]}
        for shop in ({"panel_mass": most + over}, {"truck": {"mass": most + over}}, {"crane": crane}):
            assert of_floor(floor(16 * FOOT, 20 * FOOT, shop=shop)).panels == panels


def test_columns_far_from_the_crane_are_narrower() -> None:
    crane = {"at": [0.0, 3000.0], "table": [{"radius": 7000.0, "mass": 900.0}, {"radius": 20000.0, "mass": 220.0}]}
    house = design(floor(40 * FOOT, 20 * FOOT, shop={"crane": crane}))
    widths = [panel.length for panel in house.panels if panel.wall == "F2"]
    assert max(widths[:2]) > 1.5 * max(widths[-2:])
    assert not [finding for finding in house.findings if finding.code.startswith("deck.")]


def test_what_no_split_allows_is_said_and_split_for_the_line() -> None:
    house = design(floor(9000.0, 7000.0, shop={"panel_mass": 20.0}))
    (found,) = (finding for finding in house.findings if finding.code == "deck.no-joint")
    assert found.value == pytest.approx(9000.0)
    assert "the mass that the shop moves" in found.words
    (partition,) = (one for one in house.partitions if one.wall == "F2")
    assert (partition.legal, partition.cost, partition.gap) == (0, None, None)
    assert partition.least > partition.panels
    assert max(panel.length for panel in house.panels if panel.wall == "F2") <= 3048.0


def test_joints_keep_off_the_trimmers_of_an_opening() -> None:
    """Two plies beside a hole and a joist of the next cassette need more than a clearance of 50 mm."""
    (deck,) = Draft.of(floor(16 * FOOT, 20 * FOOT)).decks
    stocks = stocks_of(deck, Catalog.default())
    room = 2 * stocks.header.thickness + stocks.joist.thickness
    for shift, joints in ((1.0, 5), (-1.0, 4)):
        hole = STAIR | {"at": [3 * SPACING + room + shift, 900.0], "size": [2 * SPACING, 1500.0]}
        spec = floor(16 * FOOT, 20 * FOOT, shop={"joint_clearance": 50.0}, openings=[hole])
        assert of_floor(spec).candidates == joints


def test_masses_known_beforehand_are_those_of_the_designed_cassettes() -> None:
    """From 7 % too much to 4 % too little, which the limits allow for: by random houses of every plan."""
    catalog, shares = Catalog.default(), []
    for seed in range(3):
        draft = Draft.of(random_house(seed))
        decks = {deck.id: deck for deck in draft.decks}
        for panel in draft.panels():
            if panel.kind in (PanelKind.FLOOR, PanelKind.CEILING):
                deck = decks[panel.wall]
                ys = [y for _, y in deck.ring]
                ends = (panel.wall_base, panel.wall_base + panel.height)
                lines = sorted({min(ys) - 1.0, *ends, max(ys) + 1.0} if ends[0] > 1.0 else {*ends, max(ys) + 1.0})
                stops = (panel.wall_start, panel.wall_start + panel.length)
                cells = CellMasses(deck, stocks_of(deck, catalog), stops, lines, catalog)
                mass = float(cells.mass[lines.index(ends[0]), lines.index(ends[1]), 0, 1])
                shares.append(panel_mass(panel) / mass)
    assert len(shares) >= 10
    assert min(shares) > 0.93
    assert max(shares) < 1.04
