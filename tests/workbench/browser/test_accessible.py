"""The workbench under axe-core: nothing of ours keeps a person out, on any page of the desk, in either theme."""

from __future__ import annotations

import shutil

import pytest

from tests.view.browser.test_accessibility import AXE, WEB
from tests.workbench.browser.axe import axe_source, violations
from tests.workbench.browser.pages import Bench


@pytest.fixture(scope="module")
def axe(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The source of axe-core."""
    if not (WEB / AXE).exists() and shutil.which("npm") is None:
        pytest.skip("npm is missing: it fetches axe-core")
    return axe_source(tmp_path_factory.mktemp("axe"))


def serious(bench: Bench) -> list[tuple[str, str]]:
    """What is serious or worse."""
    return [found for found in violations(bench.page) if found[0] in ("serious", "critical")]


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
        assert serious(clinic) == [], tab
    clinic.desk.get_by_label("spacing", exact=True).first.fill("1")
    clinic.desk.get_by_label("spacing", exact=True).first.press("Enter")
    clinic.desk.get_by_role("alert").wait_for()
    assert serious(clinic) == []


def test_axe_would_find_what_it_is_asked_for(clinic: Bench, axe: str) -> None:
    clinic.page.evaluate(axe)
    clinic.desk.evaluate("(desk) => desk.append(document.createElement('button'))")
    assert any("button-name" in words for _, words in serious(clinic))
