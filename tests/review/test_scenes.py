"""A scene is what of a group lies in one panel, and its close-up holds the first spot."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.drawing.looks import Look
from panelgen.drawing.page import Disc, Drawing
from panelgen.model import Finding
from panelgen.review.groups import group_findings
from panelgen.review.scenes import PanelScene, draw_closeup, draw_overview, group_scenes
from tests.review.findings import found, house


def scenes(*findings: Finding) -> tuple[PanelScene, ...]:
    (group,) = group_findings(house(), findings)
    return group_scenes(house(), group)


def ring(drawing: Drawing | None) -> tuple[float, float]:
    assert drawing is not None
    (centre,) = [shape.centre for shape in drawing.shapes if isinstance(shape, Disc) and shape.look is Look.SPOT]
    return centre


def test_a_scene_for_each_panel_in_the_order_of_the_house() -> None:
    made = scenes(
        found("bore.edge", "1W03", "r0", "1W03.s01", at=(600.0, 300.0)),
        found("bore.edge", "1W01", "r0", "1W01.s01", at=(610.0, 300.0)),
        found("bore.edge", "1W03", "r0", "1W03.s02", at=(1200.0, 300.0)),
    )
    assert [scene.panel.label for scene in made] == ["1W01", "1W03"]
    assert made[1].involved == ("r0", "1W03.s01", "1W03.s02")
    assert made[1].points == ((2, (600.0, 300.0, 60.0)), (3, (1200.0, 300.0, 60.0)))


def test_a_place_in_the_house_is_found_in_the_panel() -> None:
    panel = house().panels[1]
    finding = replace(found("bore.edge", "1W02", "r0"), house_point=panel.frame.point(700.0, 300.0, 60.0))
    ((number, point),) = scenes(finding)[0].points
    assert (number, point) == (1, pytest.approx((700.0, 300.0, 60.0)))


def test_a_finding_about_a_wall_is_seen_in_its_nearest_panel() -> None:
    panels = house().panels
    beyond = panels[0].frame.point(panels[1].length - 1.0, 0.0, 0.0)  # panels grow longer one by one
    (scene,) = scenes(replace(found("panel.no-joint", "", "A"), house_point=beyond))
    assert scene.panel.label == "1W02"


def test_a_finding_about_the_house_is_seen_nowhere() -> None:
    assert scenes(found("spec.note", "")) == ()
    assert scenes(found("panel.mass", "9W99")) == ()


def test_without_a_spot_there_is_no_close_up() -> None:
    (scene,) = scenes(found("panel.mass"))
    assert draw_closeup(scene) is None
    assert draw_overview(scene).title == "Panel 1W01, seen from the weather side"


@settings(max_examples=30, deadline=None)
@given(st.floats(-500, 4500), st.floats(-500, 3500))
def test_close_up_holds_the_first_spot_well_inside(x: float, y: float) -> None:
    (scene,) = scenes(found("bore.edge", "1W01", "r0", at=(x, y)))
    near = draw_closeup(scene)
    left, top = ring(near)
    assert 40 < left < near.width - 40
    assert 40 < top < near.height - 40


def test_close_up_of_a_spot_in_the_middle_is_centred() -> None:
    (scene,) = scenes(found("bore.edge", "1W01", "r0", at=(1800.0, 1300.0)))
    near = draw_closeup(scene)
    assert ring(near)[0] == pytest.approx(near.width / 2)
