"""Bays: volumes that add up exactly, slabs behind headers, slivers, and what runs and boxes take away."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.design.bays.insulation import bays
from panelgen.design.brief import PanelBrief
from panelgen.design.framing.backing import backing
from panelgen.design.framing.sticks import on_edge, stock_of, upright
from panelgen.design.sheathing.faces import face_ring
from panelgen.design.unfinished import Unfinished
from panelgen.geometry.frames import Frame
from panelgen.model import Bay, Box, Finding, Member, Role, RunPart, Why
from panelgen.spec.services import BackingSpec
from tests.design.builders import FOOT, assembly, blocked, brief, frame, window
from tests.design.solids import volume
from tests.design.strategies import Sketch, sketches

WHY = Why("test", "", "")
STUD = 38.1
DEPTH = 139.7


def polygon(bay: Bay) -> shapely.Polygon:
    """A bay's region."""
    return shapely.Polygon(bay.outline, bay.holes)


def run(*path: tuple[float, float, float], diameter: float = 20.0) -> RunPart:
    """A pipe along a path in panel coordinates."""
    return RunPart("R1.1", "R1", "cold water", "pipe", diameter, path, WHY)


def bays_of(
    panel: PanelBrief, members: tuple[Member, ...], runs: tuple[RunPart, ...] = (), boxes: tuple[Box, ...] = ()
) -> tuple[tuple[Bay, ...], tuple[Finding, ...]]:
    (found,) = bays([Unfinished(panel, members, runs, boxes)])
    return found


def stick_in(panel: PanelBrief, x0: float, x1: float, y: float, z: float) -> Member:
    """A board on edge between two studs, taking part of the depth."""
    stock = stock_of(panel.catalog, "2x4", "SPF", "No.2")
    return on_edge("board", Role.BACKING, stock, x0, x1, y, z, WHY)


def test_a_plain_wall_has_one_bay_between_every_two_studs() -> None:
    found, findings = bays_of(brief(8 * FOOT), frame(brief(8 * FOOT)))
    assert findings == ()
    assert [bay.id for bay in found] == ["A/bay@38-38", "A/bay@629-38", "A/bay@1238-38", "A/bay@1848-38"]
    width, height = 24 * 25.4 - STUD, 8 * FOOT - 3 * STUD
    assert len(found[1].outline) == 4
    assert polygon(found[1]).bounds == pytest.approx((628.65, 38.1, 628.65 + width, 38.1 + height))
    assert found[1].gross_volume == pytest.approx(width * height * DEPTH * 1e-9, rel=1e-12)


def test_cellulose_at_its_target_density() -> None:
    # US DOE fact sheet on loose-fill insulation: dense-pack cellulose about 3.5 lb/ft3 (secondary source).
    (bay, *_), _ = bays_of(brief(8 * FOOT), frame(brief(8 * FOOT)))
    assert bay.product == "dense-pack-cellulose"
    assert bay.mass == pytest.approx(bay.net_volume / 0.3048**3 * 3.5 * 0.45359237, rel=1e-9)


def test_an_empty_cavity_has_no_bays() -> None:
    panel = brief(8 * FOOT, walls=assembly(insulation=None))
    assert bays_of(panel, frame(panel)) == ((), ())


def test_behind_a_header_the_bay_is_as_shallow_as_what_is_left() -> None:
    hole = window(5 * FOOT, 8 * FOOT, 900.0, 1800.0)
    panel = brief(12 * FOOT, 8 * FOOT, hole)
    members = frame(panel)
    headers = [member for member in members if member.role is Role.HEADER]
    inner = min(member.frame.origin[2] for member in headers)
    found, _ = bays_of(panel, members)
    behind = [
        bay for bay in found if polygon(bay).contains(shapely.Point(6.4 * FOOT, headers[0].frame.origin[1] + 30.0))
    ]
    assert [(bay.z0, round(bay.z1, 6)) for bay in behind] == [(0.0, round(inner, 6))]
    assert behind[0].id.endswith("-0")


