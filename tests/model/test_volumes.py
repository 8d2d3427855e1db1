"""Volumes and masses of parts against closed forms and against a solid modeller."""

from __future__ import annotations

import math
from dataclasses import replace

import manifold3d
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from panelgen.errors import GeometryError
from panelgen.geometry.frames import WORLD
from panelgen.model import Bore, Box, EndCut, Member, Notch, RoundHole, RunPart
from panelgen.model.volumes import (
    box_volume,
    member_mass,
    member_volume,
    part_volumes,
    run_volume,
    sheet_mass,
    sheet_volume,
)
from tests.factories import OUTER, SHEET, THICK, WHY, WIDE, board, rectangle, stick, wall_panel
from tests.strategies import sticks

BLANK = 2438.4 * WIDE * THICK
LEVEL = (0.0, 1.0, 0.0)
MM_PER_FOOT, KG_PER_POUND, M3_PER_CUBIC_FOOT = 304.8, 0.45359237, 0.3048**3


def removed(**changes: object) -> float:
    """What bores and notches take from a stud, mm3."""
    plain = {name: change for name, change in changes.items() if name in {"start", "end", "thickness"}}
    return member_volume(stick(**plain)) - member_volume(stick(**changes))


def segment(radius: float, height: float) -> float:
    """Area of a circular segment."""
    return radius**2 * math.acos(1 - height / radius) - (radius - height) * math.sqrt(height * (2 * radius - height))


def test_a_whole_stick_is_the_product_of_its_sizes() -> None:
    assert member_volume(stick()) == BLANK


@pytest.mark.parametrize("end", [EndCut(0.5, 0.0), EndCut(0.0, -0.8), EndCut(0.3, 0.4), EndCut(-1.1, 0.2)])
def test_a_cut_end_takes_half_of_what_it_spans(end: EndCut) -> None:
    """A plane cuts a box in half between its long and its short point: Cavalieri."""
    waste = (abs(end.across_width) * WIDE + abs(end.across_thickness) * THICK) / 2 * WIDE * THICK
    assert member_volume(stick(end=end)) == pytest.approx(BLANK - waste, rel=1e-14)
    assert member_volume(stick(start=end)) == pytest.approx(BLANK - waste, rel=1e-14)


def test_a_pointed_stick_is_a_triangle_of_wood() -> None:
    pointed = stick(length=60.0, start=EndCut(0.5, 0.0), end=EndCut(-0.5, 0.0))
    assert member_volume(pointed) == pytest.approx(60.0 * 60.0 / 2 * THICK, rel=1e-9)


@pytest.mark.parametrize("cut", [EndCut(0.0, 2.0), EndCut(2.0, 0.0), EndCut(1.0, 1.5)])
def test_nothing_is_left_between_parallel_ends_too_close(cut: EndCut) -> None:
    with pytest.raises(GeometryError, match="nothing is left"):
        member_volume(stick(length=40.0, start=cut, end=cut))


def test_clean_bores_are_cylinders() -> None:
    bores = (Bore((300.0, 70.0, 0.0), 50.0), Bore((900.0, 60.0, 20.0), 32.0))
    assert removed(bores=bores) == pytest.approx(math.pi * (25.0**2 + 16.0**2) * THICK, rel=1e-9)


def test_where_along_its_axis_a_bore_is_given_does_not_matter() -> None:
    axis = (0.1, 0.0, math.sqrt(1 - 0.01))
    near = Bore((300.0, 70.0, 0.0), 50.0, axis)
    far = Bore(tuple(p + 500.0 * a for p, a in zip(near.point, axis, strict=True)), 50.0, axis)
    turned = Bore(near.point, 50.0, tuple(-a for a in axis))
    assert member_volume(stick(bores=(near,))) == member_volume(stick(bores=(far,)))
    assert member_volume(stick(bores=(near,))) == member_volume(stick(bores=(near, turned)))


