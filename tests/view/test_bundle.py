"""The bundle in the package is what its sources give, with the versions that are locked."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.project.tree import PACKAGE

WEB, STATIC = PACKAGE / "view" / "web", PACKAGE / "view" / "static"
LONGEST_SOURCE = 400


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("npm") is None, reason="npm is missing: it builds the bundle from its sources")
def test_sources_build_the_bundle_that_is_shipped(tmp_path: Path) -> None:
    folder, out = tmp_path / "web", tmp_path / "static"
    shutil.copytree(WEB, folder, ignore=shutil.ignore_patterns("node_modules"))
    out.mkdir()
    for command in (["npm", "ci", "--no-audit", "--no-fund"], ["npm", "run", "build"]):
        subprocess.run(command, cwd=folder, check=True, capture_output=True)
    built = {file.name: file.read_text(encoding="utf-8") for file in out.iterdir()}
    assert set(built) == {"view.js", "view.LICENSE.txt"}
    for name, text in built.items():
        assert text == (STATIC / name).read_text(encoding="utf-8"), f"{name} is not what its sources give"


def test_sources_never_make_markup_of_text() -> None:
    sources = {file.name: file.read_text(encoding="utf-8") for file in (WEB / "src").rglob("*.js")}
    assert len(sources) > 20
    for name, text in sources.items():
        assert not any(word in text for word in ("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write")), (
            name
        )
        assert text.startswith("//"), f"{name} does not say what lives in it"
        assert text.count("\n") <= LONGEST_SOURCE, name