def test_a_board_across_a_bay_leaves_it_whole_behind() -> None:
    panel = brief(8 * FOOT)
    members = (*frame(panel), stick_in(panel, 628.65, 1200.15, 1000.0, 0.0))
    found, _ = bays_of(panel, members)
    place = [bay for bay in found if bay.outline[0][0] == pytest.approx(628.65)]
    assert sorted((bay.z0, bay.z1, len(bay.outline)) for bay in place) == [
        (0.0, STUD, 4),
        (0.0, STUD, 4),
        (STUD, DEPTH, 4),
    ]
    whole = next(bay for bay in place if bay.z0 > 0)
    assert sum(bay.gross_volume for bay in place if bay.z0 == 0.0) == pytest.approx(
        (polygon(whole).area - (1200.15 - 628.65) * 88.9) * STUD * 1e-9, rel=1e-12
    )


def test_a_stick_standing_free_in_a_bay_makes_a_hole_or_a_notch_in_it() -> None:
    panel = brief(8 * FOOT)
    stock = stock_of(panel.catalog, "2x6", "SPF", "No.2")
    post = upright("post", Role.BACKING, stock, 800.0, 1000.0, 1500.0, 0.0, WHY)
    found, _ = bays_of(panel, (*frame(panel), post))
    around = next(bay for bay in found if bay.id == "A/bay@629-38")
    assert len(around.holes) == 1
    assert polygon(around).area == pytest.approx(571.5 * (8 * FOOT - 3 * STUD) - STUD * 500.0, rel=1e-12)
    assert around.gross_volume == pytest.approx(polygon(around).area * DEPTH * 1e-9, rel=1e-12)
    hung = upright("post", Role.BACKING, stock, 800.0, 8 * FOOT - 2 * STUD - 500.0, 8 * FOOT - 2 * STUD, 0.0, WHY)
    found, _ = bays_of(panel, (*frame(panel), hung))
    around = next(bay for bay in found if bay.id == "A/bay@629-38")
    assert (len(around.outline), around.holes) == (8, ())


def test_a_raked_bay_follows_the_plates() -> None:
    panel = brief(8 * FOOT, [(0.0, 8 * FOOT), (8 * FOOT, 12 * FOOT)])
    found, _ = bays_of(panel, frame(panel))
    assert len(found) == 4
    drop = 2 * STUD * math.hypot(1.0, 0.5)
    for bay in found:
        assert len(bay.outline) == 4
        for x, y in bay.outline[2:]:
            assert y == pytest.approx(panel.top_at(x) - drop)


def test_a_short_stud_does_not_join_two_bays() -> None:
    panel = brief(8 * FOOT)
    members = tuple(
        replace(member, length=member.length - 2.0) if member.id == "A/stud-2" else member for member in frame(panel)
    )
    found, (sliver,) = bays_of(panel, members)
    assert len(found) == 4
    assert sliver.code == "bay.sliver"
    assert sliver.value == pytest.approx(2.0 * STUD * DEPTH * 1e-9, rel=1e-9)


def test_the_gap_where_the_next_cap_plate_laps_in_is_no_bay() -> None:
    panel = brief(12 * FOOT, joined=(True, True))
    found, findings = bays_of(panel, frame(panel))
    assert findings == ()
    assert len(found) == 6
    assert all(y <= 8 * FOOT - 2 * STUD + 1e-6 for bay in found for _, y in bay.outline)


def test_a_run_takes_its_cylinders_from_every_bay_it_passes() -> None:
    panel = brief(8 * FOOT)
    members = frame(panel)
    across = run((-50.0, 500.0, 70.0), (8 * FOOT + 50.0, 500.0, 70.0))
    found, _ = bays_of(panel, members, (across,))
    for bay in found:
        x0, _, x1, _ = polygon(bay).bounds
        assert bay.gross_volume - bay.net_volume == pytest.approx(math.pi * 100.0 * (x1 - x0) * 1e-9, rel=1e-9)


