from __future__ import annotations

import math
from dataclasses import replace

import pytest

from panelgen.checks.scene import Scene
from panelgen.checks.shell.transport import too_much_for_the_crane, too_much_for_the_truck
from panelgen.model import Crane, ShopLimits, Truck
from panelgen.model.masses import center_of_gravity, panel_mass
from tests.checks.builders import panel, sheet, stud

LINE = ShopLimits(7315.2, 3048.0, 1360.0, 76.2)
WALL = panel([stud(0.0), stud(1181.1)], sheets=(sheet("s", -11.0, 0.0, 1230.2, 2438.4),), length=1219.2, height=2438.4)


@pytest.mark.parametrize(
    ("truck", "too"),
    [
        (Truck(), []),
        (Truck(length=1230.2), []),
        (Truck(length=1230.1), ["too long"]),
        (Truck(height=2438.4), []),
        (Truck(height=2438.3), ["too high"]),
        (Truck(mass=panel_mass(WALL) - 0.1), ["too heavy"]),
        (Truck(1000.0, 1000.0, 1.0), ["too long", "too high", "too heavy"]),
    ],
)
def test_the_truck(truck: Truck, too: list[str]) -> None:
    findings = list(too_much_for_the_truck(Scene.of((WALL,)), replace(LINE, truck=truck)))
    assert [finding.code for finding in findings] == ["panel.truck"] * len(too)
    assert all(words in finding.words for words, finding in zip(too, findings, strict=True))


def test_the_crane_lifts_by_the_row_of_the_next_greater_radius() -> None:
    mass = panel_mass(WALL)
    x, y, _ = WALL.frame.point(*center_of_gravity(WALL))
    for away, lifts in ((1999.9, True), (2000.0, True), (2000.1, False), (4000.1, False)):
        crane = Crane((x - away * 0.6, y + away * 0.8), ((2000.0, mass + 0.01), (4000.0, mass - 0.01)))
        findings = list(too_much_for_the_crane(Scene.of((WALL,)), replace(LINE, crane=crane)))
        assert [finding.code for finding in findings] == ([] if lifts else ["panel.crane"])
        for finding in findings:
            assert finding.value == pytest.approx(mass)
            assert finding.limit == pytest.approx(mass - 0.01 if away < 4000.0 else 0.0)
            assert "load chart and a qualified person decide" in finding.words


def test_without_a_truck_and_a_crane_nothing_is_asked() -> None:
    assert list(too_much_for_the_truck(Scene.of((WALL,)), LINE)) == []
    assert list(too_much_for_the_crane(Scene.of((WALL,)), LINE)) == []
    assert Truck() == Truck(math.inf, math.inf, math.inf)
