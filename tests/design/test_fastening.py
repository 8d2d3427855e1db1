"""Nails of whole panels: they land in wood, keep their distances, and leave no sheet or stick loose."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from panelgen.catalog import Catalog
from panelgen.design.extents import is_sloping
from panelgen.design.fastening.panels import Unnailed, fasteners
from panelgen.errors import CatalogError
from panelgen.geometry.frames import Floats
from panelgen.model import Fasteners, Role, Sheet, Sleeve, Why
from panelgen.spec.services import BackingSpec
from tests.design.builders import FOOT, INCH, assembly, blocked, brief, door, tee, window
from tests.design.nailing import SHEETS, Nailed, board, depths, nailed
from tests.design.strategies import Sketch, sketches

RULES = Catalog.default().rule_sets
EDGE = 3 / 8 * INCH  # from edges of sticks: common practice, no source; of sheets: a panel maker's instructions
CORNER = 75.0  # corners of sheets smaller than this on a sloping stick may go without a nail


def tips(batch: Fasteners) -> Floats:
    return batch.points + np.array(batch.direction) * batch.length


def by_part(indices: NDArray[np.int64]) -> Iterator[tuple[int, NDArray[np.bool_]]]:
    for index in np.unique(indices).tolist():
        yield index, indices == index


def assert_points_are_in_wood(made: Nailed) -> None:
    for batch in made.fasteners:
        for into, rows in by_part(batch.into):
            assert depths(made.members[into], tips(batch)[rows]).min() > 1.0, (batch.id, made.members[into].id)


def assert_heads_are_on_what_they_fasten(made: Nailed) -> None:
    """On its face, the shank going in. A neighbour's splice is not in the panel: its nails name the plate below."""
    for batch in made.fasteners:
        for fastened, rows in by_part(batch.fastened):
            heads = batch.points[rows]
            if batch.fastens_sheets:
                sheet = made.sheets[fastened]
                back = sheet.frame.origin[2]
                assert heads[:, 2] == pytest.approx(back + sheet.thickness if batch.direction[2] < 0 else back)
                assert shapely.contains_xy(board(sheet), heads[:, :2]).all()
            elif batch not in made.of("cap plate splice from the left"):
                member = made.members[fastened]
                assert depths(member, heads) == pytest.approx(0.0, abs=1e-6)
                assert depths(member, heads + np.array(batch.direction)).min() > 0.4


def assert_sheet_nails_keep_their_distance(made: Nailed) -> None:
    for batch in made.of(*SHEETS):
        distances = np.concatenate(
            [
                shapely.distance(board(made.sheets[n]).boundary, shapely.points(batch.points[rows, :2]))
                for n, rows in by_part(batch.fastened)
            ]
        )
        short = int((distances < EDGE - 1e-3).sum())
        assert distances.min() >= EDGE / 2 - 1e-3
        assert (f"; {short} nearer to a sheet's edge than scheduled" in batch.why.words) == (short > 0)


def along(made: Nailed, stick: str, heads: Floats) -> Floats:
    """Where heads are along a stick, sorted."""
    member = next(member for member in made.members if member.id == stick)
    return np.sort(member.frame.to_local(heads)[:, 0])


def places(made: Nailed, stick: int, points: Floats) -> Floats:
    """Where points are along a stick, sorted."""
    return np.sort(made.members[stick].frame.to_local(points)[:, 0])


def faces_behind(made: Nailed, sheet: Sheet) -> Iterator[tuple[int, shapely.Polygon]]:
    """The sticks right behind a sheet, and the pieces of their faces that it covers and could be nailed on."""
    outer = sheet.frame.origin[2] > 0
    back = sheet.frame.origin[2] + (0.0 if outer else sheet.thickness)
    face = board(sheet)
    for number, member in enumerate(made.members):
        corners = member.corners()
        z = corners[:, 2].max() if outer else corners[:, 2].min()
        if member.role is Role.STRAP or member.loose or abs(z - back) > 1e-6:
            continue
        for piece in shapely.get_parts(face & shapely.MultiPoint(corners[:, :2]).convex_hull):
            room = piece.buffer(-EDGE / 2 - 5.1)  # half the edge distance, and 5 mm to the stick's side
            if not room.is_empty and max(np.diff(np.reshape(room.bounds, (2, 2)), axis=0)[0]) > CORNER:
                yield number, piece


