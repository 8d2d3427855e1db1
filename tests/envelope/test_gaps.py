"""How far apart panels stand that meet edge to edge, and what the checks say of it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from panelgen.api import check, design, load
from panelgen.catalog import Catalog
from panelgen.checks.shell.joint_gaps import joint_gap
from panelgen.envelope.gaps import joint_gaps
from panelgen.geometry.frames import Frame, Vec3, add, scaled
from panelgen.model import Finding, House, JointKind, Panel
from tests.project.tree import ROOT

KINDS = (JointKind.IN_LINE, JointKind.FLOOR_FLOOR, JointKind.CEILING_CEILING, JointKind.ROOF_ROOF)
EIGHTH = 25.4 / 8
"""mm that a crew draws panels together: common practice, no source."""


@pytest.fixture(scope="module")
def heron() -> House:
    return design(load(ROOT / "examples" / "heron-house.yaml"))


def placed(house: House, panel: Panel, frame: Frame) -> House:
    return replace(house, panels=tuple(replace(one, frame=frame) if one is panel else one for one in house.panels))


def shifted(house: House, panel: Panel, by: Vec3) -> House:
    return placed(house, panel, Frame(add(panel.frame.origin, by), panel.frame.x, panel.frame.y))


def pair(house: House, kind: JointKind) -> tuple[Panel, Vec3]:
    """The second panel of the first joint of a kind that lies along the panels' x, and the way off the first."""
    for gap in joint_gaps(house):
        one, other = (house.panel(label) for label in gap.joint.panels)
        away = one.frame.to_local(other.frame.point(other.length / 2, other.height / 2, 0.0))[0]
        if gap.joint.kind is kind and not 0.0 < away < one.length:
            return other, scaled(one.frame.x, 1.0 if away > 0.0 else -1.0)
    raise LookupError(kind)


def width(house: House, panel: Panel, kind: JointKind) -> float:
    return max(gap.width for gap in joint_gaps(house) if gap.joint.kind is kind and panel.label in gap.joint.panels)


def found(house: House) -> list[Finding]:
    return [one for one in check(house) if one.code == "joint.gap"]


def test_panels_of_the_example_touch(heron: House) -> None:
    gaps = list(joint_gaps(heron))
    assert {gap.joint.kind for gap in gaps} == set(KINDS)
    assert max(gap.width for gap in gaps) < 1e-6
    assert found(heron) == []


@pytest.mark.parametrize("kind", KINDS)
def test_a_panel_moved_away_leaves_a_gap_as_wide(heron: House, kind: JointKind) -> None:
    panel, away = pair(heron, kind)
    apart = shifted(heron, panel, scaled(away, 5.0))
    assert width(apart, panel, kind) == pytest.approx(5.0, abs=1e-6)
    named = [one for one in found(apart) if panel.label in one.words and kind in one.words]
    assert named
    assert named[0].value == pytest.approx(5.0, abs=1e-6)
    assert named[0].limit == pytest.approx(EIGHTH)


@pytest.mark.parametrize("kind", KINDS)
def test_a_panel_moved_toward_the_other_leaves_none(heron: House, kind: JointKind) -> None:
    panel, away = pair(heron, kind)
    near = shifted(heron, panel, scaled(away, -5.0))
    one = [g for g in joint_gaps(near) if g.joint.kind is kind and panel.label in g.joint.panels]
    assert min(gap.width for gap in one) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("kind", KINDS)
def test_a_step_out_of_the_plane_counts(heron: House, kind: JointKind) -> None:
    panel, _ = pair(heron, kind)
    assert width(shifted(heron, panel, scaled(panel.frame.z, 4.0)), panel, kind) == pytest.approx(4.0, abs=1e-6)


@pytest.mark.parametrize(("gap", "count"), [(EIGHTH, 0), (EIGHTH + 0.1, 1)])
def test_the_crew_closes_an_eighth_of_an_inch(heron: House, gap: float, count: int) -> None:
    joint = next(joint for joint in heron.joints if joint.kind is JointKind.IN_LINE)
    panel = heron.panel(joint.panels[1])
    wide = shifted(heron, panel, scaled(panel.frame.x, gap))
    assert len([one for one in found(wide) if one.parts == (" | ".join(joint.panels),)]) == count


def test_a_panel_out_of_plumb_gapes_at_one_end(heron: House) -> None:
    """Turned in its plane by 1:500 about its lower corner at the joint, it opens by its height over 500."""
    joint = next(joint for joint in heron.joints if joint.kind is JointKind.IN_LINE)
    panel = heron.panel(joint.panels[1])
    angle = math.atan(1 / 500)
    x, y = (
        panel.frame.vector(math.cos(angle), -math.sin(angle), 0.0),
        panel.frame.vector(math.sin(angle), math.cos(angle), 0.0),
    )
    leaning = placed(heron, panel, Frame(panel.frame.origin, x, y))
    (gap,) = [one for one in joint_gaps(leaning) if one.joint == joint]
    assert gap.width == pytest.approx(panel.height / 500, rel=1e-3)
    assert gap.point[2] == pytest.approx(panel.frame.origin[2] + panel.height, abs=1.0)


def test_a_seal_that_bridges_less_decides(heron: House) -> None:
    joint = next(joint for joint in heron.joints if joint.kind is JointKind.IN_LINE)
    panel = heron.panel(joint.panels[1])
    catalog = Catalog.default()
    seals = {name: replace(seal, bridges=1.5) if name == joint.air else seal for name, seal in catalog.seals.items()}
    wide = shifted(heron, panel, scaled(panel.frame.x, 2.0))
    assert list(joint_gap(wide, catalog)) == []
    (one, *_) = joint_gap(wide, replace(catalog, seals=seals))
    assert (one.value, one.limit) == (pytest.approx(2.0), 1.5)
