"""The shape of the repository: what lies at the top, how long a module may be, what text may not say."""

from __future__ import annotations

import re

import pytest

from tests.project.tree import ROOT, tracked_files

TOP = {
    "DEVELOPERS.md",
    "README.md",
    "environment.yml",
    "examples",
    "notebooks",
    "panelgen",
    "pyproject.toml",
    "tests",
}
LONGEST_MODULE = 400
TEXT = {".cfg", ".ipynb", ".md", ".py", ".toml", ".txt", ".yaml", ".yml", ""}
# Spelled in pieces, so that this file does not match itself.
UNFINISHED = re.compile(r"\b(TO" + r"DO|FIX" + r"ME|XX" + r"X|NotImplemented" + r"Error)\b")
OUT_OF_PLACE = re.compile("seed[ -]" + "document|language " + "model|as an " + "AI", re.IGNORECASE)


def texts() -> list[tuple[str, str]]:
    """Name and content of every tracked text file, the licence apart."""
    files = [file for file in tracked_files() if file.suffix in TEXT and file.name != "LICENSE"]
    return [(str(file), (ROOT / file).read_text(encoding="utf-8")) for file in files]


def test_top_level_holds_exactly_these() -> None:
    top = {file.parts[0] for file in tracked_files()}
    assert {name for name in top if not name.startswith(".")} == TOP


def test_modules_are_short() -> None:
    lines = {name: text.count("\n") for name, text in texts() if name.endswith(".py")}
    assert {name: count for name, count in lines.items() if count > LONGEST_MODULE} == {}


@pytest.mark.parametrize("pattern", [UNFINISHED, OUT_OF_PLACE])
def test_no_file_says(pattern: re.Pattern[str]) -> None:
    found = {name: match.group() for name, text in texts() if (match := pattern.search(text))}
    assert found == {}
