"""Asking the standalone page what a part is, why it is there, and what is wrong."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

from panelgen.model import Change, Finding, Proposal, Severity
from panelgen.model.palette import OKABE_ITO
from panelgen.view import to_html
from panelgen.view.tables import finding_key
from tests.factories import small_house
from tests.view.browser.conftest import Open, Shown
from tests.view.browser.scene import changed, findings, house, of_colour, stud

NASTY = "<img src=x onerror=alert(1)>"


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
