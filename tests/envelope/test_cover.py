"""Every square metre of the airtight shell is insulated, wood, too thin to fill, or bare; and the checks tell of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from panelgen.api import check, design, load
from panelgen.envelope.cover import airtight_panels, bare_covers, covers
from panelgen.model import Barrier, Bay, Finding, House, Panel, PanelKind
from tests.project.tree import ROOT
from tests.random_houses import random_house


@pytest.fixture(scope="module")
def heron() -> House:
    return design(load(ROOT / "examples" / "heron-house.yaml"))


@pytest.fixture(scope="module")
def hipped() -> House:
    """A house whose roof is its shell."""
    return design(random_house(20))


def without(house: House, panel: Panel, *bays: Bay) -> House:
    kept = tuple(bay for bay in panel.bays if bay not in bays)
    return replace(house, panels=tuple(replace(one, bays=kept) if one is panel else one for one in house.panels))


def face(bay: Bay) -> float:
    """The area of a bay without holes, by the shoelace, mm2."""
    ring = bay.outline
    return abs(sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2


def told(house: House) -> list[Finding]:
    return [one for one in check(house) if one.code == "insulation.missing"]


def whole_bay(panel: Panel) -> Bay:
    """The largest bay that goes through the framing."""
    return max((bay for bay in panel.bays if bay.z1 - bay.z0 == panel.framing.thickness), key=face)


@pytest.mark.parametrize("name", ["heron", "hipped"])
def test_the_parts_are_the_whole_and_nothing_is_bare(name: str, request: pytest.FixtureRequest) -> None:
    house = request.getfixturevalue(name)
    found = list(covers(house, airtight_panels(house)))
    assert len(found) > 10
    for cover in found:
        assert cover.insulated + cover.wood + cover.slivers + cover.bare == pytest.approx(cover.area, rel=1e-9)
        least = 0.3 if cover.panel.dormer else 0.6  # small walls are mostly plates
        assert least < cover.insulated / cover.area < 0.95
        assert cover.bare < 1e3
    assert list(bare_covers(house)) == []
    assert told(house) == []


def test_the_face_of_a_wall_is_its_framing_less_its_openings(heron: House) -> None:
    panel = next(one for one in heron.panels if one.kind is PanelKind.EXTERIOR_WALL and one.openings)
    (cover,) = covers(heron, [panel])
    openings = sum(hole.width * hole.height for hole in panel.openings)
    assert cover.area == pytest.approx(panel.length * panel.height - openings)


@pytest.mark.parametrize("kind", [PanelKind.EXTERIOR_WALL, PanelKind.CEILING])
def test_a_void_without_its_bay_is_bare(heron: House, kind: PanelKind) -> None:
    panel = next(one for one in airtight_panels(heron) if one.kind is kind)
    bay = whole_bay(panel)
    (cover,) = bare_covers(without(heron, panel, bay))
    assert cover.bare == pytest.approx(face(bay), rel=1e-6)
    xs, ys = zip(*bay.outline, strict=True)
    assert cover.point is not None
    assert min(xs) < cover.point[0] < max(xs)
    assert min(ys) < cover.point[1] < max(ys)
    (finding,) = told(without(heron, panel, bay))
    assert (finding.panel, finding.unit) == (panel.label, "m2")
    assert finding.value == pytest.approx(face(bay) / 1e6, rel=1e-6)


def test_a_roof_that_is_the_shell_is_looked_at_within_its_barrier(hipped: House) -> None:
    panel = next(one for one in airtight_panels(hipped) if one.kind is PanelKind.ROOF)
    (cover,) = covers(hipped, [panel])
    assert cover.area < 0.9 * panel.length * panel.height
    bay = whole_bay(panel)
    (bare,) = bare_covers(without(hipped, panel, bay))
    assert bare.bare == pytest.approx(face(bay), rel=0.05)


def test_a_panel_without_insulation_is_bare_between_its_sticks(heron: House) -> None:
    panel = airtight_panels(heron)[0]
    house = without(heron, panel, *panel.bays)
    (before,), (after,) = (
        covers(heron, [panel]),
        covers(house, [next(p for p in house.panels if not p.bays and p.label == panel.label)]),
    )
    assert after.insulated == 0.0
    assert after.bare + after.wood + after.slivers == pytest.approx(before.area)
    assert [one.panel for one in told(house)] == [panel.label]
    assert list(bare_covers(house)) == []


def test_panels_without_the_air_barrier_are_no_shell(heron: House) -> None:
    labels = {panel.label for panel in airtight_panels(heron)}
    for panel in heron.panels:
        assert (panel.label in labels) is any(layer.barrier is Barrier.AIR for layer in panel.layers)
    assert 0 < len(labels) < len(heron.panels)