@pytest.mark.parametrize("degrees", [1.2, 10.0, 35.0])
def test_a_leaning_bore_is_longer_by_its_secant(degrees: float) -> None:
    lean = math.radians(degrees)
    bore = Bore((600.0, 70.0, THICK / 2), 40.0, (math.sin(lean), 0.0, math.cos(lean)))
    assert removed(bores=(bore,)) == pytest.approx(math.pi * 20.0**2 * THICK / math.cos(lean), rel=1e-9)


def test_a_bore_through_the_narrow_face_spans_the_width() -> None:
    assert removed(bores=(Bore((600.0, 0.0, 19.0), 20.0, LEVEL),)) == pytest.approx(math.pi * 10.0**2 * WIDE, rel=1e-7)


@pytest.mark.parametrize("y", [-10.0, 0.0, 10.0, 24.0])
def test_a_bore_over_an_edge_takes_a_segment(y: float) -> None:
    area = segment(25.0, 25.0 + y)
    assert removed(bores=(Bore((600.0, y, 0.0), 50.0),)) == pytest.approx(area * THICK, rel=1e-6)


def test_two_bores_share_their_lens_once() -> None:
    bores = (Bore((600.0, 70.0, 0.0), 50.0), Bore((630.0, 70.0, 0.0), 50.0))
    area = 2 * math.pi * 25.0**2 - 2 * segment(25.0, 10.0)
    assert removed(bores=bores) == pytest.approx(area * THICK, rel=1e-6)


def test_equal_bores_crossing_square_share_two_thirds_of_a_cube() -> None:
    """Archimedes, The Method: two cylinders of diameter d share 2 d³ / 3."""
    bores = (Bore((600.0, 70.0, 45.0), 40.0), Bore((600.0, 70.0, 45.0), 40.0, LEVEL))
    apart = math.pi * 20.0**2 * (WIDE + 90.0)
    assert removed(bores=bores, thickness=90.0) == pytest.approx(apart - 2 / 3 * 40.0**3, abs=1e-7 * BLANK)


def test_a_bore_at_a_bevel_spares_the_hoof_that_the_bevel_took() -> None:
    """Archimedes, The Method: a plane through a diameter of the base cuts a hoof of 2 r² h / 3."""
    slope, radius = 1.0, 25.0
    bore = Bore((2438.4 - slope * THICK, 70.0, 0.0), 2 * radius)
    hoof = 2 / 3 * radius**2 * (radius / slope)
    whole = math.pi * radius**2 * THICK
    assert removed(bores=(bore,), end=EndCut(0.0, slope)) == pytest.approx(whole - hoof, rel=1e-6)


def test_notches_are_boxes_and_overlap_once() -> None:
    pair = (Notch(500.0, 540.0, 30.0), Notch(520.0, 600.0, 20.0), Notch(900.0, 940.0, 25.0, from_far_edge=True))
    area = 40.0 * 30.0 + 60.0 * 20.0 + 40.0 * 25.0
    assert removed(notches=pair) == pytest.approx(area * THICK, rel=1e-9)


def test_a_notch_past_the_end_takes_only_wood() -> None:
    assert removed(notches=(Notch(-100.0, 50.0, 30.0),)) == pytest.approx(50.0 * 30.0 * THICK, rel=1e-9)


def test_a_bore_half_in_a_notch_takes_the_other_half() -> None:
    notch = Notch(500.0, 600.0, 40.0)
    both = removed(notches=(notch,), bores=(Bore((550.0, 40.0, 0.0), 30.0),))
    assert both == pytest.approx((100.0 * 40.0 + math.pi * 15.0**2 / 2) * THICK, rel=1e-6)


def test_a_stick_weighs_what_supply_tables_say() -> None:
    """Web tables of dressed lumber give a 2x6 2.00 lb/ft at 35 lb/ft3 (second-hand; 2.005 by its sizes)."""
    foot = stick(length=MM_PER_FOOT, density=35 * KG_PER_POUND / M3_PER_CUBIC_FOOT)
    assert member_mass(foot) / KG_PER_POUND == pytest.approx(2.00, abs=0.01)


