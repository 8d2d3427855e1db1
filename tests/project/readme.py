"""The code blocks of README.md."""

from __future__ import annotations

import re

from tests.project.tree import ROOT

_BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def text() -> str:
    """All of README.md."""
    return (ROOT / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    """The content of each code block in that language, in order."""
    return [body.strip() for found, body in _BLOCK.findall(text()) if found == language]