def assert_sheets_are_nailed_along_every_stick(made: Nailed, spacing: float) -> None:
    """From end to end of what a sheet covers of a stick, no two nails are farther apart than scheduled."""
    heads = {n: [] for n in range(len(made.sheets))}
    for batch in made.of(*SHEETS):
        for n, rows in by_part(batch.fastened):
            heads[n].append(batch.points[rows])
    for n, sheet in enumerate(made.sheets):
        nails = np.concatenate(heads[n])
        for number, piece in faces_behind(made, sheet):
            row = places(made, number, nails[shapely.contains_xy(piece, nails[:, :2])])
            rim = places(made, number, np.insert(shapely.get_coordinates(piece), 2, 0.0, axis=1))
            assert len(row) > 0, (sheet.id, made.members[number].id)
            assert np.diff(row).max(initial=0.0) <= spacing + 1e-6
            if not is_sloping(made.members[number]):  # there the corners of a piece are far from its middle line
                assert max(row[0] - rim[0], rim[-1] - row[-1]) <= 4 * EDGE, (sheet.id, made.members[number].id)


@given(sketches(), st.sampled_from(RULES), st.sampled_from([12, 16, 19.2, 24]), st.sampled_from(["2x4", "2x6", "2x8"]))
@settings(max_examples=40, deadline=None)
def test_nails_land_in_wood_and_keep_their_distances(sketch: Sketch, rules: str, spacing: float, stock: str) -> None:
    walls = assembly(spacing=spacing * INCH, stock=stock)
    panel = brief(
        sketch.length,
        sketch.top,
        *sketch.openings,
        walls=walls,
        wall_start=sketch.wall_start,
        joined=sketch.joined,
    )
    made = nailed(panel, rules=rules)
    assert_points_are_in_wood(made)
    assert_heads_are_on_what_they_fasten(made)
    assert_sheet_nails_keep_their_distance(made)
    # IRC Table R602.3(1) before 2018 and WAC 246-359-230: 12 in. in the field
    assert_sheets_are_nailed_along_every_stick(made, 12 * INCH)


def test_edges_of_sheets_and_openings_are_nailed_closer_than_the_field() -> None:
    """6 in. and 12 in.: IRC Table R602.3(1) before 2018, read on a city code sheet."""
    made = nailed(brief(12 * FOOT, 8 * FOOT, window(1400.0, 2300.0, 900.0, 2050.0)))
    edges, field = made.pairs("outer sheathing edges"), made.pairs("outer sheathing field")
    roles = {member.id: member.role for member in made.members}
    assert {roles[stick] for _, stick in field} == {Role.STUD, Role.CRIPPLE}
    assert {Role.BOTTOM_PLATE, Role.TOP_PLATE, Role.CAP_PLATE, Role.KING, Role.JACK, Role.SILL, Role.STUD} <= {
        roles[stick] for _, stick in edges
    }
    gaps = {
        name: [step for row in rows.values() for step in np.diff(np.sort(row[:, 1]))]
        for name, rows in (
            ("edges", {pair: row for pair, row in edges.items() if np.ptp(row[:, 0]) < 1.0}),
            ("field", field),
        )
    }
    assert max(gaps["edges"]) <= 6 * INCH + 1e-6
    assert 6 * INCH < max(gaps["field"]) <= 12 * INCH + 1e-6


def test_two_sheets_on_one_stud_have_a_line_each() -> None:
    made = nailed(brief(8 * FOOT))
    rows = [row for (_, stick), row in made.pairs("outer sheathing edges").items() if stick == "A/stud-2"]
    left, right = sorted({round(x, 3) for row in rows for x in row[:, 0]})
    middle = 4 * FOOT
    assert (middle - left, right - middle) == pytest.approx((INCH / 16 + EDGE, INCH / 16 + EDGE), abs=1e-3)


def test_nails_are_nearer_to_the_edge_where_the_stud_is_thin_and_are_counted() -> None:
    catalog = Catalog.default().with_products(stock={"thin": (25.4, 139.7)}, sheets={})
    made = nailed(brief(8 * FOOT, walls=assembly(stock="thin"), catalog=catalog))
    assert_points_are_in_wood(made)
    assert_sheet_nails_keep_their_distance(made)
    assert any("nearer to a sheet's edge" in batch.why.words for batch in made.of("outer sheathing edges"))


def test_nails_keep_off_the_hole_of_a_sleeve() -> None:
    why = Why("test", "", "")
    free = nailed(brief(8 * FOOT))
    made = nailed(brief(8 * FOOT), sleeves=[Sleeve("S1", "R1", "sleeve-2-1/2", "gasket", 640.0, 1200.0, 80.0, why)])
    assert any(sheet.round_holes for sheet in made.sheets)
    assert_sheet_nails_keep_their_distance(made)
    assert made.count(*SHEETS) != free.count(*SHEETS)