def test_a_sheet_loses_cut_outs_and_round_holes() -> None:
    window = rectangle(300.0, 900.0, 500.0, 1500.0)
    sheet = board(cutouts=(window,), round_holes=(RoundHole(200.0, 200.0, 110.0, "sleeve"),))
    area = SHEET[0] * SHEET[1] - 600.0 * 1000.0 - math.pi * 55.0**2
    assert sheet_volume(sheet) == pytest.approx(area * OUTER, rel=1e-9)
    assert sheet_mass(sheet) == pytest.approx(area * OUTER * 640.0 * 1e-9, rel=1e-9)


def test_a_round_hole_over_a_cut_out_takes_the_rest_of_its_disc() -> None:
    window = rectangle(300.0, 900.0, 500.0, 1500.0)
    holes = (RoundHole(300.0, 1000.0, 110.0, "a"), RoundHole(0.0, 200.0, 80.0, "b"), RoundHole(-99.0, 200.0, 80.0, "c"))
    taken = SHEET[0] * SHEET[1] - sheet_volume(board(cutouts=(window,), round_holes=holes)) / OUTER
    assert taken == pytest.approx(600.0 * 1000.0 + math.pi * 55.0**2 / 2 + math.pi * 40.0**2 / 2, rel=1e-7)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"outline": ((0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 9.0))}, "crosses itself"),
        ({"cutouts": (rectangle(-1.0, 2000.0, -1.0, 3000.0),)}, "nothing is left"),
    ],
)
def test_an_impossible_sheet_is_named(changes: dict[str, object], words: str) -> None:
    with pytest.raises(GeometryError, match=f"sheet S7.*{words}"):
        sheet_volume(board(id="S7", **changes))


def test_a_run_is_its_section_along_its_path() -> None:
    run = RunPart("r", "r", "drain", "pipe", 40.0, ((0.0, 0.0, 0.0), (300.0, 0.0, 0.0), (300.0, 400.0, 0.0)), WHY)
    assert run_volume(run) == pytest.approx(math.pi * 20.0**2 * 700.0)


def test_a_box_is_the_product_of_its_sizes() -> None:
    assert box_volume(Box("b", "1-gang", (55.0, 95.0, 45.0), WORLD, WHY)) == 55.0 * 95.0 * 45.0


def test_every_solid_part_of_a_panel_is_listed_once() -> None:
    panel = wall_panel()
    parts = [*panel.members, *panel.sheets, *panel.runs, *panel.fittings, *panel.boxes]
    assert [part for part, _ in part_volumes(panel)] == [part.id for part in parts]


def modelled(member: Member, sides: int = 720) -> float:
    """Volume by a modeller of flat-sided solids, bores drawn as prisms of their true area."""
    size = math.sqrt(2 * math.pi / (sides * math.sin(2 * math.pi / sides)))
    body = manifold3d.Manifold.hull_points(np.ascontiguousarray(member.local_corners()))
    for notch in member.notches:
        low = member.width - notch.depth if notch.from_far_edge else -1.0
        block = manifold3d.Manifold.cube((notch.x1 - notch.x0, notch.depth + 1.0, member.thickness + 2.0))
        body -= block.translate((notch.x0, low, -1.0))
    for bore in member.bores:
        axis = np.array(bore.axis)
        side = np.cross(axis, np.eye(3)[np.argmin(np.abs(axis))])
        side /= np.linalg.norm(side)
        prism = manifold3d.Manifold.cylinder(4000.0, size * bore.diameter / 2, size * bore.diameter / 2, sides)
        place = np.column_stack((side, np.cross(axis, side), axis, bore.point))
        body -= prism.translate((0.0, 0.0, -2000.0)).transform(place)
    return float(body.volume())


@given(sticks())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_random_sticks_agree_with_a_solid_modeller(member: Member) -> None:
    """Ends, notches and bores of every kind at once: within a ten-millionth of the stick."""
    straight = replace(member, start=EndCut(member.start.across_width * 0.5, member.start.across_thickness))
    assert member_volume(straight) == pytest.approx(
        modelled(straight), abs=1e-7 * straight.length * straight.width * straight.thickness
    )
