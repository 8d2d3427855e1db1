"""Roof planes are split the best way there is: as trying every split finds, within what line, truck and crane take."""

from __future__ import annotations

from itertools import combinations, pairwise
from typing import Any

import numpy as np
import pytest
import shapely
import shapely.affinity

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design import house
from panelgen.design.draft import Draft
from panelgen.design.limits import shop_limits
from panelgen.design.roofs.assign import roof_briefs, slope_of, slopes_of
from panelgen.design.roofs.panel import design_roof_panel
from panelgen.design.roofs.parts import PartPieces
from panelgen.design.roofs.planes import planes_of
from panelgen.design.roofs.split import parts_of, pieces_of
from panelgen.envelope.closing import closing
from panelgen.model import Barrier, Finding, House, JointKind, Partition, Role
from panelgen.model.masses import center_of_gravity, panel_mass
from panelgen.spec import HouseSpec
from tests.design.roofs.bodies import overlap, panel_solid
from tests.design.roofs.houses import BOX, TEE, Ring, roofs_of, spec_of
from tests.design.roofs.random_planes import plane_disagreements, random_roof
from tests.design.roofs.test_fit import faults

CATALOG = Catalog.default()
RULES = CATALOG.rules("irc-2021")
GABLES = "edges: [{edge: w1, kind: gable}, {edge: w3, kind: gable}]"
FOOT = 304.8


def spec(roof: str, ring: Ring = BOX, **shop: Any) -> HouseSpec:
    """A house with a roof, and a shop."""
    data = spec_of(ring, roof).model_dump()
    data["shop"] |= shop
    return HouseSpec.model_validate(data, context={"unit": "mm"})


def pieces(spec: HouseSpec, edge: str = "w0") -> PartPieces:
    """The panels that the plane over an edge may be split into, which is convex."""
    planes, _ = planes_of(spec, spec.roofs[0], CATALOG, RULES)
    (plane,) = (one for one in planes if one.edge == edge)
    (part,) = parts_of(plane)
    return pieces_of(slope_of(spec, plane, CATALOG, RULES), part, spec.shop, shop_limits(spec.shop))


def split(spec: HouseSpec, edge: str = "w0") -> tuple[Partition, list[Finding]]:
    """How the plane over an edge is split, and all that is said of the roof."""
    _, partitions, findings = roof_briefs(spec, slopes_of(spec, CATALOG, RULES)[0], CATALOG, RULES, {})
    (partition,) = (one for one in partitions if one.wall == f"R-{edge}")
    return partition, list(findings)


@pytest.mark.parametrize("seed", range(12))
def test_a_plane_is_split_as_trying_every_split_finds(seed: int) -> None:
    for name, words, _ in plane_disagreements(random_roof(seed)):
        assert not words, name


@pytest.mark.parametrize("owner", ["line", "truck"])
@pytest.mark.parametrize(("over", "panels"), [(0.0, 4), (-0.1, 6)])
def test_both_sides_of_the_size_of_line_and_truck(owner: str, over: float, panels: int) -> None:
    """A plane 32 ft long up which rafters of 4.1 m run, in panels of 8 ft, or else of 6 ft."""
    limit = 8 * FOOT + over
    shop = {"line_height": limit} if owner == "line" else {"truck": {"length": 9000.0, "height": limit}}
    ring = [(0.0, 0.0), (32 * FOOT, 0.0), (32 * FOOT, 6000.0), (0.0, 6000.0)]
    found, _ = split(spec(f"rise: 6 in, rake_overhang: 0, {GABLES}", ring, **shop))
    assert found.panels == panels


@pytest.mark.parametrize(("over", "finds"), [(1e-3, False), (-1e-3, True)])
def test_both_sides_of_the_length_up_the_slope(over: float, finds: bool) -> None:
    roof = f"rise: 6 in, {GABLES}"
    height = float(pieces(spec(roof)).height[0, -1, 0, -1])
    codes = {one.code for one in split(spec(roof, line_length=height + over))[1]}
    assert ("panel.too-long-up" in codes) is finds


def test_both_sides_of_a_mass() -> None:
    roof, ring = f"rise: 6 in, rake_overhang: 0, {GABLES}", [(0.0, 0.0), (5000.0, 0.0), (5000.0, 6000.0), (0.0, 6000.0)]
    free, _ = split(spec(roof, ring))
    grid = pieces(spec(roof, ring))
    places = [grid.stops.at.index(x) for x in (grid.span[0], *free.joints, grid.span[1])]
    most = max(float(grid.mass[0, -1, i, j]) for i, j in pairwise(places))
    for over, more in ((0.5, False), (-0.5, True)):
        crane = {"at": [0.0, 0.0], "table": [{"radius": 20_000.0, "mass": most + over}]}
        for shop in ({"panel_mass": most + over}, {"truck": {"mass": most + over}}, {"crane": crane}):
            found, _ = split(spec(roof, ring, **shop))
            assert (found.joints != free.joints) is more


