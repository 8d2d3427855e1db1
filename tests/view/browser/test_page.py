"""The standalone page itself: keys, sizes, what is made again, and browsers that cannot draw."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from panelgen.view import to_html
from panelgen.view.tables import finding_key
from tests.factories import wall_panel
from tests.view.browser.conftest import Shown
from tests.view.browser.scene import findings


def test_keys_do_what_the_buttons_do(panel: Shown) -> None:
    panel.canvas.focus()
    keys = panel.page.keyboard
    keys.press("2")
    assert panel.state["direction"] == pytest.approx([0, 0, -1], abs=1e-3)
    keys.press("ArrowLeft")
    assert panel.state["direction"] != pytest.approx([0, 0, -1], abs=1e-3)
    keys.press("o")
    keys.press("x")
    keys.press(".")
    state = panel.state
    assert state["orthographic"]
    assert state["section"]["axis"] == "length"
    assert state["selected"] == panel.run("house.openPanel.parts[0].id")
    keys.press("n")
    assert panel.state["finding"] == finding_key(findings()[0])
    for _ in range(3):
        keys.press("Escape")
    assert panel.state["open"] is None
    keys.press("?")
    assert panel.page.get_by_role("note", name="Keys").is_visible()


def test_the_middle_is_picked_and_measured_without_a_pointer(panel: Shown) -> None:
    panel.canvas.focus()
    keys = panel.page.keyboard
    for key in ("1", "Space"):
        keys.press(key)
    assert panel.state["selected"]
    keys.press("m")
    for key in ("Space", "Shift+ArrowRight", "Shift+ArrowRight", "Space"):
        keys.press(key)
    assert panel.state["measured"]["along"] > 100.0
    assert "mm" in panel.page.locator(".pg-length").inner_text()


def test_tab_reaches_everything_and_shows_where_it_is(shown: Shown) -> None:
    page = shown.page
    reached = set()
    for _ in range(80):
        page.keyboard.press("Tab")
        reached.add(
            page.evaluate(
                """() => {
                  const all = [...document.querySelectorAll('button, input, select, canvas')];
                  const { outlineStyle } = getComputedStyle(document.activeElement);
                  return outlineStyle === 'none' ? -1 : all.indexOf(document.activeElement);
                }"""
            )
        )
    wanted = page.evaluate(
        """() => [...document.querySelectorAll('button, input, select, canvas')].flatMap((node, place) =>
          node.disabled || !node.checkVisibility() ? [] : [place])"""
    )
    assert len(wanted) > 30
    assert set(wanted) <= reached


def test_what_does_not_change_is_not_made_again(panel: Shown) -> None:
    panel.run("view.select(house.openPanel.parts[0])")
    panel.page.evaluate(
        """() => {
          globalThis.made = 0;
          const watch = new MutationObserver((changes) => { globalThis.made += changes.length; });
          for (const node of document.querySelectorAll('.pg-part, .pg-findings'))
            watch.observe(node, { childList: true, subtree: true });
        }"""
    )
    panel.page.get_by_label("Explode").fill("0.5")
    panel.page.get_by_label("Build order").fill("40")
    assert panel.page.get_by_label("Build order").get_attribute("aria-valuetext").startswith("40 of")
    assert panel.page.evaluate("() => globalThis.made") == 0
    panel.run("view.select(house.openPanel.parts[1])")
    assert panel.page.evaluate("() => globalThis.made") > 0


@pytest.mark.parametrize("width", [1280, 848])
def test_everything_fits_the_window(panel: Shown, width: int) -> None:
    panel.page.set_viewport_size({"width": width, "height": 700})
    panel.run("view.select(house.openPanel.parts[1])")
    wide = panel.page.evaluate(
        """() => [...document.querySelectorAll('.pg-bar, .pg-left, .pg-right, .pg-section')]
          .filter((node) => node.scrollWidth > node.clientWidth + 1
            || node.getBoundingClientRect().right > innerWidth + 1)
          .map((node) => node.className)"""
    )
    assert wide == []
    assert panel.page.get_by_label("Picked part").is_visible()
    assert panel.canvas.bounding_box()["height"] > 300


def test_a_browser_that_cannot_draw_says_so(browser: Browser, tmp_path: Path) -> None:
    page = browser.new_page()
    page.add_init_script("HTMLCanvasElement.prototype.getContext = () => null")
    page.goto(to_html(wall_panel(), tmp_path / "panel.html").as_uri())
    assert "WebGL" in page.get_by_role("alert").inner_text()
    page.close()
