"""axe-core over the workbench in JupyterLab: its own elements, on every page of the desk and in both themes.

Run with ``python -m tests.acceptance.workbench_axe``; npm fetches axe-core where the sources of the view have none.
Prints what is found by impact; nothing may be serious or critical.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browsing import ARGUMENTS, CHROMIUM
from tests.workbench.browser.axe import axe_source, violations
from tests.workbench.browser.pages import opened
from tests.workbench.browser.servers import crossed_notebook, lab, server_folder


def main() -> int:
    """Print the violations and the counts."""
    found: list[tuple[str, str]] = []
    runs = 0
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        folder = server_folder(Path(place))
        notebook = crossed_notebook(folder)
        source = axe_source(folder)
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        with lab(folder) as address, opened(browser, f"{address}/tree/notebooks/{notebook}.ipynb?reset") as bench:
            bench.run_all()
            bench.page.evaluate(source)
            for theme in ("light", "dark"):
                bench.ask(f"bench.view.theme = {theme!r}")
                bench.page.wait_for_function(f"() => document.querySelector('.pw').dataset.theme === '{theme}'")
                for tab in ("Charts", "Work", "Turn"):
                    bench.desk.get_by_role("tab", name=tab).click()
                    bench.page.locator(f".pw [role=tab][aria-selected=true]:text-is('{tab}')").wait_for()
                    found += violations(bench.page)
                    runs += 1
        browser.close()
    for impact, words in found:
        print(f"{impact} {words}")
    counts = Counter(impact for impact, _ in found)
    print(
        f"{runs} runs of axe-core: "
        + ", ".join(f"{counts[one]} {one}" for one in ("critical", "serious", "moderate", "minor"))
    )
    return 1 if counts["critical"] or counts["serious"] else 0


if __name__ == "__main__":
    sys.exit(main())
