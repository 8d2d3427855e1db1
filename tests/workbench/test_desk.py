"""The desk's own sources: small, and never a way for text to become markup."""

from __future__ import annotations

from tests.project.tree import PACKAGE

STATIC = PACKAGE / "workbench" / "static"
LONGEST_SOURCE = 400


def test_text_is_only_ever_put_in_as_text() -> None:
    text = (STATIC / "desk.js").read_text(encoding="utf-8")
    assert not any(word in text for word in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval("))


def test_nothing_is_fetched() -> None:
    for file in STATIC.iterdir():
        text = file.read_text(encoding="utf-8")
        assert not any(word in text for word in ("http:", "https:", "fetch(", "import(", "@import", "url(")), file.name


def test_sources_are_short() -> None:
    for file in STATIC.iterdir():
        assert file.read_text(encoding="utf-8").count("\n") <= LONGEST_SOURCE, file.name