def test_panels_far_from_the_crane_are_narrower() -> None:
    table = [{"radius": 5500.0, "mass": 900.0}, {"radius": 20_000.0, "mass": 220.0}]
    found, _ = split(spec(f"rise: 6 in, {GABLES}", crane={"at": [0.0, 0.0], "table": table}))
    widths = np.diff([found.start, *found.joints, found.start + found.length])
    assert widths[0] > 1.5 * widths[-1]


def test_joints_keep_off_the_trimmers_of_an_opening() -> None:
    """A hole 1.4 m wide has doubled trimmers (IRC R802.9, over 4 ft), and beside them stands the rafter of a joint."""
    for shift, legal in ((1.0, 1), (-1.0, 0)):
        x = 6 * 609.6 + 700.0 + 3 * 38.1 + shift
        hole = f"openings: [{{id: K, edge: w0, at: [{x}, 1800], size: [1400, 900]}}]"
        asked = pieces(spec(f"rise: 6 in, {GABLES}, {hole}", joint_clearance=50.0))
        assert sum(abs(at - 6 * 609.6) < 1e-6 for at in asked.stops.at) == legal


def test_joints_that_are_asked_for_and_forbidden() -> None:
    free, _ = split(spec(f"rise: 6 in, {GABLES}"))
    pinned, _ = split(spec(f"rise: 6 in, {GABLES}, joints: [{{edge: w0, at: 4000}}]"))
    assert 4000.0 in pinned.joints
    first = free.joints[0]
    barred = f"no_joints: [{{edge: w0, start: {first - 1.0}, end: {first + 1.0}}}]"
    assert first not in split(spec(f"rise: 6 in, {GABLES}, {barred}"))[0].joints


def test_joints_in_a_bad_place_are_told() -> None:
    hole = "openings: [{id: K, edge: w0, at: [5000, 1800], size: [900, 900]}]"
    _, near = split(spec(f"rise: 6 in, {GABLES}, {hole}, joints: [{{edge: w0, at: 5500}}]"))
    assert [one.words for one in near if one.code == "panel.pin" and "opening K" in one.words]
    _, beyond = split(spec(f"rise: 6 in, {GABLES}, joints: [{{edge: w0, at: 50000}}]"))
    assert [one.value for one in beyond if one.code == "panel.pin"] == [50000.0]


def test_what_no_split_allows_names_the_limits_and_a_bound() -> None:
    found, findings = split(spec(f"rise: 6 in, {GABLES}", panel_mass=30.0))
    (words,) = (one.words for one in findings if one.code == "panel.no-joint" and "R-w0" in one.parts)
    assert "the mass that the shop moves" in words
    assert (found.legal, found.gap) == (0, None)
    assert found.least > found.panels


HOLE = "openings: [{id: K, edge: w0, at: [5000, 1800], size: [1400, 900]}]"


def vented(x: float, more: str = "no_joints: []", **shop: Any) -> HouseSpec:
    """A vent that goes plumb through the plane over w0."""
    data = spec(f"rise: 6 in, {GABLES}, {more}", **shop).model_dump()
    path = [[x, 1500.0, 2400.0], [x, 1500.0, 4500.0]]
    data["runs"] = [{"id": "V", "system": "vent", "size": "pvc-2", "path": path}]
    return HouseSpec.model_validate(data, context={"unit": "mm"})


def test_joints_keep_off_services() -> None:
    (free,) = (one for one in Draft.of(vented(400.0)).partitions if one.wall == "R-w0")
    joint = free.joints[0]
    draft = Draft.of(vented(joint + 50.0))
    (kept,) = (one for one in draft.partitions if one.wall == "R-w0")
    assert kept.candidates == free.candidates - 1
    assert joint not in kept.joints
    assert kept.panels == free.panels
    assert "panel.joint-service" not in {one.code for one in draft.findings}


def test_a_service_makes_way_where_no_split_does() -> None:
    """One line of the layout is left for the joint of two panels, and a vent stands on it."""
    barred = "no_joints: [{edge: w0, start: 0, end: 4800}, {edge: w0, start: 4900, end: 10000}]"
    draft = Draft.of(vented(4876.8 + 50.0, barred, line_height=4000.0))
    (told,) = (one for one in draft.findings if one.code == "panel.joint-service" and "R-w0" in one.words)
    assert told.parts == ("V",)
    (partition,) = (one for one in draft.partitions if one.wall == "R-w0")
    assert partition.legal > 0


def test_a_moved_vent_splits_its_plane_anew() -> None:
    before = Draft.of(vented(400.0))
    (free,) = (one for one in before.partitions if one.wall == "R-w0")
    moved = vented(free.joints[0] + 50.0)
    after = before.with_services(moved)
    assert list(after.partitions) == list(Draft.of(moved).partitions)
    assert after.partitions != before.partitions
    same = before.with_services(vented(420.0))
    assert same.partitions == before.partitions


PURLINS = ", ".join(f"{{id: P{n}, edge: w{n}, at: 2500, width: 90}}" for n in range(4))


@pytest.fixture(scope="module")
def tall() -> House:
    """A hip roof whose planes are too long up the slope for the line, over purlins."""
    ring = [(0.0, 0.0), (9000.0, 0.0), (9000.0, 11000.0), (0.0, 11000.0)]
    return house.design(spec(f"rise: 8 in, purlins: [{PURLINS}]", ring, line_length=4500.0, line_height=3600.0))


