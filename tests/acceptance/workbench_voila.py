"""Every notebook as a page of Voila: it runs, draws its picture, and asks nothing of other machines.

Run with ``python -m tests.acceptance.workbench_voila``. On pages with a workbench a stud spacing is typed, and the
figures must follow.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browsing import ARGUMENTS, CHROMIUM
from tests.workbench.browser.pages import Bench, opened
from tests.workbench.browser.servers import server_folder, voila

_SECONDS = 180_000


def typed(bench: Bench) -> str:
    """The sticks of the panel after a stud spacing was typed, and before."""
    field = bench.desk.get_by_label("spacing", exact=True).first
    field.fill("12 in")
    field.press("Enter")
    bench.wait_for_words("Framing, spacing 12 in")
    now, before = bench.figure("sticks")
    return f"{before} sticks become {now}" if now != before else ""


def main() -> int:
    """Print what each page did and the count of requests to other machines."""
    faults, outside, pages = 0, 0, 0
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        folder = server_folder(Path(place))
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        for file in sorted((folder / "notebooks").glob("*.ipynb")):
            with voila(folder, file.stem) as address, opened(browser, address) as bench:
                bench.page.wait_for_function(
                    "() => document.getElementById('rendered_cells')?.checkVisibility()", timeout=_SECONDS
                )
                tracebacks = bench.page.locator(".jp-RenderedText[data-mime-type$='stderr']").count()
                said = "shown"
                if "workbench(" in file.read_text(encoding="utf-8"):
                    bench.wait_for_bench()
                    said = typed(bench)
                faults += not said or tracebacks > 0
                outside += len(bench.outside)
                pages += 1
                print(f"{file.name}: {said or 'the figures did not follow'}, {bench.inside} requests to this machine")
        browser.close()
    print(f"{pages} pages of Voila, {faults} faults, {outside} requests to other machines")
    return 1 if faults or outside else 0


if __name__ == "__main__":
    sys.exit(main())
