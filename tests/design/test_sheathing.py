"""Sheathing: stock sheets, joints on studs, gaps, cut-outs, rows, rakes and sleeves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from hypothesis import given, settings

from panelgen.catalog import Catalog
from panelgen.design.brief import PanelBrief
from panelgen.design.extents import extent_of
from panelgen.design.framing.blocking import blocking
from panelgen.design.sheathing.faces import face_ring
from panelgen.design.sheathing.sheets import joint_heights, sheets
from panelgen.model import Member, Role, Sheet, Sleeve, Why
from panelgen.spec.house import Shop
from tests.design.builders import FOOT, INCH, assembly, blocked, brief, door, frame, tee, window
from tests.design.solids import assert_apart
from tests.design.strategies import Sketch, sketches

GAP = INCH / 8
OSB = "osb-7/16"
SIZES = [(1219.2, 2438.4), (1219.2, 2743.2), (1219.2, 3048.0)]  # 4 ft by 8, 9 and 10 ft
EDGE = 3 / 8 * INCH  # least nail distance from a sheet's edge: IRC Table R602.3(1), older editions


def shape(sheet: Sheet) -> shapely.Polygon:
    """A sheet's piece in panel coordinates, its round holes filled."""
    x, y, _ = sheet.frame.origin
    return shapely.affinity.translate(shapely.Polygon(sheet.outline, sheet.cutouts), x, y)


def layer(cut: Sequence[Sheet], side: str) -> list[Sheet]:
    """The sheets of one face."""
    return [sheet for sheet in cut if sheet.layer == f"{side} sheathing"]


def lefts(cut: Sequence[Sheet], side: str) -> list[float]:
    """Panel x of the left edges of one face's sheets."""
    return [sheet.frame.origin[0] for sheet in layer(cut, side)]


def face(panel: PanelBrief, side: str) -> shapely.Polygon:
    """What one face's sheets are to cover: its outline less the rough openings."""
    span = panel.outer_span if side == "outer" else panel.inner_span
    openings = [shapely.box(o.x0, o.y0, o.x1, o.y1) for o in panel.openings]
    return shapely.Polygon(face_ring(panel, span)) - shapely.union_all(openings)


def cut_of(panel: PanelBrief, *sleeves: Sleeve) -> tuple[Sheet, ...]:
    """The sheets of a panel framed as the shop frames it."""
    return sheets(panel, blocked(panel), sleeves)[0]


def test_a_plain_wall_takes_whole_sheets_with_a_gap_centred_on_studs() -> None:
    cut = cut_of(brief(16 * FOOT))
    assert lefts(cut, "outer") == pytest.approx([0.0, *(n * 4 * FOOT + GAP / 2 for n in (1, 2, 3))])
    assert [sheet.stock_size for sheet in layer(cut, "outer")] == [(4 * FOOT, 8 * FOOT)] * 4
    widths = [max(x for x, _ in sheet.outline) for sheet in layer(cut, "outer")]
    assert widths == pytest.approx([4 * FOOT - GAP / 2, 4 * FOOT - GAP, 4 * FOOT - GAP, 4 * FOOT - GAP / 2])


def test_joints_of_the_inner_face_are_on_other_studs() -> None:
    cut = cut_of(brief(16 * FOOT))
    apart = [abs(a - b) for a in lefts(cut, "outer")[1:] for b in lefts(cut, "inner")[1:]]
    assert min(apart) >= 2 * FOOT - 1e-6
    assert len(layer(cut, "inner")) == 5


def test_sheets_lie_on_their_layers_and_carry_the_product() -> None:
    panel = brief(8 * FOOT)
    for sheet in cut_of(panel):
        place = next(one for one in panel.layers if one.name == sheet.layer)
        product = panel.catalog.sheet(OSB)
        assert sheet.frame.origin[2] == place.z0
        assert sheet.frame.z == (0.0, 0.0, 1.0)
        assert (sheet.product, sheet.thickness, sheet.density) == (OSB, product.thickness, product.density)
        assert product.thickness == pytest.approx(place.thickness)


def test_the_stock_is_the_shortest_that_covers_the_wall() -> None:
    for height, size in ((96.0, 0), (97.0, 1), (108.0, 1), (115.0, 2)):
        cut = cut_of(brief(8 * FOOT, height * INCH))
        assert {sheet.stock_size for sheet in cut} == {SIZES[size]}


def test_an_end_strip_is_widened_at_the_cost_of_its_neighbour() -> None:
    panel = brief(8 * FOOT + 100.0)
    widths = [max(x for x, _ in sheet.outline) for sheet in layer(cut_of(panel), "outer")]
    assert widths == pytest.approx([4 * FOOT - GAP / 2, 2 * FOOT - GAP, 2 * FOOT + 100.0 - GAP / 2])


