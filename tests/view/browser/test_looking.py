"""Looking at a house and its panels in the standalone page: state and picture change with what a person does."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from panelgen.geometry.frames import Frame
from panelgen.model.palette import OKABE_ITO
from panelgen.view import to_html
from tests.view.browser.conftest import Open, Shown
from tests.view.browser.scene import SKY, changed, house, of_colour


def test_first_picture_shows_the_house(shown: Shown) -> None:
    state = shown.state
    assert state["panels"] == [panel.label for panel in house().panels]
    assert state["open"] is None
    drawn = shown.pixels()
    assert drawn.shape[0] > 600
    assert 0.05 < 1 - of_colour(drawn, SKY) / drawn[..., 0].size < 0.9


def test_peeling_hides_the_outer_layer_and_comes_back(panel: Shown) -> None:
    before = panel.pixels()
    panel.button("Peel").click()
    assert panel.state["layers"]["outer sheathing"] == "hidden"
    assert changed(before, panel.pixels()) > 5000
    panel.button("All").click()
    assert panel.state["layers"]["outer sheathing"] == "shown"
    assert changed(before, panel.pixels()) < 50


def test_ghosts_let_the_framing_show(panel: Shown) -> None:
    before = panel.pixels()
    panel.button("Ghost outer sheathing").click()
    assert panel.state["layers"]["outer sheathing"] == "ghost"
    assert changed(before, panel.pixels()) > 5000
    panel.page.get_by_label("outer sheathing", exact=True).uncheck()
    assert panel.state["layers"]["outer sheathing"] == "hidden"


def test_double_click_opens_a_panel_and_the_crumb_goes_back(shown: Shown) -> None:
    label = house().panels[1].label
    sheet = house().panels[1].sheets[0].id
    shown.page.mouse.dblclick(*shown.point_of(sheet, 0.5, 0.05, 1.0))
    assert shown.state["open"] == label
    before = shown.pixels()
    shown.button("Next panel").click()
    assert shown.state["open"] == house().panels[2].label
    assert changed(before, shown.pixels()) > 5000
    shown.button(house().name).click()
    assert shown.state["open"] is None


def test_explode_moves_layers_and_build_order_takes_parts_away(panel: Shown) -> None:
    before = panel.pixels()
    panel.page.get_by_label("Explode").fill("1")
    assert panel.state["explode"] == 1
    assert changed(before, panel.pixels()) > 3000
    panel.page.get_by_label("Explode").fill("0")
    panel.button("Fit").click()
    assert changed(before, panel.pixels()) < 50
    panel.page.get_by_label("Build order").fill("2")
    state = panel.state
    assert (state["step"], state["steps"]) == (2, panel.run("house.openPanel.parts.length"))
    assert "plate" in panel.page.get_by_label("Take apart").inner_text()
    assert changed(before, panel.pixels()) > 20000


def test_a_house_explodes_into_panels_that_stay_whole_and_apart(shown: Shown) -> None:
    wide = "house.bounds().max.toArray().map((high, axis) => high - house.bounds().min.toArray()[axis])"
    gaps = """[...house.panels.values()].map((panel) => panel.bounds(() => true)).map(({ min, max }, place, all) =>
      place ? min.x - all[place - 1].max.x : 0).slice(1)"""
    before, close = shown.run(wide), shown.run(gaps)
    shown.page.get_by_label("Explode").fill("1")
    length, height, depth = (new - old for new, old in zip(shown.run(wide), before, strict=True))
    assert length > 500.0
    assert -0.5 <= height < length
    assert -0.5 <= depth < length
    assert all(new > old + 200.0 for new, old in zip(shown.run(gaps), close, strict=True))
    assert shown.run("view.stage.sees(house.bounds())")


def test_build_order_of_a_house_goes_panel_by_panel(shown: Shown) -> None:
    before = shown.pixels()
    shown.page.get_by_label("Build order").fill("1")
    assert shown.state["steps"] == 3
    assert changed(before, shown.pixels()) > 3000


def test_edges_fade_with_distance(panel: Shown) -> None:
    panel.button("Weather").click()
    panel.button("Ghost nails and screws").click()

    def darkness() -> float:
        """How much darker the sheathing is on the whole than its own colour: nothing where no edge is seen."""
        pixels = panel.pixels()
        green = np.abs(pixels - pixels.mean(axis=2, keepdims=True)).max(axis=2) > 30
        plain = np.median(pixels[green], axis=0)
        return float(1 - pixels[green].mean() / plain.mean())

    near = panel.pixels()
    assert ((near.max(axis=2) < 40) & (near.max(axis=2) > 5)).sum() > 1000
    panel.run("view.stage.nudge({ zoom: 1 / 16 })")
    assert darkness() < 0.0


def test_parallel_projection_keeps_edges_parallel(panel: Shown) -> None:
    panel.button("End").click()
    before = panel.pixels()
    panel.button("Parallel").click()
    panel.button("End").click()
    assert panel.state["orthographic"]
    assert changed(before, panel.pixels()) > 500
    sheet = house().panels[1].sheets[0].id
    (near, _), (far, _) = (panel.point_of(sheet, x, 0.9, 1.0) for x in (0.0, 1.0))
    assert near == pytest.approx(far, abs=0.5)


def test_dark_theme(panel: Shown) -> None:
    assert tuple(panel.pixels()[5, 5]) == SKY
    panel.button("Dark").click()
    assert panel.state["theme"] == "dark"
    assert panel.pixels()[5, 5].max() < 60


def lying(normal: int) -> Frame:
    """The frame of a panel that lies flat, its weather side up (1) or down (-1)."""
    return Frame((0.0, 0.0, 3000.0), (1.0, 0.0, 0.0), (0.0, float(normal), 0.0))


@pytest.mark.parametrize(("normal", "names"), [(1, ["Above", "Below"]), (-1, ["Below", "Above"])])
def test_a_panel_that_lies_in_the_house_is_seen_lying(
    open_page: Open, tmp_path: Path, normal: int, names: list[str]
) -> None:
    floor = replace(house().panels[1], frame=lying(normal))
    panel = open_page(to_html(floor, tmp_path / "floor.html"))
    low, high = (panel.run(f"house.bounds().{end}.toArray()") for end in ("min", "max"))
    assert high[1] - low[1] < 600.0 < floor.height < high[2] - low[2] + 1.0
    looks = panel.page.get_by_role("group", name="Look from").get_by_role("button")
    assert looks.all_inner_texts() == [*names, "Side", "End", "Iso"]
    panel.button("Above").click()
    assert panel.state["direction"] == pytest.approx([0, 1, 0], abs=1e-3)
    panel.button("Peel").click()
    assert panel.state["layers"]["outer sheathing"] == ("hidden" if normal > 0 else "shown")
    panel.button("All").click()
    panel.button("Through").click()
    assert of_colour(panel.pixels(), OKABE_ITO["orange"]) > 2000
    panel.button("Side").click()
    panel.button("Across").click()
    assert of_colour(panel.pixels(), OKABE_ITO["orange"]) > 100
