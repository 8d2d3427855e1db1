"""What rules ask of services: supports, drain slope, shield plates, clearances, screws.

IRC 2018 Table P2605.1 in a public copy; NEC 334.30 in a public quotation; 24 CFR 3280.610(h), read in the
public law; NEC 300.4 and IPC 305 in public reproductions. The rest is common practice, no source.
"""

from __future__ import annotations

import math

import pytest

from panelgen.catalog import Catalog
from panelgen.errors import CatalogError
from panelgen.units import inches

CATALOG = Catalog.default()
IRC = CATALOG.rules("irc-2021")
WAC = CATALOG.rules("wac-246-359")
FOOT = 304.8


@pytest.mark.parametrize(
    ("name", "horizontal", "vertical"),
    [
        ("pex-1/2", 32 / 12, 10),
        ("pex-1", 32 / 12, 10),
        ("cpvc-3/4", 3, 10),
        ("copper-1/2", 6, 10),
        ("copper-1", 6, 10),
        ("pvc-2", 4, 10),
    ],
)
def test_pipe_supports_of_p2605_1(name: str, horizontal: float, vertical: float) -> None:
    """IRC 2018 Table P2605.1, feet; PVC second-hand."""
    rule = IRC.support(CATALOG.service_size(name))
    assert rule is not None
    assert (rule.horizontal, rule.vertical) == pytest.approx((horizontal * FOOT, vertical * FOOT))
    assert rule.from_box == math.inf
    assert not rule.unverified


def test_cable_supports_of_nec_334_30() -> None:
    """Every 4-1/2 ft and within 12 in. of a box."""
    rule = IRC.support(CATALOG.service_size("nm-12/2"))
    assert rule is not None
    assert (rule.horizontal, rule.vertical, rule.from_box) == pytest.approx((4.5 * FOOT, 4.5 * FOOT, FOOT))
    assert rule.grade == "A"


def test_conduit_supports_are_unverified() -> None:
    rule = IRC.support(CATALOG.service_size("emt-1/2"))
    assert rule is not None
    assert (rule.horizontal, rule.from_box) == pytest.approx((10 * FOOT, 3 * FOOT))
    assert rule.unverified


@pytest.mark.parametrize("name", list(CATALOG.service_sizes))
def test_every_size_has_a_support_rule(name: str) -> None:
    for rules in map(CATALOG.rules, CATALOG.rule_sets):
        assert rules.support(CATALOG.service_size(name)) is not None


@pytest.mark.parametrize(
    ("name", "least"),
    [("pvc-1-1/2", 1 / 48), ("pvc-2", 1 / 48), ("pvc-3", 1 / 96), ("pvc-4", 1 / 96)],
)
def test_drain_slope_of_the_irc(name: str, least: float) -> None:
    """P3005.3: 1/4 in. a foot to 2-1/2 in. drains, 1/8 in. for 3 in. and more; partly second-hand."""
    slope = IRC.drain_slope(CATALOG.service_size(name).diameter)
    assert slope is not None
    assert slope.least == pytest.approx(least)
    assert slope.grade == "B"


def test_drain_slope_of_3280_610_h() -> None:
    """1/4 in. a foot; 1/8 in. where a full-size cleanout is given."""
    slope = WAC.drain_slope(inches(4.5))
    assert slope is not None
    assert (slope.least, slope.with_cleanout) == pytest.approx((1 / 48, 1 / 96))
    assert slope.grade == "A"


@pytest.mark.parametrize(
    ("family", "edge", "thickness", "past"),
    [
        ("cable", 1.25, 1 / 16, 0.0),
        ("conduit", 1.25, 1 / 16, 0.0),
        ("pipe", 1.5, 0.0575, 2.0),
        ("duct", 1.5, 0.0575, 2.0),
    ],
)
def test_where_runs_are_shielded(family: str, edge: float, thickness: float, past: float) -> None:
    """NEC 300.4(A): 1-1/4 in., 1/16 in. steel. IPC/IMC 305: 1-1/2 in., 0.0575 in. steel, 2 in. past plates."""
    rule = IRC.shield(family)
    assert rule is not None
    assert (rule.edge_distance, rule.thickness, rule.past_plate) == pytest.approx(
        (inches(edge), inches(thickness), inches(past))
    )


def test_shield_plates_are_as_wide_as_a_stick_and_thick_enough_for_every_rule() -> None:
    for rule in IRC.shields.values():
        plate = CATALOG.services.shield_plate(inches(2), rule.thickness)
        assert plate.name == "shield-1-1/2x2-1/2"
        assert plate.width == pytest.approx(CATALOG.stock("2x6").thickness)
        assert plate.thickness >= rule.thickness


def test_the_longest_plate_is_given_where_none_is_long_enough() -> None:
    longest = CATALOG.services.shield_plate(inches(100), inches(1 / 16))
    assert longest.length == max(plate.length for plate in CATALOG.services.shield_plates)


def test_no_plate_is_that_thick() -> None:
    with pytest.raises(CatalogError, match=r"no shield plate .* 25\.40 mm thick"):
        CATALOG.services.shield_plate(10.0, inches(1))


@pytest.mark.parametrize(
    ("system", "other", "distance"),
    [
        ("hot water", "cold water", 2.0),
        ("power", "data", 2.0),
        ("gas", "power", 2.0),
        ("gas", "drain", 1.0),
        ("gas", "gas", 1.0),
        ("drain", "vent", 0.0),
    ],
)
def test_clearances_hold_in_either_order(system: str, other: str, distance: float) -> None:
    """Common practice, no source."""
    row = CATALOG.services.clearance(system, other)
    assert row is CATALOG.services.clearance(other, system)
    assert row.distance == pytest.approx(inches(distance))
    assert row.unverified


@pytest.mark.parametrize(("board", "depth"), [("gypsum-1/2", 0.75), ("gypsum-5/8", 1.0)])
def test_how_far_board_screws_reach(board: str, depth: float) -> None:
    """A 1-1/4 in. screw through 1/2 in. board, 1-5/8 in. through 5/8 in.: common practice, no source."""
    assert CATALOG.services.screw_zone(board).depth == pytest.approx(inches(depth))


def test_board_screws_stay_in_the_strap() -> None:
    """2x3 straps laid flat are deeper than the screws of the common board reach."""
    assert CATALOG.services.screw_zone("gypsum-1/2").depth < CATALOG.stock("2x3").thickness


def test_unknown_board() -> None:
    with pytest.raises(CatalogError, match="no interior board 'gypsum-9'"):
        CATALOG.services.screw_zone("gypsum-9")


def test_manifolds_fit_a_2x4_wall_between_studs_at_24_in() -> None:
    manifolds = [box for box in CATALOG.boxes.values() if box.kind == "manifold"]
    assert manifolds
    for box in manifolds:
        assert box.depth <= CATALOG.stock("2x4").width + 1e-6
        assert box.width <= inches(24) - CATALOG.stock("2x4").thickness
        assert box.unverified