def test_a_window_within_one_sheet_is_a_cutout() -> None:
    hole = window(5 * FOOT, 7 * FOOT, 900.0, 2000.0)
    with_cutouts = [sheet for sheet in layer(cut_of(brief(12 * FOOT, 8 * FOOT, hole)), "outer") if sheet.cutouts]
    (sheet,) = with_cutouts
    (ring,) = sheet.cutouts
    x, y, _ = sheet.frame.origin
    assert shapely.Polygon([(x + a, y + b) for a, b in ring]).equals(shapely.box(hole.x0, hole.y0, hole.x1, hole.y1))


def test_a_door_notches_the_outline_down_to_the_floor() -> None:
    hole = door(5 * FOOT, 8 * FOOT, 2083.0)
    cut = cut_of(brief(12 * FOOT, 8 * FOOT, hole))
    assert all(not sheet.cutouts for sheet in cut)
    notched = [sheet for sheet in layer(cut, "outer") if len(sheet.outline) > 4]
    assert {round(y, 6) for sheet in notched for _, y in sheet.outline} == {0.0, 2083.0, round(8 * FOOT, 6)}


def test_an_opening_wider_than_a_sheet_leaves_pieces_above_and_below() -> None:
    hole = window(4 * FOOT, 12 * FOOT, 900.0, 2000.0)
    panel = brief(16 * FOOT, 8 * FOOT, hole)
    cut = cut_of(panel)
    split = [sheet for sheet in layer(cut, "outer") if sheet.id.endswith("a")]
    assert split
    for above in split:
        assert above.frame.origin[1] == pytest.approx(2000.0)
        assert above.id.removesuffix("a") in {sheet.id for sheet in cut}
    assert len({sheet.id for sheet in cut}) == len(cut)


def test_a_wall_taller_than_any_sheet_has_staggered_rows_on_blocking() -> None:
    panel = brief(16 * FOOT, 12 * FOOT)
    (height,) = joint_heights(panel, "outer")
    assert height == pytest.approx(8 * FOOT)  # 8 ft and 4 ft waste less than 10 ft and 2 ft
    framing = frame(panel)
    blocks, findings = blocking(panel, framing, [height])
    assert findings == ()
    cut, _ = sheets(panel, (*framing, *blocks), ())
    rows = {
        number: [sheet.frame.origin[0] for sheet in layer(cut, "outer") if f"sheet-{number}@" in sheet.id]
        for number in (1, 2)
    }
    assert min(abs(a - b) for a in rows[1][1:] for b in rows[2][1:]) >= 2 * FOOT - 1e-6
    edges = {round(sheet.frame.origin[1], 4) for sheet in layer(cut, "outer")}
    assert edges == {0.0, round(height + GAP / 2, 4)}
    for block in blocks:
        box = extent_of(block)
        assert (box.y0 + box.y1) / 2 == pytest.approx(height)
        assert (box.z0, box.z1) == pytest.approx((0.0, panel.framing_depth))


def test_the_top_row_is_never_a_narrow_strip() -> None:
    short = Catalog.default().with_products({}, {OSB: (7 / 16 * INCH, 600.0, ((4 * FOOT, 8 * FOOT),))})
    panel = brief(8 * FOOT, 8 * FOOT + 50.0, catalog=short)
    assert joint_heights(panel, "inner") == pytest.approx((8 * FOOT + 50.0 - 200.0,))


def test_blocking_fits_between_studs_and_leaves_openings_free() -> None:
    panel = brief(16 * FOOT, 12 * FOOT, door(5 * FOOT, 8 * FOOT, 8.5 * FOOT))
    framing = frame(panel)
    blocks, findings = blocking(panel, framing, [8 * FOOT])
    assert blocks
    assert findings == ()
    boxes = [extent_of(block) for block in blocks]
    uprights = [extent_of(member) for member in framing if member.role in (Role.STUD, Role.KING, Role.JACK)]
    for box in boxes:
        assert box.x1 <= 5 * FOOT or box.x0 >= 8 * FOOT
        assert any(abs(stud.x1 - box.x0) < 1e-6 for stud in uprights)
        assert any(abs(stud.x0 - box.x1) < 1e-6 for stud in uprights)
    assert_apart((*framing, *blocks))


def test_blocking_too_short_for_the_shop_is_reported() -> None:
    panel = brief(8 * FOOT + 120.0, 12 * FOOT, shop=Shop(shortest_member=100.0))
    blocks, findings = blocking(panel, frame(panel), [8 * FOOT])
    assert len(blocks) == 4
    assert [finding.code for finding in findings] == ["blocking.left-out"]
    assert findings[0].value == pytest.approx(120.0 - 1.5 * 38.1)


