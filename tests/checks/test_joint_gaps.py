"""How far apart panels stand at joints of every kind, as another kernel measures it too, and what is said of it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from panelgen.api import check, design, load
from panelgen.catalog import Catalog
from panelgen.checks.scene import Scene
from panelgen.checks.shell.gaps import Gap, joint_gaps
from panelgen.checks.shell.joint_gaps import joint_gap
from panelgen.checks.shell.meeting import REACH
from panelgen.checks.shell.standing import Standing
from panelgen.geometry.frames import Frame, add, dot, scaled
from panelgen.model import Finding, House, Joint, JointKind
from tests.acceptance.house_assembled_fit import fit, parts_of
from tests.checks.apart import BEARING, LEANING, away, placed, shifted
from tests.project.tree import ROOT
from tests.random_houses import random_house

EIGHTH = 25.4 / 8
"""mm that a crew draws panels together: common practice, no source."""

TIE = 610.0
"""mm that a loose plate ties two walls over: on its stretch a wall is covered by the other's plate."""

HOUSES = dict.fromkeys(JointKind, "heron-house") | {
    JointKind.STACKED: "tern-cottage",
    JointKind.WALL_ROOF: "lark-house",
}
LEVEL = (JointKind.FLOOR_FLOOR, JointKind.CEILING_CEILING, JointKind.ROOF_ROOF)
ON_SLOPE = 12 / math.hypot(12, 6)
SLANTS = {JointKind.WALL_ROOF: 12 / 13, JointKind.WALL_ON_ROOF: ON_SLOPE, JointKind.LAY_OVER: ON_SLOPE}
"""What faces on a slope are apart for each mm plumb: a raked plate at 5 in 12, and a dormer on a roof of 6 in 12."""

WITHIN = (JointKind.SEAM, JointKind.OPENING)
KINDS = [kind for kind in JointKind if kind not in WITHIN]
IN_PLANE = (JointKind.IN_LINE, *LEVEL)


@cache
def example(name: str) -> House:
    return design(load(ROOT / "examples" / f"{name}.yaml"))


@pytest.fixture(scope="module")
def heron() -> House:
    return example("heron-house")


def gaps(house: House, joints: tuple[Joint, ...] | None = None) -> list[Gap]:
    return list(joint_gaps(Standing.of(Scene.of(house.panels)), house.joints if joints is None else joints))


def found(house: House) -> list[Finding]:
    return list(joint_gap(Standing.of(Scene.of(house.panels)), house, Catalog.default()))


@cache
def clean(name: str) -> tuple[Gap, ...]:
    return tuple(gaps(example(name)))


def near(house: House, joint: Joint) -> House:
    """The panels of a joint and those that have a joint with one of them, and that joint alone."""
    labels = {label for one in house.joints if set(one.panels) & set(joint.panels) for label in one.panels}
    panels = tuple(panel for panel in house.panels if panel.label in labels)
    return replace(house, panels=panels, joints=(joint,), trusses=())


def measured(kind: JointKind, count: int) -> Iterator[tuple[House, Joint]]:
    """Some joints of a kind of the example that has them, of which faces meet, each with the panels around it."""
    longer = 2 * TIE if kind in BEARING else 0.0
    own = [gap.joint for gap in clean(HOUSES[kind]) if gap.joint.kind is kind and gap.joint.length > longer]
    assert own
    for joint in own[:: max(1, len(own) // count)]:
        yield near(example(HOUSES[kind]), joint), joint


@pytest.mark.parametrize("name", ["heron-house", "lark-house", "tern-cottage"])
def test_panels_of_the_examples_meet(name: str) -> None:
    assert [gap.joint.panels for gap in clean(name) if gap.width > 0.0] == []
    assert [one for one in check(example(name)) if one.code == "joint.gap"] == []


def test_every_kind_is_measured() -> None:
    seen = {gap.joint.kind for name in sorted(set(HOUSES.values())) for gap in clean(name)}
    assert seen == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_panel_moved_away_leaves_a_gap_as_wide(kind: JointKind) -> None:
    for house, joint in measured(kind, 3):
        panel, way = away(house, joint)
        apart = shifted(house, panel, scaled(way, 8.0))
        (gap,) = gaps(apart, (joint,))
        if kind in LEANING:  # where a board ends at its hip another panel's was, as thick as that
            assert 7.99 < gap.width < 8.01 + 1.5 * 25.4
        else:
            slant = SLANTS.get(kind, 1.0) if gap.width < 7.99 else 1.0
            assert gap.width == pytest.approx(8.0 * slant, abs=0.01)
        (finding,) = [one for one in found(apart) if one.parts == (" | ".join(joint.panels),)]
        assert finding.value == pytest.approx(gap.width)
        assert (finding.limit or 0.0) < 8.0
        assert set(joint.panels) <= set(finding.words.split())


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind is not JointKind.FOUNDATION])
def test_another_kernel_finds_the_panels_to_meet_there(kind: JointKind) -> None:
    """Set back by a little less than the gap the two share no space, and by a little more they do."""
    for house, joint in measured(kind, 2):
        panel, way = away(house, joint)
        apart = shifted(house, panel, scaled(way, 7.0))
        (gap,) = gaps(apart, (joint,))
        slope = 7.0 / gap.width
        for more, meets in ((-0.1, False), (0.1, True)):
            back = shifted(house, panel, scaled(way, 7.0 - slope * (gap.width + more)))
            parts = parts_of([back.panel(label) for label in joint.panels])
            assert bool(fit(parts).shared) is meets


