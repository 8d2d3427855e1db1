"""A notebook page that is open: what it shows, what its kernel says, and what it asked of the network."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from io import BytesIO
from typing import Any

import numpy as np
from PIL import Image
from playwright.sync_api import Browser, Locator, Page, Route

from tests.view.browser.conftest import LOCAL, SIZE

__all__ = ["Bench", "opened"]

_ASK = """async (code) => {
  const { kernel } = jupyterapp.shell.currentWidget.sessionContext.session;
  const future = kernel.requestExecute({ code });
  let text = "";
  future.onIOPub = ({ header, content }) => {
    if (header.msg_type === "stream") text += content.text;
    if (header.msg_type === "error") text += content.ename + ": " + content.evalue;
  };
  await future.done;
  return text.trim();
}"""
_SECONDS = 60_000


@dataclass
class Bench:
    """A page with a workbench in it; `inside` counts what it asked of this machine, `outside` lists all else."""

    page: Page
    errors: list[str] = field(default_factory=list)
    outside: list[str] = field(default_factory=list)
    inside: int = 0

    @property
    def desk(self) -> Locator:
        """The desk of the workbench."""
        return self.page.locator(".pw").first

    @property
    def canvas(self) -> Locator:
        """The canvas of its view."""
        return self.page.locator(".pg-stage canvas").first

    @property
    def state(self) -> dict[str, Any]:
        """The state of its view."""
        return self.view("view.state")

    def view(self, code: str) -> Any:
        """An expression of the `view` of the workbench."""
        return self.page.evaluate(
            f"() => {{ const {{ view }} = document.querySelector('.pg').parentElement.controller; return {code}; }}"
        )

    def ask(self, code: str) -> str:
        """What the kernel prints for a statement."""
        return str(self.page.evaluate(_ASK, code))

    def pixels(self) -> np.ndarray:
        """The canvas as (height, width, 3) int."""
        self.view("void view.stage.draw()")
        return np.asarray(Image.open(BytesIO(self.canvas.screenshot())).convert("RGB")).astype(int)

    def figure(self, name: str) -> tuple[str, str]:
        """A figure of the desk now and before."""
        row = self.desk.get_by_role("row").filter(has=self.page.get_by_role("rowheader", name=name, exact=True))
        now, before = row.get_by_role("cell").all_inner_texts()
        return now, before

    def wait_for_words(self, words: str) -> None:
        """Until the desk says that."""
        self.desk.get_by_text(words).first.wait_for(timeout=_SECONDS)

    def wait_for_bench(self) -> None:
        """Until a workbench is there and has drawn its panel."""
        self.desk.wait_for(timeout=_SECONDS)
        self.page.wait_for_function(
            "() => document.querySelector('.pg')?.parentElement.controller?.state.frames > 0", timeout=_SECONDS
        )

    def run_all(self) -> None:
        """In JupyterLab: run the notebook and bring the workbench to the top."""
        self.run_cells()
        self.wait_for_bench()
        self.desk.evaluate("(node) => node.scrollIntoView({ block: 'start' })")

    def run_cells(self) -> None:
        """In JupyterLab: run the notebook, with the left side out of the way."""
        self.page.wait_for_function(
            "() => globalThis.jupyterapp?.shell.currentWidget?.sessionContext?.session?.kernel", timeout=_SECONDS
        )
        self.page.evaluate(
            """async () => {
              const { commands, shell } = jupyterapp;
              if (!shell.leftCollapsed) await commands.execute('application:toggle-left-area');
              await shell.currentWidget.sessionContext.ready;
              await commands.execute('notebook:run-all-cells');
            }"""
        )


@contextmanager
def opened(browser: Browser, address: str) -> Iterator[Bench]:
    """An address in a page of its own; at the end nothing failed in it and nothing was asked of any other machine."""
    own = (*LOCAL, "http://127.0.0.1:", "http://localhost:", "ws://127.0.0.1:", "ws://localhost:")
    context = browser.new_context(viewport=SIZE, reduced_motion="reduce", color_scheme="light")
    bench = Bench(context.new_page())

    def gate(route: Route) -> None:
        if route.request.url.startswith(own):
            bench.inside += 1
            route.continue_()
        else:
            bench.outside.append(route.request.url)
            route.abort()

    context.route("**/*", gate)
    bench.page.on("pageerror", lambda error: bench.errors.append(str(error)))
    bench.page.on("dialog", lambda dialog: (bench.errors.append(dialog.message), dialog.dismiss()))
    bench.page.goto(address, timeout=_SECONDS)
    yield bench
    assert bench.errors == []
    assert bench.outside == []
    context.close()
