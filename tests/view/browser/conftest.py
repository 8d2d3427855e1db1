"""A real browser without a screen: Debian's chromium on software rendering, with every way out closed and counted."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from playwright.sync_api import Browser, Locator, Page, Route

from panelgen.view import to_html
from tests.browsing import CHROMIUM
from tests.view.browser.scene import findings, house

SIZE = {"width": 1280, "height": 800}
READY = "() => document.getElementById('panelgen-page')?.controller?.state.frames > 0"
LOCAL = ("file:", "data:", "blob:", "about:")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    reason = "" if CHROMIUM.exists() else f"{CHROMIUM} is missing: install Debian's package chromium"
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.skipif(bool(reason), reason=reason))


@dataclass
class Shown:
    """A standalone page that is open, and what it tried."""

    page: Page
    errors: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)

    @property
    def state(self) -> dict[str, Any]:
        """The state of the view as plain values."""
        return self.run("controller.state")

    def run(self, code: str) -> Any:
        """Evaluate an expression of `controller`, `view` and `house` once the view has drawn what is asked."""
        return self.page.evaluate(
            f"""() => {{
              const {{ controller }} = document.getElementById('panelgen-page');
              const {{ view }} = controller;
              const {{ house }} = view;
              const result = ({code});
              return result;
            }}"""
        )

    @property
    def canvas(self) -> Locator:
        """The canvas."""
        return self.page.locator(".pg-stage canvas")

    def button(self, name: str) -> Locator:
        """The button with exactly that name."""
        return self.page.get_by_role("button", name=name, exact=True)

    def pixels(self) -> np.ndarray:
        """The canvas as (height, width, 3) int."""
        self.run("view.stage.draw()")
        return np.asarray(Image.open(BytesIO(self.canvas.screenshot())).convert("RGB")).astype(int)

    def point_of(self, part: str, x: float, y: float, z: float) -> tuple[float, float]:
        """Where on the page a point of a part is, shares of its box along the panel's axes."""
        return tuple(
            self.run(
                f"""(() => {{
                  const found = house.find({part!r})[0];
                  const panel = house.panels.get(found.panel);
                  const all = panel.points(found.row, 'corners');
                  const low = all[0].clone(), high = all[0].clone();
                  all.forEach((point) => {{ low.min(point); high.max(point); }});
                  const at = low.clone();
                  at.x += {x} * (high.x - low.x); at.y += {y} * (high.y - low.y); at.z += {z} * (high.z - low.z);
                  at.applyMatrix4(panel.root.matrixWorld);
                  view.stage.camera.updateMatrixWorld();
                  const box = view.stage.canvas.getBoundingClientRect();
                  const [px, py] = view.stage.onScreen(at);
                  return [box.left + px, box.top + py];
                }})()"""
            )
        )


Open = Callable[[Path], Shown]


@pytest.fixture
def open_page(browser: Browser) -> Iterator[Open]:
    """Opens a file in a page of its own; at the end nothing failed in it and nothing was asked of the network."""
    opened: list[Shown] = []

    def open_file(path: Path) -> Shown:
        context = browser.new_context(viewport=SIZE, reduced_motion="reduce", color_scheme="light")
        shown = Shown(context.new_page())
        opened.append(shown)

        def gate(route: Route) -> None:
            if route.request.url.startswith(LOCAL):
                route.continue_()
            else:
                shown.outside.append(route.request.url)
                route.abort()

        context.route("**/*", gate)
        shown.page.on("pageerror", lambda error: shown.errors.append(str(error)))
        shown.page.on("dialog", lambda dialog: (shown.errors.append(dialog.message), dialog.dismiss()))
        shown.page.on("console", lambda message: shown.errors.append(message.text) if message.type == "error" else None)
        shown.page.goto(path.as_uri())
        shown.page.wait_for_function(READY)
        return shown

    yield open_file
    for shown in opened:
        assert shown.errors == []
        assert shown.outside == []
        shown.page.context.close()


@pytest.fixture
def shown(open_page: Open, tmp_path: Path) -> Shown:
    """A page of the house of `scene`."""
    return open_page(to_html(house(), tmp_path / "house.html", findings()))


@pytest.fixture
def panel(shown: Shown) -> Shown:
    """The same with its designed panel open."""
    shown.page.get_by_label("Open a panel").select_option(house().panels[1].label)
    return shown