@pytest.mark.parametrize("kind", KINDS)
def test_a_panel_far_away_is_named(kind: JointKind) -> None:
    for house, joint in measured(kind, 2):
        panel, way = away(house, joint)
        alone = replace(house, panels=tuple(one for one in house.panels if one.label in joint.panels))
        (finding,) = found(shifted(alone, panel, scaled(way, 300.0)))
        assert "farther apart than this" in finding.words
        assert finding.value == REACH


@pytest.mark.parametrize("kind", IN_PLANE)
def test_a_step_out_of_the_plane_counts(kind: JointKind) -> None:
    for house, joint in measured(kind, 2):
        one, other = (house.panel(label) for label in joint.panels)
        (gap,) = gaps(shifted(house, other, scaled(one.frame.z, 4.0)), (joint,))
        assert gap.width == pytest.approx(4.0, abs=1e-6)


@pytest.mark.parametrize("kind", [JointKind.IN_LINE, JointKind.WALL_FLOOR, JointKind.RIDGE, JointKind.TEE])
def test_a_panel_moved_into_the_other_leaves_none(kind: JointKind) -> None:
    for house, joint in measured(kind, 2):
        panel, way = away(house, joint)
        assert [gap.width for gap in gaps(shifted(house, panel, scaled(way, -5.0)), (joint,))] == [0.0]


@pytest.mark.parametrize(("gap", "count"), [(EIGHTH, 0), (EIGHTH + 0.1, 1)])
def test_the_crew_closes_an_eighth_of_an_inch(heron: House, gap: float, count: int) -> None:
    joint = next(joint for joint in heron.joints if joint.kind is JointKind.IN_LINE)
    panel = heron.panel(joint.panels[1])
    wide = shifted(heron, panel, scaled(panel.frame.x, gap))
    assert len([one for one in found(wide) if one.parts == (" | ".join(joint.panels),)]) == count
    whole = [one for one in check(wide) if one.code == "joint.gap" and one.parts == (" | ".join(joint.panels),)]
    assert len(whole) == count


def test_a_panel_out_of_plumb_gapes_at_one_end(heron: House) -> None:
    """Turned in its plane by 1:500 about its lower corner at the joint, it opens by its height over 500."""
    joint = next(joint for joint in heron.joints if joint.kind is JointKind.IN_LINE)
    panel = heron.panel(joint.panels[1])
    angle = math.atan(1 / 500)
    x, y = (
        panel.frame.vector(math.cos(angle), -math.sin(angle), 0.0),
        panel.frame.vector(math.sin(angle), math.cos(angle), 0.0),
    )
    (gap,) = gaps(placed(heron, panel, Frame(panel.frame.origin, x, y)), (joint,))
    assert gap.width == pytest.approx(panel.height / 500, rel=2e-3)
    assert gap.point[2] == pytest.approx(panel.frame.origin[2] + panel.height, abs=1.0)


def test_a_wall_that_hangs_down_at_one_end_gapes_at_the_other(heron: House) -> None:
    """Turned in its plane by 1:1000 about one end on the deck, it stands off it by a thousandth of its length."""
    joint = next(one for one in heron.joints if one.kind is JointKind.WALL_FLOOR and one.panels[1].startswith("2W"))
    panel = heron.panel(joint.panels[1])
    angle = math.atan(1 / 1000)
    x = panel.frame.vector(math.cos(angle), math.sin(angle), 0.0)
    y = panel.frame.vector(-math.sin(angle), math.cos(angle), 0.0)
    (gap,) = gaps(placed(heron, panel, Frame(panel.frame.origin, x, y)), (joint,))
    along = dot(add(gap.point, scaled(panel.frame.origin, -1.0)), panel.frame.x)
    assert gap.width == pytest.approx(along / 1000, abs=0.05)
    assert along > 1000.0


def test_a_short_bottom_plate_leaves_no_gap_and_a_missing_sheet_of_decking_does(heron: House) -> None:
    """Where no decking lies, the plate stands on nothing: the joists are as far below it as a sheet is thick."""
    joint = next(one for one in heron.joints if one.kind is JointKind.WALL_FLOOR and one.panels[1].startswith("2W"))
    deck = heron.panel(joint.panels[0])
    bare = replace(deck, sheets=())
    house = replace(heron, panels=tuple(bare if one is deck else one for one in heron.panels))
    (gap,) = gaps(house, (joint,))
    assert gap.width == pytest.approx(deck.sheets[0].thickness, abs=1e-6)


def test_a_seal_that_bridges_less_decides(heron: House) -> None:
    joint = next(joint for joint in heron.joints if joint.kind is JointKind.IN_LINE)
    panel = heron.panel(joint.panels[1])
    catalog = Catalog.default()
    seals = {name: replace(seal, bridges=1.5) if name == joint.air else seal for name, seal in catalog.seals.items()}
    wide = shifted(heron, panel, scaled(panel.frame.x, 2.0))
    standing = Standing.of(Scene.of(wide.panels))
    name = (" | ".join(joint.panels),)
    assert [one for one in joint_gap(standing, wide, catalog) if one.parts == name] == []
    (one,) = [one for one in joint_gap(standing, wide, replace(catalog, seals=seals)) if one.parts == name]
    assert (one.value, one.limit) == (pytest.approx(2.0), 1.5)


@pytest.mark.parametrize("seed", range(4))
def test_random_houses_have_no_gaps(seed: int) -> None:
    house = design(random_house(seed))
    assert [(gap.joint.panels, gap.width) for gap in gaps(house) if gap.width > 0.0] == []
