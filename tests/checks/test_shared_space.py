"""Sheets of one panel against the sheets and sticks of another: touching is no clash."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from panelgen.api import check, design, load
from panelgen.checks.scene import Scene
from panelgen.checks.shell.shared_space import panel_panel
from panelgen.checks.shell.standing import Standing
from panelgen.geometry.frames import Frame, Vec3, add, scaled
from panelgen.model import Finding, House, Panel, PanelKind, Sheet
from tests.project.tree import ROOT


@pytest.fixture(scope="module")
def heron() -> House:
    return design(load(ROOT / "examples" / "heron-house.yaml"))


def moved(panel: Panel, by: Vec3) -> Panel:
    return replace(panel, frame=Frame(add(panel.frame.origin, by), panel.frame.x, panel.frame.y))


def of(*panels: Panel) -> list[Finding]:
    return panel_panel(Standing.of(Scene.of(panels)))


def bare(panel: Panel, sheets: tuple[Sheet, ...]) -> Panel:
    return replace(panel, members=(), sheets=sheets, fasteners=())


def left_of(sheet: Sheet) -> list[float]:
    """The panel x of its corners."""
    return [sheet.frame.origin[0] + x for x, _ in sheet.outline]


def beside(panel: Panel, gap: float) -> Panel:
    """A copy in front of the outer face of a panel, `gap` mm off."""
    low, high = panel.depth
    return replace(moved(panel, scaled(panel.frame.z, high - low + gap)), label="copy")


def test_nothing_of_the_example_shares_space(heron: House) -> None:
    assert of(*heron.panels) == []


@pytest.mark.parametrize("kind", [PanelKind.EXTERIOR_WALL, PanelKind.FLOOR, PanelKind.CEILING, PanelKind.ROOF])
def test_a_copy_in_front_of_a_panel_of_any_kind(heron: House, kind: PanelKind) -> None:
    """Sheets and straps, or framing, are at both faces: 0.1 mm into one another is found, touching is not."""
    panel = next(one for one in heron.panels if one.kind is kind and one.sheets)
    assert of(panel, beside(panel, 0.0)) == []
    (finding,) = of(panel, beside(panel, -0.1))
    assert finding.code == "sheet.panel"
    assert finding.panel == panel.label
    assert finding.value == pytest.approx(0.1, abs=1e-6)
    assert "copy" in finding.words


def test_sticks_come_before_sheets(heron: House) -> None:
    panel = heron.panels[0]
    assert [one.code for one in of(panel, moved(panel, scaled(panel.frame.x, 20.0)))] == ["panel.panel"]


def test_a_sheet_may_stand_in_the_cut_out_of_another(heron: House) -> None:
    """A board as large as a window is free in its hole, and not over its edge."""
    panel = next(one for one in heron.panels if any(sheet.cutouts for sheet in one.sheets))
    host = next(sheet for sheet in panel.sheets if sheet.cutouts)
    guest = replace(host, id="guest", outline=host.cutouts[0][::-1], cutouts=())
    one, other = bare(panel, (host,)), replace(bare(panel, (guest,)), label="copy")
    assert of(one, other) == []
    (finding,) = of(one, moved(other, scaled(panel.frame.x, 3.0)))
    assert finding.parts == (host.id, "guest")
    assert finding.value == pytest.approx(3.0, abs=1e-6)


def test_sheets_may_touch_along_a_hip(heron: House) -> None:
    """A triangle of a slope and the one that makes it a parallelogram meet along its longest side."""
    panel = next(one for one in heron.panels if any(len(sheet.outline) == 3 for sheet in one.sheets))
    host = next(sheet for sheet in panel.sheets if len(sheet.outline) == 3)
    corners = np.array(host.outline)
    sides = np.roll(corners, -1, axis=0) - corners
    longest = int(np.linalg.norm(sides, axis=1).argmax())
    ends = corners[longest] + corners[(longest + 1) % 3]
    guest = replace(host, id="guest", outline=tuple((x, y) for x, y in (ends - corners).tolist()))
    one, other = bare(panel, (host,)), replace(bare(panel, (guest,)), label="copy")
    assert of(one, other) == []
    along, up = sides[longest] / np.linalg.norm(sides[longest])
    back = panel.frame.vector(-up, along, 0.0)
    (finding,) = of(one, moved(other, scaled(back, 3.0)))
    assert finding.value == pytest.approx(3.0, abs=1e-6)
    assert of(one, moved(other, scaled(back, -3.0))) == []


def test_loose_parts_are_apart(heron: House) -> None:
    panel = next(one for one in heron.panels if one.sheets)
    copy = bare(panel, tuple(replace(sheet, loose=True) for sheet in panel.sheets))
    assert of(panel, replace(copy, label="copy")) == []


def test_a_sheet_too_long_is_told_of_by_the_checks(heron: House) -> None:
    """A sheet of a wall in line, drawn out 10 mm at its end: over the joint of the sheets, into the next wall's."""
    joint = next(joint for joint in heron.joints if joint.kind == "in line")
    panel, neighbour = (heron.panel(label) for label in joint.panels)
    sheet = max(panel.sheets, key=lambda one: one.frame.origin[0] + max(x for x, _ in one.outline))
    far = max(x for x, _ in sheet.outline)
    long = replace(sheet, outline=tuple((x + 10.0 if x == far else x, y) for x, y in sheet.outline))
    sheets = tuple(long if one is sheet else one for one in panel.sheets)
    panels = tuple(replace(one, sheets=sheets) if one is panel else one for one in heron.panels)
    found = [one for one in check(replace(heron, panels=panels)) if one.code == "sheet.panel"]
    assert [one.panel for one in found] == [panel.label]
    assert sheet.id in found[0].parts
    start = min(x for one in neighbour.sheets if one.layer == sheet.layer for x in left_of(one))
    clear = panel.length - sheet.frame.origin[0] - far + start
    assert found[0].value == pytest.approx(10.0 - clear, abs=1e-6)


def test_trusses_stand_on_their_walls_and_in_no_panel(heron: House) -> None:
    assert heron.trusses
    assert panel_panel(Standing.of(Scene.of(heron.panels), heron.trusses)) == []


@pytest.mark.parametrize(("by", "walls"), [((0.0, 0.0, -4.0), 2), ((0.0, 540.0, 0.0), 1)])
def test_a_truss_that_runs_into_walls_is_named(heron: House, by: Vec3, walls: int) -> None:
    """Lowered by 4 mm the first truss stands in the plates of both its walls; moved to the end, in the gable wall."""
    truss = heron.trusses[0]
    frame = Frame(add(truss.frame.origin, by), truss.frame.x, truss.frame.y)
    found = panel_panel(Standing.of(Scene.of(heron.panels), (replace(truss, frame=frame), *heron.trusses[1:])))
    assert len({finding.panel for finding in found}) >= walls
    assert {finding.code for finding in found} == {"truss.panel"}
    assert all(finding.parts[1] == truss.id and truss.id in finding.words for finding in found)
    if walls == 2:
        assert [finding.value for finding in found] == pytest.approx([4.0, 4.0], abs=0.01)
