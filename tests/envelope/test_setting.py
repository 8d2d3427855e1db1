"""Panels come down from the crane one after another, and what rests on another comes after it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.api import check, design, load
from panelgen.envelope.setting import blocked_panels, setting_order
from panelgen.geometry.frames import Frame, add
from panelgen.model import House, Panel
from tests.project.tree import ROOT


@pytest.fixture(scope="module")
def cottage() -> House:
    return design(load(ROOT / "examples" / "tern-cottage.yaml"))


def blocked(order: list[Panel]) -> dict[str, str]:
    return {one.panel.label: one.by.label for one in blocked_panels(order)}


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
