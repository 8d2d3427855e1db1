"""Sheets, nails and insulation of roof panels."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from panelgen.catalog import Catalog
from panelgen.envelope.closing import closing
from panelgen.model import Barrier, Panel, Role
from tests.design.roofs.houses import BOX, ELL, house_of, panels_of

GABLES = "edges: [{edge: w1, kind: gable}, {edge: w3, kind: gable}]"
RULES = Catalog.default().rules("irc-2021")
DEPTH, THICK = 9.25 * 25.4, 38.1


def faces(panel: Panel, layer: str) -> list[shapely.Polygon]:
    placed = []
    for sheet in panel.sheets:
        if sheet.layer == layer:
            x, y, _ = sheet.frame.origin
            rings = [[(x + u, y + v) for u, v in ring] for ring in (sheet.outline, *sheet.cutouts)]
            placed.append(shapely.Polygon(rings[0], rings[1:]))
    return placed


@pytest.mark.parametrize("rise", [4, 10])
def test_outer_sheets_cover_the_roof_but_for_gaps(rise: float) -> None:
    panels = panels_of(ELL, f"rise: {rise} in")
    covered = sum(face.area for panel in panels for face in faces(panel, "outer sheathing"))
    # plan area with 12 in of overhang all round, up the slope
    plan = shapely.Polygon(ELL).buffer(304.8, join_style="mitre").area
    whole = plan * math.hypot(1.0, rise / 12)
    assert 0.985 * whole < covered < whole


def test_sheets_lie_across_the_rafters_and_end_on_them() -> None:
    panel = panels_of(BOX, f"rise: 4 in, {GABLES}")[1]
    centres = [np.mean(m.corners()[:, 0]) for m in panel.members if m.role is Role.RAFTER]
    sheets = [sheet for sheet in panel.sheets if sheet.layer == "outer sheathing"]
    assert len({round(sheet.frame.origin[1]) for sheet in sheets}) > 1
    for sheet in sheets:
        assert sheet.stock_size[0] > sheet.stock_size[1]
        width = max(x for x, _ in sheet.outline)
        for end in (sheet.frame.origin[0], sheet.frame.origin[0] + width):
            inner = 2.0 < end < panel.length - 2.0
            assert not inner or min(abs(end - x) for x in centres) < 2.0


def test_inner_sheets_come_down_on_the_plate_or_stop_at_the_room() -> None:
    for panel in panels_of(BOX, f"rise: 6 in, {GABLES}"):
        for sheet in panel.sheets:
            if sheet.layer == "inner sheathing":
                x, y, z = sheet.frame.origin
                low = panel.frame.point(x, y, z)
                assert low[2] >= 2500.0 - 1e-6 or 150.0 < low[1] < 5850.0


def test_roof_sheets_are_nailed_with_8d_at_6_and_12() -> None:
    """IRC Table R602.3(1), roof sheathing 3/8 to 1 in: 8d common, 6 in at edges and 12 in the field."""
    panel = panels_of(BOX, f"rise: 6 in, {GABLES}")[1]
    rafter = next(k for k, m in enumerate(panel.members) if m.id.endswith("/rafter-6"))
    outer = [b for b in panel.fasteners if b.fastens_sheets and panel.sheets[b.fastened[0]].layer == "outer sheathing"]
    assert {batch.product for batch in outer} == {"8d common"}
    for sheet in range(len(panel.sheets)):
        ys = sorted(y for b in outer for (_, y, _), s, m in zip(b.points, b.fastened, b.into, strict=True)
                    if s == sheet and m == rafter)  # fmt: skip
        if ys:
            assert max(np.diff(ys)) <= 12 * 25.4 + 1e-6
            assert len(ys) >= 2
    rim = [k for k, m in enumerate(panel.members) if m.role in (Role.FASCIA, Role.RIDGE)]
    for k in rim:
        xs = sorted(x for b in outer for (x, _, _), m in zip(b.points, b.into, strict=True) if m == k)
        assert max(np.diff(xs)) <= 6 * 25.4 + 2 * 30.0  # two nails beside a joint of sheets
        assert len(xs) > panel.length / (6 * 25.4)


def test_every_stick_end_is_nailed_through_its_neighbour() -> None:
    panel = panels_of(BOX, "rise: 6 in")[0]
    nailed = {panel.members[k].id for b in panel.fasteners if not b.fastens_sheets for k in b.into}
    ends = {m.id for m in panel.members if m.role in (Role.RAFTER, Role.BLOCKING)}
    assert ends - nailed == set()


def test_a_bay_is_as_large_as_the_room_between_rafters_blocking_and_ridge() -> None:
    panels = panels_of(BOX, f"rise: 6 in, {GABLES}")
    secant = math.hypot(1.0, 0.5)
    expected = (609.6 - THICK) * (3000.0 - 2 * THICK) * secant * DEPTH * 1e-9
    volumes = [bay.net_volume for panel in panels for bay in panel.bays]
    assert sum(abs(volume - expected) < 1e-6 for volume in volumes) >= 16
    assert max(volumes) < expected + 1e-6
    assert all(bay.mass == pytest.approx(bay.net_volume * bay.density) for panel in panels for bay in panel.bays)


def test_bays_are_plain_areas_apart_from_one_another() -> None:
    for panel in panels_of(ELL, "rise: 6 in", "16 in"):
        areas = [shapely.Polygon(bay.outline, bay.holes) for bay in panel.bays]
        assert all(area.is_valid and area.area > 0.0 for area in areas)
        assert all(area.bounds[2] - area.bounds[0] < 2 * 16 * 25.4 for area in areas)
        assert shapely.union_all(areas).area == pytest.approx(sum(area.area for area in areas))


def test_no_insulation_lies_in_the_overhangs() -> None:
    for panel in panels_of(BOX, f"rise: 6 in, {GABLES}"):
        for bay in panel.bays:
            for x, y in bay.outline:
                place = panel.frame.point(x, y, panel.framing.thickness / 2)
                assert 0.0 <= place[0] <= 10000.0
                assert 0.0 <= place[1] <= 6000.0


def test_the_rules_that_nail_roofs_are_the_edition() -> None:
    row = RULES.sheet_nailing(15 / 32 * 25.4, "roof")
    assert row.fastener == "8d common"
    assert (row.edge_spacing, row.field_spacing) == pytest.approx((6 * 25.4, 12 * 25.4))


@pytest.mark.parametrize("edges", ["", "edges: [{edge: w4, kind: gable}]"])
def test_a_wing_whose_ridge_is_just_above_a_row_of_sheets_is_closed(edges: str) -> None:
    """22 mm of the row above, which nobody cuts: its sheets end lower, and those above are as wide as any."""
    ring = [(0.0, 0.0), (6200.0, 0.0), (6200.0, 4500.0), (2500.0, 4500.0), (2500.0, 6500.0), (0.0, 6500.0)]
    house = house_of(ring, f"rise: 6 in, {edges}")
    assert len(closing(house, Barrier.AIR, Catalog.default()).open.edge) == 0
