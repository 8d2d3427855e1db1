"""JupyterLab and Voila on this machine, in Debian's chromium, with every way out closed and counted."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.browsing import CHROMIUM
from tests.workbench.browser.pages import Bench, opened
from tests.workbench.browser.servers import crossed_notebook, lab, server_folder, voila


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    reason = "" if CHROMIUM.exists() else f"{CHROMIUM} is missing: install Debian's package chromium"
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.slow)
            item.add_marker(pytest.mark.skipif(bool(reason), reason=reason))


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the notebooks and examples, as they lie in the project."""
    place = server_folder(tmp_path_factory.mktemp("served"))
    crossed_notebook(place)
    return place


@pytest.fixture(scope="module")
def lab_address(folder: Path) -> Iterator[str]:
    """JupyterLab."""
    with lab(folder) as address:
        yield address


@pytest.fixture
def tour(browser: Browser, lab_address: str) -> Iterator[Bench]:
    """The first tour in JupyterLab, run from top to bottom."""
    with opened(browser, f"{lab_address}/tree/notebooks/first-tour.ipynb?reset") as bench:
        bench.run_all()
        bench.wait_for_words("undone")
        yield bench


@pytest.fixture
def clinic(browser: Browser, lab_address: str) -> Iterator[Bench]:
    """A wall with a fault in JupyterLab."""
    with opened(browser, f"{lab_address}/tree/notebooks/crossed.ipynb?reset") as bench:
        bench.run_all()
        yield bench


@pytest.fixture
def page_of_voila(browser: Browser, folder: Path) -> Iterator[Bench]:
    """The first tour as a page of Voila."""
    with voila(folder, "first-tour") as address, opened(browser, address) as bench:
        bench.wait_for_bench()
        yield bench
