"""Beams and foundation walls under a ground floor: joists meet and are blocked over them, and span between them."""

from __future__ import annotations

from typing import Any

import pytest

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.house import design
from panelgen.model import House, Panel, PanelKind
from tests.design.floors.houses import FOOT, floored

SAWN: dict[str, Any] = {"stock": "2x10", "depth": 9.25 * 25.4, "spacing": 16 * 25.4}
LINE = {"id": "G1", "start": [0.0, 12 * FOOT], "end": [40 * FOOT, 12 * FOOT], "width": 139.7}


def ground(beams: list[dict[str, Any]], **more: Any) -> House:
    """A house whose floor is under its lowest walls."""
    floor = {"id": "F1", "level": "1", "beams": beams}
    return design(floored(**SAWN, floor=floor, **more))


def floors(house: House) -> list[Panel]:
    return [panel for panel in house.panels if panel.kind is PanelKind.FLOOR]


def test_joists_meet_over_a_beam() -> None:
    panels = floors(ground([LINE]))
    assert {(panel.wall_base, panel.height) for panel in panels} == {(0.0, 12 * FOOT), (12 * FOOT, 12 * FOOT)}
    assert all(any("joint-block" in member.id for member in panel.members) for panel in panels)


def test_a_panel_knows_the_beams_under_it() -> None:
    for panel in floors(ground([LINE])):
        (bearing,) = panel.bearings
        assert (bearing.beam, bearing.x0, bearing.x1) == ("G1", 0.0, pytest.approx(panel.length))
        low = panel.wall_base + bearing.y0, panel.wall_base + bearing.y1
        assert max(low[0], 12 * FOOT - 69.85) == pytest.approx(low[0])
        assert low[1] <= 12 * FOOT + 69.85 + 1e-6


def test_spans_are_looked_up_between_beams() -> None:
    """IRC Table R502.3.1(2): 2x10 SPF No.2 at 16 in. spans 15 ft 5 in. under 40 and 10 psf."""

    def spans(beams: list[dict[str, Any]]) -> list[float]:
        house = ground(beams, shop={"longest_stock": 7400.0})
        return [f.value for f in check_house(house, Catalog.default()) if f.code == "joist.span" and f.value]

    assert spans([LINE]) == []
    bare = spans([])
    assert bare
    assert all(value == pytest.approx(24 * FOOT - 2 * 38.1) for value in bare)
    aside = spans([LINE | {"start": [0.0, 7 * FOOT], "end": [40 * FOOT, 7 * FOOT]}])
    assert aside
    assert all(value == pytest.approx(17 * FOOT - 69.85 - 38.1) for value in aside)


def test_joists_that_meet_over_a_beam_are_carried_there() -> None:
    found = [f for f in check_house(ground([LINE]), Catalog.default()) if f.code in ("joist.support", "joist.bearing")]
    assert found == []


def test_a_beam_along_the_joists_carries_the_ones_over_it() -> None:
    along = {"id": "G2", "start": [20 * FOOT, 0.0], "end": [20 * FOOT, 24 * FOOT], "width": 139.7}
    house = ground([LINE, along])
    assert not [finding for finding in house.findings if finding.code.startswith("deck.")]
    assert {bearing.beam for panel in floors(house) for bearing in panel.bearings} == {"G1", "G2"}
