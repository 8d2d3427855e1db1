"""The workbench as a page of Voila, for people who turn and look and never see code."""

from __future__ import annotations

from tests.workbench.browser.pages import Bench


def test_the_bench_works_without_code(page_of_voila: Bench) -> None:
    desk, page = page_of_voila.desk, page_of_voila.page
    assert page.locator(".jp-CodeMirrorEditor").count() == 0
    page_of_voila.wait_for_words("undone")
    spacing = desk.get_by_label("spacing", exact=True).first
    spacing.fill("12 in")
    spacing.press("Enter")
    page_of_voila.wait_for_words("Framing, spacing 12 in: 1 panel designed anew")
    sticks, before = page_of_voila.figure("sticks")
    assert int(sticks) > int(before)
    page.get_by_role("button", name="Peel").click()
    assert page_of_voila.state["layers"]["outer sheathing"] == "hidden"
