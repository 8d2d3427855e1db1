"""All notebooks in a real JupyterLab, and the standalone file from disk, with every way out closed and counted.

Run with ``python -m tests.acceptance.workbench_browser``. Each notebook is opened, run from top to bottom and looked
at until what it shows has drawn a picture. Prints for each what it asked of this machine and of others.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from panelgen import api
from panelgen.view import to_html
from tests.browsing import ARGUMENTS, CHROMIUM
from tests.project.tree import ROOT
from tests.view.browser.conftest import READY
from tests.workbench.browser.pages import opened
from tests.workbench.browser.servers import lab, server_folder

_DONE = """() => {
  const { content, sessionContext } = jupyterapp.shell.currentWidget;
  const cells = content.widgets.filter(({ model }) => model.type === "code");
  return sessionContext.session.kernel.status === "idle" && cells.every(({ model }) => model.executionCount !== null);
}"""
_FAILED = """() => jupyterapp.shell.currentWidget.content.widgets.flatMap(({ model }) =>
  model.type === "code" ? model.sharedModel.outputs.filter(({ output_type }) => output_type === "error") : []).length"""
_SECONDS = 180_000
Row = tuple[str, int, int, int]


def notebooks(browser: Browser, folder: Path) -> list[Row]:
    """Name, errors, requests to this machine and to others of each notebook."""
    rows = []
    with lab(folder) as address:
        for file in sorted((folder / "notebooks").glob("*.ipynb")):
            with opened(browser, f"{address}/tree/notebooks/{file.name}?reset") as bench:
                bench.run_cells()
                bench.page.wait_for_function(_DONE, timeout=_SECONDS)
                if "workbench(" in file.read_text(encoding="utf-8"):
                    bench.wait_for_bench()
                errors = bench.page.evaluate(_FAILED) + len(bench.errors)
                rows.append((file.name, errors, bench.inside, len(bench.outside)))
    return rows


def standalone(browser: Browser, folder: Path) -> Row:
    """The same of the file that opens without Jupyter."""
    house = api.design(api.load(ROOT / "examples" / "one-wall.yaml"))
    file = to_html(house, folder / "house.html", api.check(house))
    with opened(browser, file.as_uri()) as bench:
        bench.page.wait_for_function(READY)
        return file.name, len(bench.errors), bench.inside, len(bench.outside)


def main() -> int:
    """Print the rows and the sums."""
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        folder = server_folder(Path(place))
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        rows = [*notebooks(browser, folder), standalone(browser, folder)]
        browser.close()
    for name, errors, inside, outside in rows:
        print(f"{name}: {errors} errors, {inside} requests to this machine, {outside} to others")
    errors, outside = sum(row[1] for row in rows), sum(row[3] for row in rows)
    print(f"{len(rows)} pages, {errors} errors, {outside} requests to other machines")
    return 1 if errors or outside else 0


if __name__ == "__main__":
    sys.exit(main())
