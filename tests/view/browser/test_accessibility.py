"""The page under axe-core: nothing that keeps a person out, in any state and either theme."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest

from panelgen.model import Change, Finding, Proposal, Severity
from panelgen.view import to_html
from tests.factories import small_house
from tests.project.tree import PACKAGE
from tests.view.browser.conftest import Open, Shown

WEB = PACKAGE / "view" / "web"
AXE = Path("node_modules", "axe-core", "axe.min.js")
STATES = {
    "house": "0",
    "part": "(view.open([...house.panels.keys()][0]), view.select(house.openPanel.parts[1]))",
    "finding": "view.nextFinding(1)",
    "waiver": "[...document.querySelectorAll('.pg-acts button')].at(-1).click()",
    "section": "view.setSection({ axis: 'height' })",
    "measure": "(view.look('weather'), view.setMeasuring(true), view.clickMiddle())",
    "keys": "view.dispatchEvent(new Event('help'))",
}
RUN = """async () => (await axe.run(document)).violations.map(({ id, impact, nodes }) =>
  `${impact} ${id}: ${nodes.map(({ html }) => html).join(' ')}`)"""


@pytest.fixture(scope="session")
def axe(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The source of axe-core, as the sources of the view lock it."""
    if (WEB / AXE).exists():
        return (WEB / AXE).read_text(encoding="utf-8")
    if shutil.which("npm") is None:
        pytest.skip("npm is missing: it fetches axe-core")
    folder = tmp_path_factory.mktemp("axe")
    for name in ("package.json", "package-lock.json"):
        shutil.copy(WEB / name, folder)
    subprocess.run(["npm", "ci", "--no-audit", "--no-fund"], cwd=folder, check=True, capture_output=True)
    return (folder / AXE).read_text(encoding="utf-8")


@pytest.fixture
def shown(open_page: Open, tmp_path: Path, axe: str) -> Shown:
    house = small_house(2)
    panel = house.panels[0]
    ready = Proposal("move it", (Change(("runs",), 0, 1),))
    stop = Finding("run.member", Severity.STOP, "a run meets wood", panel.label, (panel.members[1].id,), proposal=ready)
    mass = [Finding("panel.mass", Severity.WARN, f"too heavy by {n}", house.panels[1].label) for n in range(2)]
    shown = open_page(to_html(house, tmp_path / "house.html", [stop, *mass]))
    shown.run("controller.setAct(() => 0)")
    shown.page.evaluate(axe)
    return shown


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_nothing_keeps_a_person_out(shown: Shown, theme: str) -> None:
    shown.run(f"controller.setTheme({json.dumps(theme)})")
    for state, code in STATES.items():
        shown.run(f"(({code}), 0)")
        assert shown.page.evaluate(RUN) == [], state


def test_axe_would_find_what_it_is_asked_for(shown: Shown) -> None:
    shown.page.evaluate("() => document.querySelector('.pg-stage').append(document.createElement('button'))")
    (found,) = shown.page.evaluate(RUN)
    assert found.startswith("critical button-name")
