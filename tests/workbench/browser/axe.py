"""axe-core over our own elements of a page."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

from playwright.sync_api import Page

from tests.view.browser.test_accessibility import AXE, WEB

__all__ = ["axe_source", "violations"]

_RUN = """async (places) => (await axe.run({ include: places.map((place) => [place]) })).violations
  .map(({ id, impact, nodes }) => [impact, `${id}: ${nodes.map(({ html }) => html).join(" ")}`])"""
_OURS = (".pw", ".pg")


def axe_source(folder: Path) -> str:
    """The source of axe-core, as the sources of the view lock it; npm puts it into a folder where they have none."""
    if (WEB / AXE).exists():
        return (WEB / AXE).read_text(encoding="utf-8")
    for name in ("package.json", "package-lock.json"):
        shutil.copy(WEB / name, folder)
    subprocess.run(["npm", "ci", "--no-audit", "--no-fund"], cwd=folder, check=True, capture_output=True)
    return (folder / AXE).read_text(encoding="utf-8")


def violations(page: Page) -> list[tuple[str, str]]:
    """Impact and words of each rule that an element of ours breaks."""
    return [(impact, words) for impact, words in page.evaluate(_RUN, list(_OURS))]
