"""STEP files: read again by the kernel they hold what was written, and equal models give equal bytes."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import cadquery as cq
import pytest

from panelgen.errors import ExportError
from panelgen.export.step import RereadSolid, reread_step, write_step
from panelgen.geometry.frames import Frame
from panelgen.model.groups import PartGroup
from panelgen.model.palette import GROUP_COLOURS
from panelgen.model.volumes import part_volumes
from panelgen.solids import PlacedSolid, house_solids, located, panel_solids, volume_of
from tests.factories import raked_panel, small_house, stick, wall_panel

ROOT = Path(__file__).resolve().parents[2]
ALONE = wall_panel()


@pytest.fixture(scope="module")
def solids() -> list[PlacedSolid]:
    return panel_solids(ALONE)


@pytest.fixture(scope="module")
def written(solids: list[PlacedSolid], tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("step") / "1W01.step"
    write_step(path, ALONE.label, solids)
    return path


@pytest.fixture(scope="module")
def reread(written: Path) -> tuple[str, list[RereadSolid]]:
    return reread_step(written)


def test_the_assembly_has_the_name_given(reread: tuple[str, list[RereadSolid]]) -> None:
    assert reread[0] == "1W01"


def test_each_part_comes_back_valid_in_place_and_of_its_volume(
    reread: tuple[str, list[RereadSolid]], solids: list[PlacedSolid]
) -> None:
    for back, solid in zip(reread[1], solids, strict=True):
        assert back.name == solid.name
        assert back.is_valid
        assert back.volume == pytest.approx(volume_of(solid.shape), rel=1e-8)
        assert middle(back.shape) == pytest.approx(middle(located(solid)), abs=1e-5)


def middle(shape: object) -> tuple[float, float, float]:
    return cq.Shape.cast(shape).Center().toTuple()


def test_total_volume_is_the_models(reread: tuple[str, list[RereadSolid]]) -> None:
    total = sum(volume for _, volume in part_volumes(ALONE))
    assert sum(back.volume for back in reread[1]) == pytest.approx(total, rel=1e-6)


def test_parts_have_the_colour_of_their_group(reread: tuple[str, list[RereadSolid]], solids: list[PlacedSolid]) -> None:
    assert [back.colour for back in reread[1]] == [GROUP_COLOURS[solid.group] for solid in solids]


def test_one_shape_in_two_groups_keeps_two_colours(tmp_path: Path) -> None:
    (stud,) = panel_solids(replace(ALONE, members=(stick(),), sheets=(), runs=(), fittings=(), boxes=()))
    strap = replace(stud, part="strap", group=PartGroup.STRAPPING, frame=Frame((500.0, 0.0, 0.0), (1, 0, 0), (0, 1, 0)))
    write_step(tmp_path / "two.step", "two", [stud, strap, replace(stud, part="again")])
    _, back = reread_step(tmp_path / "two.step")
    assert {one.name: one.colour for one in back} == {
        "stud": GROUP_COLOURS[PartGroup.FRAMING],
        "strap": GROUP_COLOURS[PartGroup.STRAPPING],
        "again": GROUP_COLOURS[PartGroup.FRAMING],
    }


def test_bevelled_and_leaning_parts_survive(tmp_path: Path) -> None:
    panel = raked_panel()
    write_step(tmp_path / "raked.step", panel.label, panel_solids(panel))
    _, back = reread_step(tmp_path / "raked.step")
    assert all(one.is_valid for one in back)
    assert sum(one.volume for one in back) == pytest.approx(sum(v for _, v in part_volumes(panel)), rel=1e-6)


def test_a_house_holds_every_part_of_every_panel(tmp_path: Path) -> None:
    house = small_house(2)
    write_step(tmp_path / "house.step", house.name, house_solids(house))
    name, back = reread_step(tmp_path / "house.step")
    parts = [
        part
        for panel in house.panels
        for part in (*panel.members, *panel.sheets, *panel.runs, *panel.fittings, *panel.boxes)
    ]
    assert name == house.name
    assert list(dict.fromkeys(one.name for one in back)) == [getattr(part, "mark", "") or part.id for part in parts]


def test_a_thousand_equal_studs_cost_one_shape(tmp_path: Path) -> None:
    (stud,) = panel_solids(replace(ALONE, members=(stick(),), sheets=(), runs=(), fittings=(), boxes=()))
    places = [Frame((50.0 * k, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)) for k in range(1000)]
    write_step(tmp_path / "one.step", "one", [stud])
    write_step(tmp_path / "many.step", "many", [replace(stud, part=f"s{k}", frame=p) for k, p in enumerate(places)])
    text = (tmp_path / "many.step").read_text()
    assert len(re.findall(r"= MANIFOLD_SOLID_BREP\(", text)) == 1
    assert len(re.findall(r"= NEXT_ASSEMBLY_USAGE_OCCURRENCE\(", text)) == 1000
    naive = 1000 * (tmp_path / "one.step").stat().st_size
    assert (tmp_path / "many.step").stat().st_size < naive / 10


def test_no_curves_in_surface_parameters(written: Path) -> None:
    assert "PCURVE" not in written.read_text()


def test_schema_and_units_are_as_promised(written: Path) -> None:
    text = written.read_text()
    assert "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'))" in text
    assert "SI_UNIT(.MILLI.,.METRE.)" in text


def test_names_with_quotes_and_letters_of_any_language_survive(solids: list[PlacedSolid], tmp_path: Path) -> None:
    names = ["Maja's \\ Häuschen 家 " + "x" * 90, "1W'01 (a); b"]
    write_step(tmp_path / "a.step", names[0], [replace(solids[0], mark=names[1])])
    name, back = reread_step(tmp_path / "a.step")
    assert [name, back[0].name] == names


def test_writing_twice_in_one_process_gives_equal_bytes(
    written: Path, solids: list[PlacedSolid], tmp_path: Path
) -> None:
    write_step(tmp_path / "again.step", ALONE.label, panel_solids(ALONE))
    write_step(tmp_path / "once more.step", ALONE.label, solids)
    assert written.read_bytes() == (tmp_path / "again.step").read_bytes() == (tmp_path / "once more.step").read_bytes()


SCRIPT = """
import sys
from panelgen.export.step import write_step
from panelgen.solids import house_solids
from tests.factories import small_house
write_step(sys.argv[1], "house", house_solids(small_house(2)))
"""


def hashes(tmp_path: Path) -> Iterator[str]:
    """The hash of a house written by processes that differ in hash seed, locale and memory layout."""
    for seed in ("0", "1"):
        path = tmp_path / f"{seed}.step"
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT), "LC_ALL": "C", "PAD": seed * 999}
        subprocess.run([sys.executable, "-c", SCRIPT, str(path)], check=True, env=environment, cwd=tmp_path)
        yield hashlib.sha256(path.read_bytes()).hexdigest()


def test_two_processes_give_equal_bytes(tmp_path: Path) -> None:
    first, second = hashes(tmp_path)
    assert first == second


def test_the_kernel_prints_nothing(
    solids: list[PlacedSolid], tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    write_step(tmp_path / "a.step", "a", solids[:2])
    reread_step(tmp_path / "a.step")
    assert capfd.readouterr() == ("", "")


def test_nothing_to_write_leaves_the_earlier_file(tmp_path: Path) -> None:
    path = tmp_path / "a.step"
    path.write_text("earlier")
    with pytest.raises(ExportError, match="no solid"):
        write_step(path, "a", [])
    assert path.read_text() == "earlier"
    assert list(tmp_path.iterdir()) == [path]


def test_a_missing_folder_is_an_export_error(solids: list[PlacedSolid], tmp_path: Path) -> None:
    with pytest.raises(ExportError, match="cannot write"):
        write_step(tmp_path / "no" / "a.step", "a", solids[:1])


@pytest.mark.parametrize("text", ["", "not a STEP file\n"])
def test_what_is_no_step_file_is_refused(text: str, tmp_path: Path) -> None:
    (tmp_path / "a.step").write_text(text)
    with pytest.raises(ExportError, match=r"a\.step"):
        reread_step(tmp_path / "a.step")
