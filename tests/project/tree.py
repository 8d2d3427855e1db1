"""What the tests of the project itself look at: tracked files, modules and pyproject.toml."""

from __future__ import annotations

import subprocess
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "panelgen"


@cache
def tracked_files() -> tuple[Path, ...]:
    """Files under version control that are present, relative to the root."""
    command = ["git", "-c", f"safe.directory={ROOT}", "ls-files", "-z"]
    listing = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    return tuple(Path(name) for name in listing.split("\0") if name and (ROOT / name).exists())


@cache
def module_files() -> tuple[Path, ...]:
    """Every module of the package, sorted."""
    return tuple(sorted(PACKAGE.rglob("*.py")))


def module_name(file: Path) -> str:
    """The dotted name of a module file."""
    parts = file.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def pyproject() -> dict[str, Any]:
    """The parsed pyproject.toml."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
