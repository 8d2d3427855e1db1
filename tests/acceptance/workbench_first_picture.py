"""A house of 80 panels with its fasteners in a real browser: size of what is sent, and time to the first picture.

Run with ``python -m tests.acceptance.workbench_first_picture``. The page is opened three times on software rendering;
the bars are 4 MB and 3 s for the fastest.
"""

from __future__ import annotations

import json
import sys
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Browser, sync_playwright

from panelgen import api
from panelgen.view import changes, house_payload, to_html
from tests.benchmarks.houses import row_of_plots
from tests.browsing import ARGUMENTS, CHROMIUM
from tests.view.browser.conftest import READY, SIZE

MOST_SECONDS, MOST_BYTES, TIMES = 3.0, 4_000_000, 3
_DRAWN = """() => {
  const gl = document.getElementById('panelgen-page').controller.view.stage.renderer.getContext();
  gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
}"""


def first_picture(browser: Browser, file: Path) -> float:
    """Seconds from opening the page until its first picture is drawn."""
    page = browser.new_page(viewport=SIZE, reduced_motion="reduce")
    begin = time.perf_counter()
    page.goto(file.as_uri())
    page.wait_for_function(READY)
    page.evaluate(_DRAWN)
    took = time.perf_counter() - begin
    page.close()
    return took


def main() -> int:
    """Print the times, then size and time against their bars."""
    house = api.design(row_of_plots(4))
    nails = sum(len(row) for panel in house.panels for row in panel.fasteners)
    message = changes(None, house_payload(house, api.check(house)))
    size = len(json.dumps(message.head, separators=(",", ":")).encode()) + message.size
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        file = to_html(house, Path(folder) / "house.html", theme="light")
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        times = [first_picture(browser, file) for _ in range(TIMES)]
        browser.close()
    print("first picture after " + ", ".join(f"{took:.2f} s" for took in times))
    print(
        f"{len(house.panels)} panels, {nails} fasteners: {size / 1e6:.2f} MB (bar {MOST_BYTES / 1e6:.0f}), "
        f"first picture after {min(times):.2f} s (bar {MOST_SECONDS:.0f})"
    )
    return 0 if size <= MOST_BYTES and min(times) <= MOST_SECONDS else 1


if __name__ == "__main__":
    sys.exit(main())
