"""The standalone page in a browser: what a person does changes the state and the picture."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser

from panelgen import api
from panelgen.geometry.frames import Frame
from panelgen.model import Change, Finding, House, Proposal, Severity
from panelgen.model.palette import OKABE_ITO
from panelgen.model.volumes import member_volume
from panelgen.view import to_html
from panelgen.view.tables import finding_key
from tests.factories import small_house, wall_panel
from tests.project.tree import ROOT
from tests.view.browser.conftest import Open, Shown

SKY = (244, 246, 248)
NASTY = "<img src=x onerror=alert(1)>"


@cache
def house() -> House:
    """One designed wall between two drawn ones, side by side, so that there is a house to come back to."""
    (wall,) = api.design(api.load(ROOT / "examples" / "one-wall.yaml")).panels
    first, _, last = small_house(3).panels
    starts = (0.0, first.length, first.length + wall.length)
    panels = tuple(
        replace(panel, label=f"1W0{n}", frame=replace(wall.frame, origin=wall.frame.point(start, 0.0, 0.0)))
        for n, (panel, start) in enumerate(zip((first, wall, last), starts, strict=True), 1)
    )
    return replace(small_house(3), panels=panels)


def stud() -> str:
    """The id of a common stud of the designed wall."""
    return next(member.id for member in house().panels[1].members if member.why.rule == "stud.layout")


def findings() -> tuple[Finding, ...]:
    """One with a spot and a part, one about a panel, and two with one cause."""
    first, designed, _ = (panel.label for panel in house().panels)
    bore = Finding("bore.edge", Severity.WARN, "too near the edge", designed, ("1X/end",), (2000.0, 900.0, 60.0))
    return (
        Finding("run.member", Severity.STOP, "a run meets wood", designed, (stud(),), (1500.0, 400.0, 60.0)),
        Finding("panel.mass", Severity.WARN, "too heavy", first),
        bore,
        replace(bore, point=(2000.0, 1200.0, 60.0)),
    )


@pytest.fixture
def shown(open_page: Open, tmp_path: Path) -> Shown:
    return open_page(to_html(house(), tmp_path / "house.html", findings()))


@pytest.fixture
def panel(shown: Shown) -> Shown:
    shown.page.get_by_label("Open a panel").select_option(house().panels[1].label)
    return shown


def changed(before: np.ndarray, after: np.ndarray) -> int:
    """How many pixels differ plainly."""
    return int((np.abs(before - after).max(axis=2) > 24).sum())


def of_colour(pixels: np.ndarray, colour: tuple[int, int, int]) -> int:
    """How many pixels have that colour."""
    return int((np.abs(pixels - colour).max(axis=2) <= 1).sum())


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


def test_click_tells_what_a_part_is_and_why(panel: Shown) -> None:
    member = next(member for member in house().panels[1].members if member.id == stud())
    for layer in ("outer sheathing", "nails and screws"):
        panel.page.get_by_label(layer, exact=True).uncheck()
    panel.button("Weather").click()
    at = panel.point_of(stud(), 0.5, 0.4, 1.0)
    panel.page.mouse.move(*at)
    panel.page.wait_for_function("() => document.querySelector('.pg-status').textContent")
    assert member.mark in panel.page.locator(".pg-status").inner_text()
    tip = panel.page.locator(".pg-tip")
    assert tip.inner_text() == member.mark
    place = tip.bounding_box()
    assert 0 < place["x"] - at[0] < 40
    assert 0 < place["y"] - at[1] < 40
    before = panel.pixels()
    panel.page.mouse.click(*at)
    assert panel.state["selected"] == stud()
    assert changed(before, panel.pixels()) > 300
    card = panel.page.get_by_label("Picked part").inner_text()
    for words in (member.mark, member.stock, member.why.words, member.why.source, "kg", "Touches"):
        assert words in card
    neighbour = panel.page.locator(".pg-chip").first
    name = neighbour.inner_text()
    neighbour.click()
    assert panel.state["selected"] != stud()
    assert name in panel.page.get_by_label("Picked part").inner_text()


def test_section_is_closed_by_caps_in_the_colour_of_the_layer(panel: Shown) -> None:
    orange = OKABE_ITO["orange"]
    panel.button("Top").click()
    assert of_colour(panel.pixels(), orange) < 50
    panel.button("Up").click()
    assert panel.state["section"]["axis"] == "height"
    half = panel.pixels()
    assert of_colour(half, orange) > 200
    panel.page.get_by_label("Section", exact=True).fill("0.2")
    assert panel.state["section"]["share"] == 0.2
    assert changed(half, panel.pixels()) > 50
    panel.button("Off").click()
    assert of_colour(panel.pixels(), orange) < 50


def test_a_section_opens_toward_the_camera(panel: Shown) -> None:
    for side, is_flipped in (("Weather", False), ("Room", True)):
        panel.button(side).click()
        panel.button("Through").click()
        assert panel.state["section"]["flipped"] == is_flipped
        assert of_colour(panel.pixels(), OKABE_ITO["orange"]) > 1000
    panel.button("Flip").click()
    assert not panel.state["section"]["flipped"]


def test_bored_sticks_are_drilled_when_their_panel_opens(open_page: Open, tmp_path: Path) -> None:
    panel = wall_panel(runs=2)
    shown = open_page(to_html(panel, tmp_path / "panel.html"))
    drilled = shown.run(
        """(() => {
          const item = [...house.openPanel.items.values()].find(({ kind }) => kind === 'bored');
          const { points, faces, parts } = item.near;
          const at = (corner) => [0, 1, 2].map((axis) => points[3 * corner + axis]);
          return parts.map(({ row, face, faces: count }) => {
            const open = new Set();
            let volume = 0;
            for (let k = 3 * face; k < 3 * (face + count); k += 3) {
              const [a, b, c] = [at(faces[k]), at(faces[k + 1]), at(faces[k + 2])];
              volume += (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2])
                + a[2] * (b[0] * c[1] - b[1] * c[0])) / 6;
              for (let n = 0; n < 3; n++) {
                const [from, to] = [faces[k + n], faces[k + ((n + 1) % 3)]];
                if (!open.delete(`${to} ${from}`)) open.add(`${from} ${to}`);
              }
            }
            return [house.openPanel.parts[row].id, volume, open.size];
          });
        })()"""
    )
    volumes = {member.id: member_volume(member) for member in panel.members}
    assert len(drilled) > 2
    for name, volume, unmatched in drilled:
        assert volume == pytest.approx(volumes[name], rel=2e-3)
        assert unmatched == 0


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


def test_a_house_explodes_along_the_normal_of_each_panel(shown: Shown) -> None:
    wide = "house.bounds().max.toArray().map((high, axis) => high - house.bounds().min.toArray()[axis])"
    before = shown.run(wide)
    shown.page.get_by_label("Explode").fill("1")
    length, height, depth = (new - old for new, old in zip(shown.run(wide), before, strict=True))
    assert (length, height) == pytest.approx((0.0, 0.0), abs=0.5)
    assert depth > 500.0
    assert shown.run("view.stage.sees(house.bounds())")


def test_build_order_of_a_house_goes_panel_by_panel(shown: Shown) -> None:
    before = shown.pixels()
    shown.page.get_by_label("Build order").fill("1")
    assert shown.state["steps"] == 3
    assert changed(before, shown.pixels()) > 3000


def test_measuring_snaps_to_corners(panel: Shown) -> None:
    sheet = house().panels[1].sheets[0]
    height = max(y for _, y in sheet.outline) - min(y for _, y in sheet.outline)
    panel.button("Weather").click()
    panel.button("Measure").click()
    for share in (0.004, 0.996):
        panel.page.mouse.click(*panel.point_of(sheet.id, 0.02, share, 1.0))
    state = panel.state
    assert state["measured"]["distance"] == pytest.approx(height, abs=0.05)
    assert state["measured"]["up"] == pytest.approx(height, abs=0.05)
    assert "mm" in panel.page.locator(".pg-status").inner_text()


def test_a_finding_flies_to_its_spot_and_lights_its_parts(shown: Shown) -> None:
    before = shown.pixels()
    shown.page.get_by_role("button", name=re.compile("run.member")).click()
    state = shown.state
    key = finding_key(findings()[0])
    assert (state["finding"], state["open"], state["involved"]) == (key, house().panels[1].label, [stud()])
    assert state["layers"]["framing"] == "shown"
    assert state["layers"]["outer sheathing"] == "ghost"
    after = shown.pixels()
    assert changed(before, after) > 20000
    assert of_colour(after, OKABE_ITO["vermillion"]) > 200
    shown.canvas.focus()
    shown.page.keyboard.press("Escape")
    assert (shown.state["finding"], shown.state["layers"]["outer sheathing"]) == ("", "shown")


def test_findings_stand_under_their_cause(panel: Shown) -> None:
    listed = panel.page.get_by_label("Findings", exact=True)
    cause = listed.get_by_role("button", name=re.compile("2 findings"))
    assert cause.get_attribute("aria-expanded") == "false"
    assert "bore.edge" not in listed.inner_text()
    cause.click()
    assert listed.inner_text().count("bore.edge") == 2
    cause.focus()
    panel.page.keyboard.press("Enter")
    assert "bore.edge" not in listed.inner_text()
    assert cause.evaluate("(node) => document.activeElement === node")
    panel.run("view.nextFinding(-1)")
    assert panel.state["finding"] == finding_key(findings()[3])
    assert listed.inner_text().count("bore.edge") == 2
    cause.click()
    assert panel.state["finding"] == ""


def test_a_page_without_host_offers_nothing_to_do(shown: Shown) -> None:
    shown.page.get_by_role("button", name=re.compile("run.member")).click()
    assert shown.page.locator(".pg-acts").count() == 0


def test_a_part_of_another_panel_opens_its_own(panel: Shown) -> None:
    last = house().panels[2]
    panel.run(f"view.select(house.panels.get({last.label!r}).parts[0])")
    assert panel.state["open"] == last.label
    assert panel.page.get_by_label("Picked part").get_by_text(last.label, exact=True).is_visible()


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


def test_names_are_shown_as_text(open_page: Open, tmp_path: Path) -> None:
    plain = small_house(2)
    why = replace(plain.panels[0].members[0].why, words=NASTY, source=NASTY, rule=NASTY)
    members = tuple(
        replace(member, id=f"{NASTY}{n}", mark=NASTY, stock=NASTY, species=NASTY, why=why)
        for n, member in enumerate(plain.panels[0].members)
    )
    bad = replace(plain.panels[0], label=NASTY, members=members)
    finding = Finding(
        NASTY, Severity.STOP, NASTY, NASTY, (f"{NASTY}0",), (0.0, 0.0, 0.0), None, 1.0, 2.0, NASTY, NASTY, NASTY
    )
    twice = [
        replace(finding, proposal=Proposal(NASTY, (Change((NASTY,), NASTY, NASTY),)), words=f"{NASTY}{n}") for n in "12"
    ]
    shown = open_page(
        to_html(replace(plain, name=NASTY, panels=(bad, *plain.panels[1:])), tmp_path / "nasty.html", twice)
    )
    shown.run("controller.setAct(() => 0)")
    shown.page.locator(".pg-cause").click()
    shown.page.locator(".pg-finding").first.click()
    listed = shown.page.get_by_label("Findings", exact=True).inner_text()
    assert f"Way out: {NASTY}" in listed
    assert NASTY in shown.page.locator(".pg-cause").inner_text()
    shown.run(f"view.select(house.find({NASTY + '0'!r})[0])")
    shown.run(f"(view.hover = house.find({NASTY + '1'!r})[0], view.dispatchEvent(new Event('hover')))")
    assert shown.page.locator(".pg-status").inner_text().count(NASTY) == 4
    assert shown.page.locator(".pg-tip").inner_text() == NASTY
    assert shown.page.get_by_label("Picked part").inner_text().count(NASTY) >= 5
    assert shown.page.locator("img").count() == 0


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
