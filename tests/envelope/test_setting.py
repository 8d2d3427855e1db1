"""Panels come down from the crane one after another, and what rests on another comes after it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import pytest

from panelgen.api import check, design, load
from panelgen.envelope.setting import blocked_panels, setting_order
from panelgen.geometry.frames import Frame, add
from panelgen.model import House, Panel, Truss
from tests.project.tree import ROOT


@pytest.fixture(scope="module")
def cottage() -> House:
    return design(load(ROOT / "examples" / "tern-cottage.yaml"))


def name(what: Panel | Truss) -> str:
    return what.label if isinstance(what, Panel) else what.row


def blocked(order: list[Panel], trusses: Sequence[Truss] = ()) -> dict[str, str]:
    return {name(one.what): name(one.by) for one in blocked_panels(order, trusses)}


def shifted(panel: Panel, label: str, *by: float) -> Panel:
    frame = panel.frame
    return replace(panel, label=label, frame=Frame(add(frame.origin, (by[0], by[1], by[2])), frame.x, frame.y))


def test_storeys_are_set_one_on_another(cottage: House) -> None:
    order = setting_order(cottage)
    assert {panel.label for panel in order} == {panel.label for panel in cottage.panels}
    heights = [panel.frame.origin[2] for panel in order]
    assert heights == sorted(heights)
    assert blocked(list(order)) == {}
    assert not [finding for finding in check(cottage) if finding.code == "set.blocked"]


def test_nothing_is_set_under_what_rests_on_it(cottage: House) -> None:
    """The gable walls stand right on the plates of the walls of level 2."""
    order = list(setting_order(cottage))
    gables = [panel for panel in order if panel.level == "3"]
    early = [*gables, *(panel for panel in order if panel not in gables)]
    found = blocked(early)
    assert found
    assert set(found.values()) <= {panel.label for panel in gables}
    for label, by in found.items():
        below, above = cottage.panel(label), cottage.panel(by)
        assert below.frame.origin[2] + below.height == pytest.approx(above.frame.origin[2])


def test_a_wall_may_be_slid_in_under_what_does_not_rest_on_it(cottage: House) -> None:
    wall = cottage.panels[0]
    assert blocked([shifted(wall, "above", 0.0, 0.0, wall.height + 300.0), wall]) == {}
    assert blocked([shifted(wall, "above", 0.0, 0.0, wall.height + 5.0), wall]) == {wall.label: "above"}


def test_a_wall_boxed_in_on_all_sides_is_blocked(cottage: House) -> None:
    wall = cottage.panels[0]
    x, z = wall.frame.x, wall.frame.z
    around = [
        shifted(wall, "above", 0.0, 0.0, wall.height + 300.0),
        shifted(wall, "outside", *(400.0 * part for part in z)),
        shifted(wall, "inside", *(-400.0 * part for part in z)),
        shifted(wall, "left", *(-(wall.length + 300.0) * part for part in x)),
    ]
    assert blocked([*around, wall]) == {}
    around.append(shifted(wall, "right", *((wall.length + 300.0) * part for part in x)))
    assert blocked([*around, wall]) == {wall.label: "above"}


def test_trusses_come_after_their_walls_and_before_what_is_over_them() -> None:
    house = design(load(ROOT / "examples" / "heron-house.yaml"))
    assert house.trusses
    assert blocked(list(setting_order(house)), house.trusses) == {}


def test_a_panel_over_trusses_that_stands_before_them_bars_their_way() -> None:
    """A wall of the trusses' level lifted over the middle of the row."""
    house = design(load(ROOT / "examples" / "heron-house.yaml"))
    middle = house.trusses[len(house.trusses) // 2]
    wall = next(panel for panel in house.panels if panel.wall == "GE")
    x, y, z = middle.frame.point(middle.span / 2, 6000.0, 0.0)
    there = replace(wall, label="over", frame=Frame((x, y, z), wall.frame.x, wall.frame.y))
    assert blocked([*setting_order(house), there], house.trusses) == {"T1": "over"}
    assert [
        one.code for one in check(replace(house, panels=(*house.panels, there))) if one.code == "truss.blocked"
    ] == ["truss.blocked"]


def test_a_panel_right_under_trusses_comes_before_them() -> None:
    """A floor 10 mm under the row, as if it belonged to the storey above."""
    house = design(load(ROOT / "examples" / "heron-house.yaml"))
    middle = house.trusses[len(house.trusses) // 2]
    deck = next(panel for panel in house.panels if panel.label.startswith("2F"))
    x, y, z = middle.frame.point(middle.span / 2 - 1000.0, -10.0 - deck.depth[1], 0.0)
    under = replace(deck, label="under", frame=Frame((x, y, z), deck.frame.x, deck.frame.y))
    assert blocked([*setting_order(house), under], house.trusses) == {"under": "T1"}
