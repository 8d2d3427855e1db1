"""The workbench in every state, as pictures of 1280 by 800, in JupyterLab and in Voila.

Run with ``python -m tests.acceptance.workbench_screenshots [FOLDER]``. Prints the name of each picture, then what is
cut or lies over another element, and how many requests went to other machines: both must be nothing.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

from playwright.sync_api import sync_playwright

from tests.browsing import ARGUMENTS, CHROMIUM
from tests.workbench.browser.pages import Bench, opened
from tests.workbench.browser.servers import bench_notebook, crossed_notebook, lab, server_folder, voila

_CUT = """() => {
  const own = (node) => [...node.childNodes].some((child) => child.nodeType === 3 && child.textContent.trim());
  const seen = (node) => node.checkVisibility() && node.getBoundingClientRect().width > 1;
  const name = (node) => `${node.className || node.tagName}: ${node.textContent.trim().slice(0, 40)}`;
  const texts = [...document.querySelectorAll(".pw *, .pg *")].filter((node) => own(node) && seen(node));
  const spills = texts.filter((node) => node.scrollWidth > node.clientWidth + 1 && node.clientWidth > 0
    && getComputedStyle(node).overflowX !== "visible" && getComputedStyle(node).textOverflow !== "ellipsis");
  const boxes = [...document.querySelectorAll(".pw button, .pw input, .pw select, .pw label, .pw th, .pw td")]
    .filter(seen).map((node) => [node, node.getBoundingClientRect()]);
  const over = [];
  boxes.forEach(([a, p], place) => boxes.slice(place + 1).forEach(([b, q]) => {
    if (a.contains(b) || b.contains(a)) return;
    if (a.closest("[role=tabpanel]") !== b.closest("[role=tabpanel]")) return;
    const wide = Math.min(p.right, q.right) - Math.max(p.left, q.left);
    const high = Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top);
    if (wide > 1 && high > 1) over.push(`${name(a)} over ${name(b)}`);
  }));
  return [...spills.map(name), ...over];
}"""

State = tuple[str, Callable[[Bench], None]]


def typed(bench: Bench, value: str) -> None:
    """Type another stud spacing."""
    field = bench.desk.get_by_label("spacing", exact=True).first
    field.fill(value)
    field.press("Enter")


def turned(bench: Bench) -> None:
    """A value was turned."""
    typed(bench, "16")
    bench.wait_for_words("Framing, spacing 16: 1 panel designed anew")


def refused(bench: Bench) -> None:
    """A value was refused."""
    typed(bench, "1")
    bench.desk.get_by_role("alert").wait_for()


def opening(bench: Bench) -> None:
    """Much to turn."""
    bench.desk.get_by_label("what to turn").select_option("opening W1")
    bench.wait_for_words("Size and clearance are those of every")


def run(bench: Bench) -> None:
    """Long labels."""
    bench.desk.get_by_label("what to turn").select_option("run P1")
    bench.desk.get_by_label("place along the wall").first.wait_for()


def picked(bench: Bench) -> None:
    """A part is picked, its layers peeled."""
    bench.page.get_by_role("button", name="Peel").click()
    bench.view("void view.select(view.house.openPanel.parts[3])")


def section(bench: Bench) -> None:
    """A section."""
    bench.page.get_by_role("button", name="Up", exact=True).click()


def finding(bench: Bench) -> None:
    """Flown to a finding."""
    bench.page.get_by_role("button", name="Off", exact=True).click()
    bench.page.get_by_role("button", name="run.run").click()


def waiver(bench: Bench) -> None:
    """The form of a waiver."""
    bench.page.get_by_role("button", name="Waive").click()


def charts(bench: Bench) -> None:
    """The charts."""
    bench.desk.get_by_role("tab", name="Charts").click()
    bench.desk.get_by_role("img", name="Findings by kind").wait_for()


def work(bench: Bench) -> None:
    """The page of long work."""
    bench.desk.get_by_role("tab", name="Work").click()
    bench.desk.get_by_role("button", name="Write models").wait_for()


def working(bench: Bench) -> None:
    """Something is at work."""
    bench.desk.get_by_role("button", name="Look for ways out").click()
    bench.desk.get_by_role("progressbar").wait_for()


def solved(bench: Bench) -> None:
    """Ways out are known."""
    bench.wait_for_words("1 with a way out")


def dark(bench: Bench) -> None:
    """The dark theme."""
    bench.page.get_by_role("button", name="Dark").click()
    bench.desk.get_by_role("tab", name="Turn").click()
    bench.page.wait_for_function("() => document.querySelector('.pw').dataset.theme === 'dark'")


def _part(bench: Bench, panel: str, role: str) -> None:
    """Open a panel in the view, and pick a part of it there."""
    bench.desk.get_by_label("panel", exact=True).select_option(panel)
    bench.page.wait_for_function(
        f"() => document.querySelector('.pg').parentElement.controller.view.state.open === '{panel}'"
    )
    bench.view(f"void view.select(view.house.openPanel.parts.find((part) => part.what === {role!r}))")


def roof(bench: Bench) -> None:
    """A rafter is picked, and the roof is there to turn."""
    _part(bench, "2R02", "rafter")
    bench.desk.get_by_label("what to turn").select_option("cover")
    bench.wait_for_words("All panels of the roof follow.")


def skylight(bench: Bench) -> None:
    """An opening of a roof."""
    label = bench.ask(
        "print(next(p.label for p in bench.session.house.panels if any(o.id == 'SK1' for o in p.openings)))"
    )
    bench.desk.get_by_label("panel", exact=True).select_option(label)
    bench.desk.get_by_label("what to turn").select_option("opening SK1")
    bench.desk.get_by_label("place up the slope", exact=True).first.wait_for()


def floor(bench: Bench) -> None:
    """A joist is picked, and the floor is there to turn."""
    _part(bench, "2F01", "joist")
    bench.desk.get_by_label("what to turn").select_option("cover")
    bench.wait_for_words("All panels of the floor follow.")


def trusses(bench: Bench) -> None:
    """A row of trusses."""
    bench.desk.get_by_label("panel", exact=True).select_option("trusses T1")
    bench.wait_for_words("Their design is their engineer's.")


def at_rest(_bench: Bench) -> None:
    """As it opens."""


STATES: tuple[State, ...] = tuple(
    (act.__name__, act)
    for act in (
        at_rest, turned, refused, opening, run, picked, section, finding, waiver, charts, work, working, solved, dark,
    )
)  # fmt: skip


COVERS: tuple[State, ...] = tuple((act.__name__, act) for act in (roof, skylight, floor, trusses))


def pictures(bench: Bench, prefix: str, out: Path, states: tuple[State, ...]) -> Iterator[str]:
    """Take a picture of each state; yields what is wrong."""
    for number, (name, act) in enumerate(states):
        act(bench)
        bench.page.wait_for_timeout(250)
        file = out / f"{prefix}-{number:02d}-{name}.png"
        bench.page.screenshot(path=file)
        print(file)
        yield from (f"{file.name}: {fault}" for fault in bench.page.evaluate(_CUT))


def main() -> int:
    """Take the pictures; print the counts."""
    out = Path(sys.argv[1] if len(sys.argv) > 1 else tempfile.mkdtemp())
    out.mkdir(parents=True, exist_ok=True)
    faults: list[str] = []
    outside: list[str] = []
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        folder = server_folder(Path(place))
        notebook = crossed_notebook(folder)
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        with lab(folder) as address, opened(browser, f"{address}/tree/notebooks/{notebook}.ipynb?reset") as bench:
            bench.run_all()
            faults += pictures(bench, "lab", out, STATES)
            outside += bench.outside
            house = bench_notebook(folder, "heron-house")
            with opened(browser, f"{address}/tree/notebooks/{house}.ipynb?reset") as bench:
                bench.run_all()
                faults += pictures(bench, "house", out, COVERS)
                outside += bench.outside
        with voila(folder, notebook) as address, opened(browser, address) as bench:
            bench.wait_for_bench()
            faults += pictures(bench, "voila", out, STATES[:4])
            outside += bench.outside
        browser.close()
    for fault in faults:
        print(fault)
    count = len(STATES) + len(COVERS) + 4
    print(f"{count} pictures in {out}, {len(faults)} faults, {len(outside)} requests to other machines")
    return 1 if faults or outside else 0


if __name__ == "__main__":
    sys.exit(main())
