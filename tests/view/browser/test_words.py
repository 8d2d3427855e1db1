"""The page writes quantities as the rest of the tool does."""

from __future__ import annotations

import json

from playwright.sync_api import Browser

from panelgen.units import format_feet_inches, format_length
from tests.project.tree import PACKAGE

LENGTHS = [
    0.0,
    1.5875,
    12.7,
    38.1,
    139.7,
    304.79,
    304.8,
    2352.675,
    2466.975,
    3047.9999,
    -25.4,
    12192.0,
    0.79375,
    2.38125,
]


def test_lengths_are_written_alike(browser: Browser) -> None:
    page = browser.new_page()
    words = (PACKAGE / "view" / "web" / "src" / "words.js").read_text(encoding="utf-8")
    code = words + "\nglobalThis.words = { feetInches, millimetres };"
    page.add_script_tag(type="module", content=code)
    page.wait_for_function("() => globalThis.words")
    said = page.evaluate(f"() => {json.dumps(LENGTHS)}.map((mm) => [words.feetInches(mm), words.millimetres(mm)])")
    page.close()
    assert said == [[format_feet_inches(mm), format_length(mm, "mm")] for mm in LENGTHS]
