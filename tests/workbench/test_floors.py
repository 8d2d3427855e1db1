"""Floors on the workbench: a run that moves in one is designed anew there, and only there."""

from __future__ import annotations

from typing import Any

import pytest

from panelgen.design.house import design
from panelgen.errors import BadValueError
from panelgen.model import Panel, PanelKind
from panelgen.review.parts import PartKind, name_parts
from panelgen.routing.site import Site
from panelgen.workbench.redesign import Design
from tests.design.floors.houses import FOOT, floored

SAWN: dict[str, Any] = {"stock": "2x12", "depth": 11.25 * 25.4, "spacing": 16 * 25.4}


def pipe(y: float) -> list[dict[str, Any]]:
    z = 2466.975 + 140.0
    return [{"id": "P1", "system": "cold water", "diameter": 30.0, "path": [[1000.0, y, z], [2200.0, y, z]]}]


def bores(panel: Panel) -> list[float]:
    """Where along the joists the holes of a panel are, mm."""
    return [member.frame.point(*bore.point)[1] for member in panel.members for bore in member.bores]


def test_a_moved_run_is_bored_anew_in_its_cassette() -> None:
    ring = ((0.0, 0.0), (40 * FOOT, 0.0), (40 * FOOT, 14 * FOOT), (0.0, 14 * FOOT))
    before = Design.of(floored(ring, **SAWN, runs=pipe(1000.0)))
    after = before.after(floored(ring, **SAWN, runs=pipe(1500.0)))
    decks = [panel for panel in after.house.panels if panel.kind is PanelKind.FLOOR]
    assert bores(decks[0]) == pytest.approx([1500.0, 1500.0, 1500.0])
    assert "2F01" in after.redone
    assert decks[-1].label not in after.redone


def test_a_floor_has_a_name_that_findings_can_use() -> None:
    house = design(floored())
    name = name_parts(house, among=("F2",))["F2"]
    assert (name.kind, name.words) == (PartKind.WALL, "floor F2")


def test_routes_are_looked_for_in_walls_only() -> None:
    house = design(floored())
    with pytest.raises(BadValueError, match="no wall holds both"):
        Site.around(house, ((1000.0, 1000.0, 2600.0), (2000.0, 1000.0, 2600.0)))
