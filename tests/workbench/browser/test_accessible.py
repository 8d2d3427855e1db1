"""The workbench under axe-core: nothing of ours keeps a person out, on any page of the desk, in either theme."""

from __future__ import annotations

import pytest

from tests.view.browser.test_accessibility import axe
from tests.workbench.browser.pages import Bench

__all__ = ["axe"]

RUN = """async (places) => (await axe.run({ include: places.map((place) => [place]) })).violations
  .filter(({ impact }) => ["serious", "critical"].includes(impact))
  .map(({ id, impact, nodes }) => `${impact} ${id}: ${nodes.map(({ html }) => html).join(" ")}`)"""
OURS = [".pw", ".pg"]


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_nothing_of_ours_keeps_a_person_out(clinic: Bench, axe: str, theme: str) -> None:
    clinic.ask(f"bench.view.theme = {theme!r}")
    clinic.page.wait_for_function("(theme) => document.querySelector('.pw').dataset.theme === theme", arg=theme)
    clinic.page.evaluate(axe)
    for tab in ("Charts", "Work", "Turn"):
        clinic.desk.get_by_role("tab", name=tab).click()
        clinic.page.wait_for_function(
            "(tab) => document.querySelector('.pw [aria-selected=true]').textContent === tab", arg=tab
        )
        assert clinic.page.evaluate(RUN, OURS) == [], tab
    clinic.desk.get_by_label("spacing", exact=True).first.fill("1")
    clinic.desk.get_by_label("spacing", exact=True).first.press("Enter")
    clinic.desk.get_by_role("alert").wait_for()
    assert clinic.page.evaluate(RUN, OURS) == []


def test_axe_would_find_what_it_is_asked_for(clinic: Bench, axe: str) -> None:
    clinic.page.evaluate(axe)
    clinic.desk.evaluate("(desk) => desk.append(document.createElement('button'))")
    assert any("button-name" in found for found in clinic.page.evaluate(RUN, OURS))
