"""Linting, formatting, types and the import contract hold: one test command proves them all."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.project.tree import ROOT

TOOLS = Path(sys.executable).parent


@pytest.mark.parametrize(
    "command",
    [
        pytest.param(["ruff", "check", "."], id="lint"),
        pytest.param(["ruff", "format", "--check", "."], id="format"),
        pytest.param(["lint-imports"], id="imports"),
        pytest.param(["mypy"], id="types", marks=pytest.mark.slow),
    ],
)
def test_tool_has_nothing_to_say(command: list[str]) -> None:
    tool, *arguments = command
    result = subprocess.run([TOOLS / tool, *arguments], cwd=ROOT, capture_output=True, text=True, check=False)
    assert result.returncode == 0, result.stdout + result.stderr