def test_a_bent_run_is_counted_where_it_is_inside_only() -> None:
    panel = brief(8 * FOOT)
    bent = run((900.0, -100.0, 70.0), (900.0, 1000.0, 70.0), (900.0, 1000.0, -40.0), (900.0, 1500.0, -40.0))
    found, _ = bays_of(panel, frame(panel), (bent,))
    lengths = [(bay.gross_volume - bay.net_volume) * 1e9 / (math.pi * 100.0) for bay in found]
    assert lengths == pytest.approx([0.0, 1000.0 - STUD + 70.0, 0.0, 0.0], abs=1e-6)


def test_a_slanting_run_is_cut_at_the_studs() -> None:
    panel = brief(8 * FOOT)
    a, b = (700.0, 300.0, 20.0), (1500.0, 900.0, 120.0)
    found, _ = bays_of(panel, frame(panel), (run(a, b),))
    taken = sum(bay.gross_volume - bay.net_volume for bay in found) * 1e9 / (math.pi * 100.0)
    assert taken == pytest.approx(math.dist(a, b) * (1 - STUD / 800.0), rel=1e-9)


def test_a_box_takes_its_volume() -> None:
    panel = brief(8 * FOOT)
    # Back in the framing, front through the inner sheathing: 50 x 75 x 40 mm of it lies in the bay.
    box = Box("B1", "device", (50.0, 75.0, 64.0), Frame((800.0, 1075.0, 40.0), (1.0, 0.0, 0.0), (0.0, -1.0, 0.0)), WHY)
    found, _ = bays_of(panel, frame(panel), boxes=(box,))
    taken = {bay.id: round((bay.gross_volume - bay.net_volume) * 1e9, 3) for bay in found}
    assert taken == {"A/bay@38-38": 0.0, "A/bay@629-38": 50.0 * 75.0 * 40.0, "A/bay@1238-38": 0.0, "A/bay@1848-38": 0.0}


@given(sketches(), st.floats(500.0, 1800.0), st.sampled_from(["2x4", "2x8"]))
@settings(max_examples=100, deadline=None)
def test_bays_members_and_openings_fill_the_framing_exactly(sketch: Sketch, height: float, stock: str) -> None:
    panel = replace(sketch, joined=(False, False)).brief()
    request = BackingSpec.model_validate(
        {"id": "B", "wall": "A", "start": 0, "end": 99999, "height": height, "kind": "blocking", "stock": stock}
        | {"reason": "rail"}
    )
    panel = replace(panel, backing=(request,))
    members = blocked(panel)
    members = (*members, *backing(panel, members)[0])
    found, findings = bays_of(panel, members)
    slivers = sum(finding.value or 0.0 for finding in findings)
    area = shapely.Polygon(face_ring(panel, (0.0, panel.length))).area
    holes = sum((hole.x1 - hole.x0) * (hole.y1 - hole.y0) for hole in panel.openings) * DEPTH * 1e-9
    filled = sum(bay.gross_volume for bay in found) + sum(volume(member) for member in members) + holes + slivers
    assert filled == pytest.approx(area * DEPTH * 1e-9, rel=1e-9)
    assert len({bay.id for bay in found}) == len(found)
    for bay in found:
        region = polygon(bay)
        assert region.is_valid
        assert shapely.LinearRing(bay.outline).is_ccw
        assert bay.gross_volume == pytest.approx(region.area * (bay.z1 - bay.z0) * 1e-9, rel=1e-9)


@given(sketches())
@settings(max_examples=40, deadline=None)
def test_no_bay_overlaps_a_member_or_another_bay(sketch: Sketch) -> None:
    panel = sketch.brief()
    members = blocked(panel)
    found, _ = bays_of(panel, members)
    prisms = [(polygon(bay), bay.z0, bay.z1) for bay in found]
    sticks = [
        (shapely.MultiPoint(m.corners()[:, :2]).convex_hull, m.corners()[:, 2].min(), m.corners()[:, 2].max())
        for m in members
    ]
    for n, (region, z0, z1) in enumerate(prisms):
        for other, low, high in [*prisms[n + 1 :], *sticks]:
            if min(z1, high) - max(z0, low) > 1e-6:
                assert region.intersection(other).area < 1e-3
