"""Findings as a page and as topics: where they are written, of which panels, and what cannot be written."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from panelgen import api
from panelgen.errors import BadValueError, ExportError
from panelgen.model import House
from panelgen.spec.loader import loads
from tests import specs


@pytest.fixture(scope="module")
def house() -> House:
    return api.design(loads(specs.too_wide()))


def test_page_and_topics_tell_of_the_same_causes(house: House, tmp_path: Path) -> None:
    findings = api.check(house)
    api.write_html(house, findings, tmp_path / "f.html")
    api.write_bcf(house, findings, tmp_path / "f.bcf")
    page = (tmp_path / "f.html").read_text(encoding="utf-8")
    with zipfile.ZipFile(tmp_path / "f.bcf") as archive:
        topics = [name for name in archive.namelist() if name.endswith("/markup.bcf")]
    assert page.startswith("<!doctype html>")
    assert page.count("<article") == len(topics) > 0
    assert "header.none" in page


def test_page_of_some_panels_says_so(house: House, tmp_path: Path) -> None:
    api.write_html(house, (), tmp_path / "f.html", ["1W02"])
    assert "panels 1W02 of 4" in (tmp_path / "f.html").read_text(encoding="utf-8")


def test_unknown_panel_writes_nothing(house: House, tmp_path: Path) -> None:
    with pytest.raises(BadValueError, match="9W99"):
        api.write_html(house, (), tmp_path / "f.html", ["9W99"])
    assert list(tmp_path.iterdir()) == []


def test_place_that_cannot_be_written_is_an_error(house: House, tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="cannot write"):
        api.write_html(house, (), tmp_path / "no folder" / "f.html")
    assert list(tmp_path.iterdir()) == []
