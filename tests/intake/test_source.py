"""Files that cannot be read: one clear error each."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from panelgen.errors import PanelgenError
from panelgen.intake import IntakeError, read_ifc
from tests.intake.drawing import Drawing, small_house


def test_a_missing_file(tmp_path: Path) -> None:
    with pytest.raises(IntakeError, match="cannot be read: No such file"):
        read_ifc(tmp_path / "none.ifc")


@pytest.mark.parametrize("content", [b"", b"panelgen: 1\n", b"\x00\xff" * 5000], ids=["empty", "yaml", "binary"])
def test_a_file_that_is_not_ifc(content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "x.ifc"
    path.write_bytes(content)
    with pytest.raises(IntakeError, match="not a whole IFC file"):
        read_ifc(path)


def test_the_end_alone_is_not_ifc(tmp_path: Path) -> None:
    path = tmp_path / "x.ifc"
    path.write_text("hello\nEND-ISO-10303-21;\n")
    with pytest.raises(IntakeError, match="not a readable IFC file"):
        read_ifc(path)


def test_a_file_that_was_cut_short(tmp_path: Path) -> None:
    drawing = Drawing()
    small_house(drawing)
    path = drawing.save(tmp_path / "x.ifc")
    path.write_bytes(path.read_bytes()[:-3000])
    with pytest.raises(IntakeError, match="export the model again"):
        read_ifc(path)


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(IntakeError, match="cannot be read"):
        read_ifc(tmp_path)


def test_a_model_without_walls(tmp_path: Path) -> None:
    with pytest.raises(IntakeError, match=r"no wall of the model can be taken \(it has none\)"):
        read_ifc(Drawing().save(tmp_path / "x.ifc"))


def test_a_model_of_which_nothing_can_be_taken_says_why(tmp_path: Path) -> None:
    drawing = Drawing()
    drawing.storey("1")
    drawing.wall("Tiles", thickness=13)
    with pytest.raises(IntakeError, match="Tiles: a finish"):
        read_ifc(drawing.save(tmp_path / "x.ifc"))


def test_without_ifcopenshell_the_remedy_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = Drawing().save(tmp_path / "x.ifc")
    monkeypatch.setitem(sys.modules, "ifcopenshell", None)
    with pytest.raises(IntakeError, match=r"pip install 'panelgen\[ifc\]'"):
        read_ifc(path)


def test_an_intake_error_is_a_panelgen_error_and_a_value_error() -> None:
    assert issubclass(IntakeError, PanelgenError)
    assert issubclass(IntakeError, ValueError)


def test_importing_the_room_does_not_import_ifcopenshell() -> None:
    code = "import sys, panelgen.intake; sys.exit('ifcopenshell' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