def test_blocking_under_a_rake_stops_at_the_last_stud_it_can_reach() -> None:
    panel = brief(12 * FOOT, [(0.0, 8 * FOOT), (12 * FOOT, 14 * FOOT)])
    framing = frame(panel)
    blocks, findings = blocking(panel, framing, [10 * FOOT])
    assert blocks
    assert all(panel.top_at(extent_of(block).x0) > 10 * FOOT for block in blocks)
    assert [finding.code for finding in findings] == ["blocking.left-out"]
    assert_apart((*framing, *blocks))


def test_a_raked_top_is_followed_and_sheets_take_the_stock_they_need() -> None:
    panel = brief(16 * FOOT, [(0.0, 7 * FOOT), (8 * FOOT, 9.5 * FOOT), (16 * FOOT, 7 * FOOT)])
    cut = layer(cut_of(panel), "outer")
    tops = [shape(sheet).bounds[3] for sheet in cut]
    assert max(tops) == pytest.approx(9.5 * FOOT)
    for sheet, top in zip(cut, tops, strict=True):
        assert sheet.stock_size[1] == min(length for _, length in SIZES if length >= top)
    for sheet in cut:
        x, y, _ = sheet.frame.origin
        for a, b in sheet.outline:
            assert y + b <= panel.top_at(x + a) + 1e-6


def test_sheets_lap_beyond_the_framing_and_leave_half_a_gap_at_the_next_panel() -> None:
    panel = brief(8 * FOOT, outer_span=(-150.0, 8 * FOOT), inner_span=(0.0, 8 * FOOT - 20.0), joined=(False, True))
    cut = cut_of(panel)
    assert shapely.union_all([shape(sheet) for sheet in layer(cut, "outer")]).bounds == pytest.approx(
        (-150.0, 0.0, 8 * FOOT - GAP / 2, 8 * FOOT)
    )
    assert shapely.union_all([shape(sheet) for sheet in layer(cut, "inner")]).bounds[2] == pytest.approx(
        8 * FOOT - 20.0 - GAP / 2
    )


def test_ids_stay_when_an_opening_elsewhere_moves() -> None:
    here, there = (
        cut_of(brief(20 * FOOT, 8 * FOOT, window(x, x + 700.0, 900.0, 2000.0), wall_start=3000.0)) for x in (4500, 4530)
    )
    assert {sheet.id for sheet in here if sheet.frame.origin[0] < 3000.0} == {
        sheet.id for sheet in there if sheet.frame.origin[0] < 3000.0
    }
    assert "A/outer-sheet-1@3000" in {sheet.id for sheet in here}


def test_a_sleeve_pierces_the_sheets_of_both_faces() -> None:
    why = Why("test", "", "")
    sleeve = Sleeve("S1", "R1", "sleeve-2-1/2", "gasket", 900.0, 300.0, 80.0, why)
    pierced = [sheet for sheet in cut_of(brief(8 * FOOT), sleeve) if sheet.round_holes]
    assert [sheet.layer for sheet in pierced] == ["outer sheathing", "inner sheathing"]
    for sheet in pierced:
        (hole,) = sheet.round_holes
        assert (hole.diameter, hole.sleeve) == (80.0, "S1")
        assert (sheet.frame.origin[0] + hole.x, sheet.frame.origin[1] + hole.y) == pytest.approx((900.0, 300.0))


def test_a_sleeve_on_a_joint_cannot_be_sealed() -> None:
    panel = brief(8 * FOOT)
    sleeve = Sleeve("S1", "R1", "sleeve-2-1/2", "gasket", 4 * FOOT + 20.0, 300.0, 80.0, Why("test", "", ""))
    cut, findings = sheets(panel, frame(panel), (sleeve,))
    assert [(finding.code, finding.parts) for finding in findings] == [("sheet.sleeve", ("S1",))]
    assert [len(sheet.round_holes) for sheet in layer(cut, "outer")] == [0, 0]


def test_a_joint_without_wood_is_reported() -> None:
    panel = brief(8 * FOOT)
    plates = tuple(member for member in frame(panel) if member.role is not Role.STUD)
    cut, findings = sheets(panel, plates, ())
    assert {finding.code for finding in findings} == {"sheet.joint-unbacked"}
    bare = (38.1, 8 * FOOT - 2 * 38.1)  # between the plates
    assert findings[0].point == pytest.approx((4 * FOOT, sum(bare) / 2, panel.framing_depth))
    assert findings[0].value == pytest.approx(bare[1] - bare[0])
    assert findings[0].limit == pytest.approx(6 * INCH)  # edge nailing: IRC Table R602.3(1), older editions
    assert len(cut) == 4


def test_nothing_is_cut_for_a_bare_frame() -> None:
    bare = assembly().model_copy(update={"layers": (assembly().framing,)})
    panel = brief(8 * FOOT, walls=bare)
    assert sheets(panel, frame(panel), ()) == ((), ())
    assert joint_heights(panel, "outer") == ()


