"""`build`: which files there are, that a selection is kept to, and that equal input gives equal files."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from panelgen import api
from panelgen.errors import BadValueError, ExportError
from panelgen.files import MARKER
from panelgen.model import House
from panelgen.spec.loader import loads
from tests import specs

REPORTS = {"assumptions.txt", "findings.bcf", "findings.html", "findings.json", "findings.txt"}


@pytest.fixture(scope="module")
def house() -> House:
    return api.design(loads(specs.clean()))


def contents(folder: Path) -> dict[str, bytes]:
    return {file.relative_to(folder).as_posix(): file.read_bytes() for file in folder.rglob("*") if file.is_file()}


def test_one_panel_gets_its_models_and_the_house_none(house: House, tmp_path: Path) -> None:
    steps: list[tuple[str, int, int]] = []
    files = api.build(house, tmp_path / "out", ["1W02"], progress=lambda *step: steps.append(step))
    names = {file.relative_to(tmp_path / "out").as_posix() for file in files}
    assert names == contents(tmp_path / "out").keys() - {MARKER}
    models = names - REPORTS
    assert {"panels/1W02/1W02.step", "panels/1W02/1W02.stl", "panels/1W02/1W02-framing.stl"} <= models
    assert [name for name in models if not name.startswith("panels/1W02/1W02")] == []
    assert json.loads((tmp_path / "out" / "findings.json").read_text())["panels"] == ["1W02"]
    assert steps == [("1W02", 1, 1)]


def test_house_gets_models_of_every_panel_and_its_own(house: House, tmp_path: Path) -> None:
    steps: list[tuple[str, int, int]] = []
    files = api.build(house, tmp_path / "out", progress=lambda *step: steps.append(step))
    names = {file.name for file in files}
    labels = [panel.label for panel in house.panels]
    assert {"house.step", "house.stl", "house-framing.stl", *(f"{label}.step" for label in labels)} <= names
    assert steps == [(what, number, len(labels) + 1) for number, what in enumerate([*labels, "house"], 1)]


def test_equal_input_gives_equal_files(house: House, tmp_path: Path) -> None:
    api.build(house, tmp_path / "one", ["1W01"])
    api.build(api.design(loads(specs.clean())), tmp_path / "two", ["1W01"])
    assert contents(tmp_path / "one") == contents(tmp_path / "two")


def test_building_again_leaves_nothing_of_the_earlier_output(house: House, tmp_path: Path) -> None:
    api.build(house, tmp_path / "out", ["1W01"])
    api.build(house, tmp_path / "out", ["1W02"])
    assert not (tmp_path / "out" / "panels" / "1W01").exists()
    assert list(tmp_path.iterdir()) == [tmp_path / "out"]


def test_unknown_label_writes_nothing(house: House, tmp_path: Path) -> None:
    with pytest.raises(BadValueError, match="choose from 1W01, 1W02"):
        api.build(house, tmp_path / "out", ["1W01", "7W07"])
    assert list(tmp_path.iterdir()) == []


def test_foreign_folder_is_refused(house: House, tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("dear")
    with pytest.raises(ExportError, match="did not write"):
        api.build(house, tmp_path)
    assert contents(tmp_path) == {"letter.txt": b"dear"}
