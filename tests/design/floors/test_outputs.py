"""Floors in every output: STEP read again by the kernel, closed meshes, masses, the view, the report, lists."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.house import design
from panelgen.drawing.elevation import draw_elevation
from panelgen.export.step import reread_step, write_step
from panelgen.meshes import MeshStore, panel_meshes
from panelgen.model import House, Panel, PanelKind
from panelgen.model.masses import center_of_gravity, panel_mass
from panelgen.model.volumes import member_mass, part_volumes, sheet_mass
from panelgen.plans import house_schedule, offcuts
from panelgen.report.html.page import report_html
from panelgen.solids import panel_solids, tessellated, volume_of
from panelgen.view.payload import panel_payload
from tests.design.floors.houses import FOOT, STAIR, bearing, floored


@pytest.fixture(scope="module")
def house() -> House:
    """Sawn joists bored for a pipe, a stair, and a sleeve for a riser through the deck."""
    z = 2466.975 + 140.0
    pipe = {
        "id": "P1",
        "system": "cold water",
        "diameter": 40.0,
        "path": [[5600.0, 3000.0, z], [7000.0, 3000.0, z]],
    }
    riser = {
        "id": "R1",
        "system": "vent",
        "diameter": 48.0,
        "path": [[7100.0, 5000.0, 1500.0], [7100.0, 5000.0, 4000.0]],
    }
    sleeve = {"id": "S1", "run": "R1", "wall": "F2", "at": [7100.0, 5000.0], "product": "sleeve-2", "seal": "gasket"}
    return design(
        floored(
            stock="2x12",
            depth=11.25 * 25.4,
            spacing=16 * 25.4,
            openings=[STAIR],
            lower=[bearing("1M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))],
            runs=[pipe, riser],
            sleeves=[sleeve],
            ceiling={"joists": "y"},
        )
    )


@pytest.fixture(scope="module")
def panel(house: House) -> Panel:
    """The cassette with the stair."""
    (found,) = (one for one in house.panels if one.kind is PanelKind.FLOOR and one.openings)
    return found


def test_step_files_hold_every_part(panel: Panel, tmp_path: Path) -> None:
    solids = panel_solids(panel)
    write_step(tmp_path / "floor.step", panel.label, solids)
    name, back = reread_step(tmp_path / "floor.step")
    assert name == panel.label
    assert all(solid.is_valid for solid in back)
    assert sum(solid.volume for solid in back) == pytest.approx(sum(volume_of(solid.shape) for solid in solids))
    framing_and_sheets = [volume for _, volume in part_volumes(panel)][: len(panel.members) + len(panel.sheets)]
    assert sum(framing_and_sheets) <= sum(solid.volume for solid in back) * (1 + 1e-9)


def test_meshes_are_of_the_volume_of_their_parts(panel: Panel) -> None:
    meshes = panel_meshes(panel, MeshStore(tessellated))
    volumes = dict(part_volumes(panel))
    for part in meshes[: len(panel.members) + len(panel.sheets)]:
        assert part.mesh.volume == pytest.approx(volumes[part.part], rel=1e-3)


def test_a_cassette_weighs_what_its_parts_do_and_hangs_level(panel: Panel) -> None:
    parts = math.fsum([*map(member_mass, panel.members), *map(sheet_mass, panel.sheets)])
    assert panel_mass(panel) == pytest.approx(parts)
    x, y, z = center_of_gravity(panel)
    assert 0.3 * panel.length < x < 0.7 * panel.length
    assert 0.3 * panel.height < y < 0.7 * panel.height
    assert panel.depth[0] < z < panel.depth[1]


def test_the_view_report_drawing_and_lists_take_floors(house: House, panel: Panel) -> None:
    findings = check_house(house, Catalog.default())
    assert panel_payload(panel, findings).buffers
    page = report_html(house, house.panels, findings, "test")
    assert page.startswith("<!doctype html>")
    assert draw_elevation(panel, spots=()).shapes
    assert any(row.panel == panel.label for row in house_schedule(house).rows)
    assert {lot.name for lot in offcuts([panel], 7400.0)} >= {"2x12", "osb-23/32"}


def test_a_sleeve_is_cut_in_the_deck(panel: Panel) -> None:
    assert not [finding for finding in panel.findings if finding.code.startswith("sheet.")]
    assert sum(len(sheet.round_holes) for sheet in panel.sheets) == 1
