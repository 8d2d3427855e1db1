"""STL files: a closed named solid a part, whatever reads them, and equal bytes for equal models."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import trimesh

from panelgen.errors import ExportError
from panelgen.export.stl import write_group_stls, write_stl
from panelgen.meshes import MeshStore, PartMesh, panel_meshes
from panelgen.model import Panel
from panelgen.model.groups import PartGroup
from panelgen.solids import tessellated
from tests.factories import raked_panel, wall_panel


def parts_of(panel: Panel) -> list[PartMesh]:
    return panel_meshes(panel, MeshStore(tessellated), panel.frame)


def read(path: Path) -> dict[str, trimesh.Trimesh]:
    """Solids of a file by name."""
    scene = trimesh.load_scene(path)
    return dict(scene.geometry)


@pytest.mark.parametrize("panel", [wall_panel(), raked_panel()], ids=["wall", "raked"])
def test_each_part_is_a_closed_solid_of_its_own_name(panel: Panel, tmp_path: Path) -> None:
    parts = parts_of(panel)
    write_stl(tmp_path / "panel.stl", parts)
    solids = read(tmp_path / "panel.stl")
    assert list(solids) == [part.name for part in parts]
    for part in parts:
        solid = solids[part.name]
        assert solid.is_watertight
        assert solid.is_winding_consistent
        assert solid.volume == pytest.approx(part.mesh.volume, rel=1e-6)
        assert solid.bounds[0] == pytest.approx(part.mesh.vertices.min(axis=0), abs=1e-6)
        assert solid.bounds[1] == pytest.approx(part.mesh.vertices.max(axis=0), abs=1e-6)


def test_groups_have_a_file_each_and_the_whole_has_all(tmp_path: Path) -> None:
    parts = parts_of(wall_panel())
    files = write_group_stls(tmp_path, "1W01", parts)
    assert [file.name for file in files] == [
        "1W01.stl",
        "1W01-outer-sheathing.stl",
        "1W01-framing.stl",
        "1W01-inner-sheathing.stl",
        "1W01-strapping.stl",
        "1W01-services.stl",
    ]
    whole, *groups = (names(file) for file in files)
    assert whole == [part.name for part in parts]
    assert groups == [
        [part.name for part in parts if part.group is group] for group in PartGroup if group is not PartGroup.TRUSSES
    ]


def names(file: Path) -> list[str]:
    return re.findall(r"^solid (.*)$", file.read_text(), re.MULTILINE)


def test_a_group_without_parts_has_no_file(tmp_path: Path) -> None:
    files = write_group_stls(tmp_path, "2W07", parts_of(raked_panel()))
    assert [file.stem for file in files] == ["2W07", "2W07-outer-sheathing", "2W07-framing", "2W07-services"]
    assert sorted(tmp_path.iterdir()) == sorted(files)


def test_normals_look_outward(tmp_path: Path) -> None:
    write_stl(tmp_path / "a.stl", parts_of(wall_panel())[:1])
    text = (tmp_path / "a.stl").read_text()
    number = r"(-?[\d.e+-]+)"
    normals = re.findall(rf"facet normal {number} {number} {number}", text)
    (solid,) = read(tmp_path / "a.stl").values()
    assert solid.volume > 0
    assert [tuple(map(float, normal)) for normal in normals] == [tuple(n) for n in solid.face_normals.round(6).tolist()]


def test_spaces_in_a_name_become_one_word(tmp_path: Path) -> None:
    part = parts_of(raked_panel())[0]
    write_stl(tmp_path / "a.stl", [PartMesh("id", "mark of\ttwo", part.group, part.mesh)])
    assert names(tmp_path / "a.stl") == ["mark_of_two"]


def test_equal_models_give_equal_bytes(tmp_path: Path) -> None:
    for name in ("a", "b"):
        write_stl(tmp_path / f"{name}.stl", parts_of(wall_panel()))
    assert (tmp_path / "a.stl").read_bytes() == (tmp_path / "b.stl").read_bytes()


def test_nothing_to_write_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="no part"):
        write_stl(tmp_path / "a.stl", [])
    assert list(tmp_path.iterdir()) == []