def test_loose_sticks_and_straps_back_no_joint() -> None:
    panel = brief(8 * FOOT)
    framing = tuple(
        replace(member, layer="strapping") if member.role is Role.STUD else member for member in frame(panel)
    )
    assert {finding.code for finding in sheets(panel, framing, ())[1]} == {"sheet.joint-unbacked"}


def test_a_joint_near_a_wall_that_meets_the_inner_face_is_still_on_a_stud() -> None:
    panel = brief(16 * FOOT, tees=(tee(1800.0),))
    assert_joints_are_backed(panel, blocked(panel), cut_of(panel))


@given(sketches())
@settings(max_examples=100, deadline=None)
def test_sheets_cover_the_face_but_for_gaps_and_fit_their_stock(sketch: Sketch) -> None:
    panel = sketch.brief()
    framing = blocked(panel)
    cut, findings = sheets(panel, framing, ())
    assert len({sheet.id for sheet in cut}) == len(cut)
    for side in ("outer", "inner"):
        pieces = [shape(sheet) for sheet in layer(cut, side)]
        assert all(piece.is_valid and piece.exterior.is_ccw for piece in pieces)
        union = shapely.union_all(pieces)
        assert union.area == pytest.approx(sum(piece.area for piece in pieces), rel=1e-9)
        assert (union - face(panel, side).buffer(1e-6)).area < 1e-3
        if not any(finding.code == "sheet.sliver" for finding in findings):
            bare = face(panel, side) - union
            assert bare.buffer(-0.75 * GAP).is_empty  # gaps and their crossings, nothing wider
    for sheet in cut:
        assert sheet.stock_size in SIZES
        assert max(x for x, _ in sheet.outline) <= sheet.stock_size[0] + 1e-6
        assert max(y for _, y in sheet.outline) <= sheet.stock_size[1] + 1e-6
    assert_joints_are_backed(panel, framing, cut)


def assert_joints_are_backed(panel: PanelBrief, framing: Sequence[Member], cut: Sequence[Sheet]) -> None:
    """Each joint of the bottom row is centred on an upright stick that gives both sheets 3/8 in. beyond the gap."""
    uprights = [extent_of(member) for member in framing if member.frame.x == (0.0, 1.0, 0.0)]
    for side in ("outer", "inner"):
        span = panel.outer_span if side == "outer" else panel.inner_span
        for sheet in layer(cut, side):
            x0 = sheet.frame.origin[0]
            if x0 > span[0] + GAP and sheet.frame.origin[1] == 0.0:
                behind = [stud for stud in uprights if abs((stud.x0 + stud.x1) / 2 - (x0 - GAP / 2)) < 1e-6]
                assert any(stud.x0 <= x0 - GAP - EDGE and stud.x1 >= x0 + EDGE for stud in behind)


def test_area_is_the_face_less_the_gaps() -> None:
    plain = layer(cut_of(brief(16 * FOOT)), "outer")
    assert sum(shape(sheet).area for sheet in plain) == pytest.approx((16 * FOOT - 3 * GAP) * 8 * FOOT, rel=1e-12)
    edges = [(shape(sheet).bounds[0], shape(sheet).bounds[2]) for sheet in plain]
    assert [b[0] - a[1] for a, b in pairwise(edges)] == pytest.approx([GAP] * 3)


def test_a_joint_may_fall_where_the_plates_are_spliced_or_the_cap_plate_laps_in_later() -> None:
    panel = brief(8 * FOOT, joined=(False, True))  # the loose cap splice is not there when sheets are nailed
    _, findings = sheets(panel, frame(panel), ())
    assert findings == ()
    long = brief(24 * FOOT)
    spliced = [m for m in frame(long) if m.role is Role.TOP_PLATE]
    assert len(spliced) == 2
    assert sheets(long, frame(long), ())[1] == ()


def test_over_an_opening_wider_than_a_sheet_the_joint_is_on_cripples_and_on_packing_behind_the_header() -> None:
    """Without the packing the inner joint is bare for the whole height of the header. Common practice, no source."""
    hole = window(1100.0, 2650.0, 800.0, 2000.0)
    panel = brief(16 * FOOT, 97.125 * INCH, hole)
    framing = frame(panel)
    cut, findings = sheets(panel, framing, ())
    assert findings == ()
    joints = [x - GAP / 2 for x in lefts(cut, "outer") if hole.x0 < x < hole.x1]
    assert joints == pytest.approx([6 * FOOT])
    header = next(extent_of(member) for member in framing if member.role is Role.HEADER)
    hollow = [member for member in framing if "/packing" not in member.id]
    assert len(hollow) < len(framing)
    (finding,) = sheets(panel, hollow, ())[1]
    assert finding.code == "sheet.joint-unbacked"
    assert finding.point is not None
    assert finding.point[2] < 0
    assert finding.value == pytest.approx(header.y1 - header.y0)
