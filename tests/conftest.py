"""Random tests draw the same examples on every run, a busy machine does not fail them, and there is one browser."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import pytest
from hypothesis import HealthCheck, settings

from tests.browsing import ARGUMENTS, CHROMIUM

if TYPE_CHECKING:
    from playwright.sync_api import Browser

settings.register_profile("panelgen", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("panelgen")


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One chromium for all tests of a worker: playwright cannot be started twice in one process."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield opened
        opened.close()
