"""What the view sends and how long that takes, against sending everything again.

Run with ``python -m tests.benchmarks.view_payload``. Prints, for a house of 80 panels, what the first message
holds and takes; for an edit of one panel (a stud spacing, an opening), the median time of design, checks and payload
in Python and the bytes sent, with the whole house sent again as the peer; and, where Debian's chromium is
installed, the time from opening the page to the first picture on software rendering, and of an update in the page.
"""

from __future__ import annotations

import json
import statistics
import sys
import tempfile
import time
from base64 import b64encode
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from itertools import cycle, islice
from pathlib import Path
from typing import TypeVar

from panelgen import api
from panelgen.model import House, Panel
from panelgen.spec.loader import loads
from panelgen.view import Message, Payload, changes, house_payload, panel_payload, to_html
from panelgen.view.payload import kernel_packer
from tests.benchmarks.houses import row_of_plots
from tests.browsing import ARGUMENTS, CHROMIUM
from tests.project.tree import ROOT

FINISHED = """() => {
  const gl = document.getElementById('panelgen-page').controller.view.stage.renderer.getContext();
  gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
}"""
T = TypeVar("T")
EDITS = 45
WARM_UP = 5
MOST_HOUSE, MOST_EDIT = 4_000_000, 50_000


def timed(act: Callable[[], T]) -> tuple[float, T]:
    """Milliseconds of the processor, and the result: others may be at work on the machine."""
    begin = time.process_time()
    result = act()
    return 1000 * (time.process_time() - begin), result


def size(message: Message) -> int:
    """Bytes of a message, head and buffers."""
    return len(json.dumps(message.head, separators=(",", ":")).encode()) + message.size


def edited_specs() -> Iterator[str]:
    """The one-wall spec with another stud spacing or another place of its window, over and over."""
    text = (ROOT / "examples" / "one-wall.yaml").read_text(encoding="utf-8")
    for spacing, center in cycle(((24, "4 ft"), (16, "4 ft"), (16, "4.5 ft"), (24, "4.5 ft"), (12, "4.5 ft"))):
        yield text.replace("spacing: 24,", f"spacing: {spacing},").replace("center: 4 ft", f"center: {center}")


def edit_panel() -> tuple[list[tuple[float, float, float]], list[int]]:
    """Milliseconds of design, checks and payload, and bytes, of edits one after another."""
    packer = kernel_packer()
    old: Payload | None = None
    times, sizes = [], []
    for text in islice(edited_specs(), EDITS):
        spec = loads(text, "one-wall")
        designing, house = timed(partial(api.design, spec))
        checking, findings = timed(partial(api.check, house))
        packing, new = timed(partial(panel_payload, house.panels[0], findings, packer))
        comparing, message = timed(partial(changes, old, new))
        old = new
        times.append((designing, checking, packing + comparing))
        sizes.append(size(message))
    return times[WARM_UP:], sizes[WARM_UP:]


def with_changed_panel(house: House) -> House:
    """The house with the nails and the last sheet of one panel gone."""
    panel: Panel = house.panels[7]
    return replace(
        house,
        panels=tuple(
            replace(panel, sheets=panel.sheets[:-1], fasteners=panel.fasteners[:-1]) if one is panel else one
            for one in house.panels
        ),
    )


def in_browser(house: House, edit: Message, whole: Message) -> None:
    """Print the time to the first picture, and of an update by what changed and by everything."""
    from playwright.sync_api import sync_playwright

    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        file = to_html(house, Path(folder) / "house.html", theme="light")
        browser = playwright.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        page = browser.new_page(viewport={"width": 1280, "height": 800}, reduced_motion="reduce")
        begin = time.perf_counter()
        page.goto(file.as_uri())
        page.wait_for_function("document.getElementById('panelgen-page')?.controller?.state.frames > 0")
        page.evaluate(FINISHED)
        first = time.perf_counter() - begin
        print(f"page of {file.stat().st_size / 1e6:.2f} MB: first picture after {first:.2f} s (bar 3 s)")
        for name, message in (("changed blocks", edit), ("everything", whole)):
            data = [b64encode(buffer).decode() for buffer in message.buffers]
            took = page.evaluate(
                """([head, data]) => {
                  const { controller } = document.getElementById('panelgen-page');
                  const { stage, store } = controller.view;
                  const bytes = (text) => Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0)).buffer;
                  const buffers = data.map(bytes);
                  if (head.house) { store.panels.clear(); controller.view.house.update([]); }
                  const begin = performance.now();
                  controller.update(head, buffers);
                  return performance.now() - begin;
                }""",
                [dict(message.head), data],
            )
            print(f"update in the page, {name}: {took:.0f} ms")
        browser.close()


def main() -> None:
    """Print the numbers."""
    house = api.design(row_of_plots(4))
    nails = sum(len(row) for panel in house.panels for row in panel.fasteners)
    packer = kernel_packer()
    took, payload = timed(lambda: house_payload(house, (), packer))
    whole = changes(None, payload)
    apart = sum(len(payload.buffers[block["key"]]) for head in payload.panels.values() for block in head["blocks"])
    shared = apart - payload.size
    total = size(whole) + shared
    print(f"{len(house.panels)} panels, {nails} fasteners: {total / 1e6:.2f} MB in {took:.0f} ms", end="")
    print(f", of which {shared / 1e6:.2f} MB is not sent, as panels are alike")
    with_edit = with_changed_panel(house)
    again, edited = timed(lambda: house_payload(with_edit, (), packer))
    edit = changes(payload, edited)
    print(f"one panel of it changed: {again:.1f} ms where the rest is kept")
    print(
        f"one panel of it changed: {size(edit) / 1000:.1f} kB, everything again: {size(whole) / size(edit):.0f} times"
    )
    times, sizes = edit_panel()
    median = statistics.median(map(sum, times))
    shares = " + ".join(f"{statistics.median(share):.1f}" for share in zip(*times, strict=True))
    print(f"one-panel edit, design + check + payload: median {shares} = {median:.1f} ms (bars 2 and 16 ms)", end="")
    print(f", at most {max(sizes) / 1000:.1f} kB sent (bar 50 kB)")
    more = f"{took / median:.0f} times the time, {size(whole) / max(sizes):.0f} times the bytes"
    print(f"the whole house again for that edit: {more}")
    assert total <= MOST_HOUSE, "the house is over its bar"
    assert max(*sizes, size(edit)) <= MOST_EDIT, "an edit is over its bar"
    if CHROMIUM.exists():
        in_browser(house, edit, whole)
    else:
        print(f"{CHROMIUM} is missing: no times of a page", file=sys.stderr)


if __name__ == "__main__":
    main()
