"""Sheets of floors and ceilings: they cover the deck, end on joists, and lap the joints of cassettes."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely

from panelgen.catalog import Catalog
from panelgen.design.house import design
from panelgen.model import House, Panel, PanelKind, Sheet
from tests.design.floors.houses import ELL, FOOT, STAIR, bearing, floored

WALLS = [
    bearing("1M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT)),
    bearing("1N", (0.0, 24 * FOOT), (24 * FOOT, 24 * FOOT)),
]
GAP = 3.175


@pytest.fixture(scope="module")
def house() -> House:
    return design(floored(ELL, openings=[STAIR], lower=WALLS, ceiling={"joists": "y"}))


def floors(house: House) -> list[Panel]:
    return [panel for panel in house.panels if panel.kind is PanelKind.FLOOR]


def face(panel: Panel, sheet: Sheet) -> shapely.Polygon:
    """A sheet seen from above, in the coordinates of its floor (joists along y of the house)."""
    x, y = panel.wall_start + sheet.frame.origin[0], panel.wall_base + sheet.frame.origin[1]
    return shapely.Polygon(
        [(x + u, y + v) for u, v in sheet.outline], [[(x + u, y + v) for u, v in ring] for ring in sheet.cutouts]
    )


def test_sheets_cover_the_floor_less_its_opening_and_gaps(house: House) -> None:
    faces = [face(panel, sheet) for panel in floors(house) for sheet in panel.sheets]
    wanted = shapely.Polygon(ELL) - shapely.box(
        STAIR["at"][0], STAIR["at"][1], STAIR["at"][0] + STAIR["size"][0], STAIR["at"][1] + STAIR["size"][1]
    )
    covered = shapely.union_all(faces)
    assert sum(one.area for one in faces) == pytest.approx(covered.area)  # no two overlap
    assert (covered - wanted).area < 1e-3
    bare = (wanted - covered).buffer(-0.71 * GAP)  # where four sheets meet a gap is as wide as its diagonal
    assert bare.area < 1e-3


def test_sheets_lie_across_the_joists_and_come_from_stock(house: House) -> None:
    for panel in floors(house):
        for sheet in panel.sheets:
            xs, ys = [x for x, _ in sheet.outline], [y for _, y in sheet.outline]
            assert sheet.stock_size in Catalog.default().sheet(sheet.product).sizes
            assert max(xs) <= sheet.stock_size[1] + 1e-6
            assert max(ys) <= sheet.stock_size[0] + 1e-6


def test_ends_of_sheets_are_on_joists(house: House) -> None:
    for panel in floors(house):
        sides = [
            (member.frame.origin[0], member.frame.origin[0] + member.thickness)
            for member in panel.members
            if abs(member.frame.x[1]) > 0.5
        ]
        for sheet in panel.sheets:
            ox = sheet.frame.origin[0]
            for x in (ox, ox + max(x for x, _ in sheet.outline)):
                if 0.0 <= x <= panel.length and not panel.openings:
                    assert any(low - 1e-6 <= x <= high + 1e-6 for low, high in sides), sheet.id


def test_neighbouring_rows_are_staggered(house: House) -> None:
    for panel in floors(house):
        if panel.openings:
            continue
        rows: dict[float, list[float]] = {}
        for sheet in panel.sheets:
            x, row = sheet.frame.origin[0], rows.setdefault(round(sheet.frame.origin[1]), [])
            if 30.0 < x < panel.length - 30.0:
                row.append(x)
        ordered = [rows[y] for y in sorted(rows)]
        for below, above in pairwise(ordered):
            assert all(abs(a - b) > 200.0 for a in below for b in above)


def test_sheets_that_lap_a_joint_are_loose_and_counted_once(house: House) -> None:
    loose = [(panel, sheet) for panel in floors(house) for sheet in panel.sheets if sheet.loose]
    assert loose
    for panel, sheet in loose:
        x = sheet.frame.origin[0]
        assert x < panel.length < x + max(u for u, _ in sheet.outline)
    assert all(
        sheet.frame.origin[0] + max(u for u, _ in sheet.outline) <= panel.length + 1e-6
        for panel in floors(house)
        for sheet in panel.sheets
        if not sheet.loose
    )


def test_the_crew_nails_loose_sheets_on_both_sides_of_the_joint(house: House) -> None:
    laps = 0
    for left in floors(house):
        loose = [sheet for sheet in left.sheets if sheet.loose]
        if not loose:
            continue
        (right,) = (
            panel
            for panel in floors(house)
            if panel.wall_start == pytest.approx(left.wall_start + left.length) and panel.wall_base == left.wall_base
        )
        own = [batch for batch in left.fasteners if "sheathing lap edges" in batch.id]
        across = [batch for batch in right.fasteners if "lap from the left" in batch.id]
        assert own
        assert across
        assert all(batch.on_site for batch in (*own, *across))
        assert all(left.sheets[k].loose for batch in own for k in batch.fastened.tolist())
        assert not any(batch.fastens_sheets for batch in across)
        faces = shapely.union_all([face(left, sheet) for sheet in loose])
        for panel, batches in ((left, own), (right, across)):
            points = np.concatenate([batch.points for batch in batches])[:, :2] + (panel.wall_start, panel.wall_base)
            assert shapely.contains(faces.buffer(-9.0), shapely.points(points)).all()
            laps += len(points)
    assert laps > 50


def test_shop_nails_hold_no_loose_sheet(house: House) -> None:
    for panel in floors(house):
        for batch in panel.fasteners:
            if batch.fastens_sheets and not batch.on_site:
                assert not any(panel.sheets[k].loose for k in batch.fastened.tolist())


def test_a_ceiling_has_its_barrier_below_and_all_else_is_bays(house: House) -> None:
    ceilings = [panel for panel in house.panels if panel.kind is PanelKind.CEILING]
    assert ceilings
    for panel in ceilings:
        assert {sheet.layer for sheet in panel.sheets} == {"inner sheathing"}
        assert not any(sheet.loose for sheet in panel.sheets)
        framing = [member for member in panel.members if member.layer == "framing"]
        wood = sum(m.length * m.thickness * m.width for m in framing) * 1e-9
        whole = panel.length * panel.height * 7.25 * 25.4 * 1e-9
        assert sum(bay.gross_volume for bay in panel.bays) == pytest.approx(whole - wood, rel=1e-6)