def test_wood_too_thin_for_the_points_takes_no_sheet_nails() -> None:
    """A 2x10 board behind the inner sheathing is 38 mm deep; 6d nails through 11 mm of sheet go in 40 mm."""
    request = BackingSpec.model_validate(
        {"id": "rail", "wall": "A", "kind": "blocking", "start": 700, "end": 1700, "height": 900, "stock": "2x10"}
        | {"reason": "handrail"},
        context={"unit": "mm"},
    )
    made = nailed(brief(8 * FOOT, backing=(request,)))
    boards = {member.id for member in made.members if member.role is Role.BACKING}
    assert boards
    assert not boards & {stick for _, stick in made.pairs(*SHEETS)}
    assert boards <= {stick for _, stick in made.pairs("blocking to stud", "blocking in line")}


def test_nails_through_an_outer_ply_end_in_the_ply_behind_it() -> None:
    made = nailed(brief(12 * FOOT, 8 * FOOT, window(1400.0, 2300.0, 900.0, 2050.0)))
    into = {stick for _, stick in made.pairs("outer sheathing edges")}
    assert "A/w1/header-2" in into
    assert "A/w1/header-1" not in into


def test_straps_are_screwed_to_every_stick_they_cross_and_along_those_they_cover() -> None:
    panel = brief(12 * FOOT, 8 * FOOT, window(1400.0, 2300.0, 900.0, 2050.0), tees=(tee(3000.0),))
    made = nailed(panel)
    screwed = set(made.pairs("strap to stud")) | set(made.pairs("strap along stick"))
    for strap in (member for member in made.members if member.role is Role.STRAP):
        x0, y0, _ = strap.corners().min(axis=0)
        x1, y1, _ = strap.corners().max(axis=0)
        for stick in made.members:
            low, high = stick.corners().min(axis=0), stick.corners().max(axis=0)
            shared = min(x1, high[0]) - max(x0, low[0]), min(y1, high[1]) - max(y0, low[1])
            upright_under_flat = stick.frame.x[1] == 1.0 and strap.frame.x[0] == 1.0
            if upright_under_flat and abs(low[2]) < 1e-6 and min(shared) > 15.0:
                assert (strap.id, stick.id) in screwed
        assert strap.id in {fastened for fastened, _ in screwed}


def test_batches_are_few_named_apart_and_the_same_every_time() -> None:
    panel = brief(16 * FOOT, 8 * FOOT, window(1500.0, 2400.0, 900.0, 2050.0), door(3300.0, 4200.0, 2080.0))
    made, again = nailed(panel), nailed(panel)
    ids = [batch.id for batch in made.fasteners]
    assert len(set(ids)) == len(ids)
    assert len({(batch.why.rule, batch.product, batch.direction) for batch in made.fasteners}) == len(ids)
    assert ids == [batch.id for batch in again.fasteners]
    for one, other in zip(made.fasteners, again.fasteners, strict=True):
        assert np.array_equal(one.points, other.points)
        assert np.array_equal(one.into, other.into)
    assert all(np.linalg.norm(batch.direction) == pytest.approx(1.0) for batch in made.fasteners)


def test_a_bare_frame_is_nailed_and_nothing_has_no_nails() -> None:
    panel = brief(8 * FOOT)
    rules = panel.catalog.rules(panel.rules)
    lots = [Unnailed(panel.label, panel.length, panel.layers, members) for members in ((), blocked(panel))]
    nothing, (batches, findings) = fasteners(lots, rules, panel.catalog)
    assert nothing == ((), ())
    joints = {batch.why.rule for batch in batches}
    assert findings == ()
    assert joints == {"nail.bottom-plate-to-stud", "nail.top-plate-to-stud", "nail.cap-plate-to-top-plate"}


def test_sheets_without_a_row_in_the_schedule_are_refused() -> None:
    walls = assembly()
    layers = [layer.model_dump() for layer in walls.layers]
    layers[2]["product"] = "gypsum-1/2"
    panel = brief(8 * FOOT, walls=type(walls).model_validate({"layers": layers}))
    with pytest.raises(CatalogError, match="gypsum"):
        nailed(panel, rules="wac-246-359")


def test_each_reason_names_the_row_of_the_schedule() -> None:
    made = nailed(brief(8 * FOOT), rules="wac-246-359")
    for batch in made.of("top plate to stud"):
        assert batch.why == Why("nail.top-plate-to-stud", "2 16d common to a joint", batch.why.source)
        assert batch.why.source.startswith("WAC 246-359-340")
