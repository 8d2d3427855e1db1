"""Debian's chromium on software rendering, for the tests of pages."""

from __future__ import annotations

from pathlib import Path

__all__ = ["ARGUMENTS", "CHROMIUM"]

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"]