def test_a_plane_too_long_for_the_line_is_parted_over_its_purlins(tall: House) -> None:
    partitions = [one for one in tall.partitions if one.kind == "roof"]
    assert all(one.gap == 0 and one.across for one in partitions)
    assert {up for one in partitions for _, _, up in one.across} == {2500.0}
    for panel in roofs_of(tall):
        assert min(panel.length, panel.height) <= 3600.0 + 1e-6
        assert max(panel.length, panel.height) <= 4500.0 + 1e-6


def test_panels_over_one_another_fit_and_are_airtight(tall: House) -> None:
    assert faults(tall.panels) == []
    solids = [panel_solid(panel) for panel in roofs_of(tall)]
    assert max(overlap(a, b) for a, b in combinations(solids, 2)) < 5.0
    assert len(closing(tall, Barrier.AIR, CATALOG).open.edge) == 0


def test_panels_over_one_another_meet_at_joints_of_a_roof(tall: House) -> None:
    """Each that touches another over a side does, with no gap; those that are cornerwise do not."""
    kinds = {frozenset(joint.panels) for joint in tall.joints if joint.kind is JointKind.ROOF_ROOF}
    panels = roofs_of(tall)
    for one, other in combinations(panels, 2):
        if one.wall == other.wall:
            sides = shapely.Polygon(one.profile), shapely.Polygon(other.profile)
            places = [
                shapely.affinity.translate(side, panel.wall_start, panel.frame.origin[2] / panel.frame.y[2])
                for side, panel in zip(sides, (one, other), strict=True)
            ]
            box = places[0].buffer(1.0).intersection(places[1].buffer(1.0)).bounds
            beside = bool(box) and max(box[2] - box[0], box[3] - box[1]) > 400.0
            assert (frozenset((one.label, other.label)) in kinds) is beside
    assert not [finding for finding in check_house(tall, CATALOG) if finding.code == "joint.gap"]


def test_parts_of_panels_over_one_another_have_names_of_their_own(tall: House) -> None:
    names = [part.id for panel in tall.panels for part in (*panel.members, *panel.sheets, *panel.bays)]
    assert len(set(names)) == len(names)


def test_rims_meet_over_the_purlin(tall: House) -> None:
    rims = [(panel, member) for panel in roofs_of(tall) for member in panel.members if member.role is Role.RIM]
    assert len(rims) == 2 * sum(len(one.across) for one in tall.partitions)
    for panel, _ in rims:
        assert {one.beam for one in panel.bearings} == {f"P{panel.wall[-1]}"}


def test_without_purlins_the_finding_says_what_would_help() -> None:
    found, findings = split(spec(f"rise: 6 in, {GABLES}", line_length=3500.0))
    (told,) = (one for one in findings if one.code == "panel.too-long-up" and "R-w0" in one.parts)
    assert "purlins" in told.words
    assert told.value is not None
    assert told.limit == 3500.0
    assert told.value > told.limit
    assert found.legal == 0
    widths = np.diff([found.start, *found.joints, found.start + found.length])
    assert max(widths) <= 3100.0 + 1e-6  # and still no wider than the line is high


@pytest.mark.parametrize(
    ("ring", "roof"),
    [
        (BOX, "rise: 6 in"),
        (
            BOX,
            f"rise: 4 in, overhang: 500, {GABLES}, {HOLE}",
        ),
        (TEE, "rise: 9 in, edges: [{edge: w2, kind: gable}]"),
    ],
)
def test_what_is_known_beforehand_is_that_of_the_designed_panels(ring: Ring, roof: str) -> None:
    """Sizes exactly; masses never too small and no more than 9 % too great; centres to within the crane's margin."""
    asked = spec(roof, ring)
    briefs, _, _ = roof_briefs(asked, slopes_of(asked, CATALOG, RULES)[0], CATALOG, RULES, {})
    planes, _ = planes_of(asked, asked.roofs[0], CATALOG, RULES)
    seen = 0
    for plane in planes:
        slope = slope_of(asked, plane, CATALOG, RULES)
        for part in parts_of(plane):
            known = pieces_of(slope, part, asked.shop, shop_limits(asked.shop))
            for panel in (design_roof_panel(brief) for brief in briefs if brief.plane.id == plane.id):
                ends = (panel.wall_start, panel.wall_start + panel.length)
                at = [n for x in ends for n, stop in enumerate(known.stops.at) if abs(stop - x) < 1e-3]
                if len(at) != 2 or panel.length < 1200.0:
                    continue
                i, j = at
                assert known.height[0, -1, i, j] == pytest.approx(panel.height, abs=1e-6)
                assert 0.91 < panel_mass(panel) / known.mass[0, -1, i, j] < 1.0
                centre = panel.frame.point(*center_of_gravity(panel))[:2]
                assert np.hypot(*(known.centre()[0, -1, i, j] - np.array(centre))) < 150.0
                seen += 1
    assert seen > 4
