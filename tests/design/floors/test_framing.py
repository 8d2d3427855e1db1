"""The sticks of cassettes: one layout through the whole floor, doubled sticks around openings, blocks over walls."""

from __future__ import annotations

from itertools import pairwise

import manifold3d
import numpy as np
import pytest

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.extents import extent_of
from panelgen.design.house import design
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.model import House, Member, Panel, PanelKind, Role
from panelgen.model.masses import panel_mass
from panelgen.model.volumes import member_mass
from tests.design.floors.houses import ELL, FOOT, STAIR, bearing, floored
from tests.design.solids import assert_apart

WALLS = [
    bearing("1M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT)),
    bearing("1N", (0.0, 24 * FOOT), (24 * FOOT, 24 * FOOT)),
    bearing("1P", (15 * FOOT, 0.0), (15 * FOOT, 12 * FOOT), carries=False),
]
ABOVE = [
    bearing("2M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT)),
    bearing("2N", (0.0, 24 * FOOT), (24 * FOOT, 24 * FOOT)),
    bearing("2P", (10.5 * FOOT, 0.0), (10.5 * FOOT, 12 * FOOT), carries=False),
    bearing("2Q", (33 * FOOT, 12 * FOOT), (33 * FOOT, 24 * FOOT)),
]


@pytest.fixture(scope="module")
def house() -> House:
    """An L with I-joists, a stair, walls under and on the floor, and a ceiling of sawn joists."""
    return design(floored(ELL, openings=[STAIR], lower=WALLS, upper=ABOVE, ceiling={"joists": "y"}))


def decks(house: House) -> list[Panel]:
    return [panel for panel in house.panels if panel.kind in (PanelKind.FLOOR, PanelKind.CEILING)]


def floors(house: House) -> list[Panel]:
    return [panel for panel in house.panels if panel.kind is PanelKind.FLOOR]


def stair_panel(house: House) -> Panel:
    (panel,) = (panel for panel in floors(house) if panel.openings)
    return panel


def of(panel: Panel, *roles: Role) -> list[Member]:
    return [member for member in panel.members if member.role in roles]


def test_sticks_of_a_cassette_are_apart(house: House) -> None:
    for panel in decks(house):
        assert_apart(panel.members)


def test_no_two_panels_share_space_by_solids(house: House) -> None:
    corners, panel = [], []
    for number, one in enumerate(house.panels):
        for member in one.members:
            if not member.loose:
                corners.append(one.frame.to_parent(member.corners()))
                panel.append(number)
    boxes = Boxes.around(np.array(corners))
    first, second = overlapping(boxes, boxes)
    shared = 0.0
    for i, j in zip(first.tolist(), second.tolist(), strict=True):
        if panel[i] < panel[j]:
            one, other = (manifold3d.Manifold.hull_points(np.ascontiguousarray(corners[k])) for k in (i, j))
            shared += (one ^ other).volume()
    assert shared < 1.0


def test_checks_find_no_clash(house: House) -> None:
    codes = {finding.code for finding in check_house(house, Catalog.default())}
    clashes = ("member.", "panel.", "part.", "sheet.", "fastener.", "deck.", "opening.", "nail.", "blocking.")
    assert not sorted(code for code in codes if code.startswith(clashes))


def test_joists_are_on_one_layout_through_the_floor(house: House) -> None:
    spacing = 19.2 * 25.4
    seen = 0
    for panel in floors(house):
        for member in of(panel, Role.JOIST):
            if "/joist-" in member.id:
                centre = panel.wall_start + member.frame.origin[0] + member.thickness / 2
                assert centre / spacing == pytest.approx(round(centre / spacing), abs=1e-9)
                seen += 1
    assert seen > 30


def test_gaps_between_joists_are_no_wider_than_the_layout(house: House) -> None:
    for panel in decks(house):
        spacing = 19.2 * 25.4 if panel.kind is PanelKind.FLOOR else 24 * 25.4
        centres = sorted(
            member.frame.origin[0] + member.thickness / 2
            for member in of(panel, Role.JOIST, Role.TRIMMER)
            if member.frame.origin[1] < 100.0
        )
        assert all(b - a <= spacing + 1e-6 for a, b in pairwise(centres)), panel.label


def test_rims_close_the_outer_ends_only(house: House) -> None:
    for panel in floors(house):
        rims = [member for member in of(panel, Role.RIM) if member.frame.x[0] > 0.5]
        outer = {round(member.frame.origin[1], 3) for member in rims}
        thickness = 1.125 * 25.4
        low = panel.wall_base < 1.0
        top = round(panel.height, 3)
        assert (round(thickness, 3) in outer) is low
        end = 34 if panel.wall_start < 24 * FOOT - 1.0 else 24
        assert (top in outer) == (round(panel.wall_base + panel.height) == round(end * FOOT))
        assert sum(member.length for member in rims) == pytest.approx(panel.length * len(outer))


def test_an_outer_edge_over_a_wall_is_a_rim_where_joists_are_engineered(house: House) -> None:
    assert not [m.id for panel in floors(house) for m in panel.members if "/under-2A" in m.id or "/under-2B" in m.id]
    for panel in floors(house):
        edges = [member for member in of(panel, Role.RIM) if member.frame.x[1] > 0.5]
        at = {round(panel.wall_start + member.frame.origin[0]) for member in edges}
        end = panel.wall_start + panel.length
        behind = abs(end - 24 * FOOT) < 1.0 and panel.wall_base > 24 * FOOT - 1.0  # beside the wing nothing goes on
        assert at <= {0, round(40 * FOOT - 1.125 * 25.4), *([round(24 * FOOT - 1.125 * 25.4)] if behind else [])}
        assert bool(at) == (panel.wall_start < 1.0 or end > 40 * FOOT - 1.0 or behind)


def test_an_opening_has_two_trimmers_each_side_and_two_headers_each_end(house: House) -> None:
    panel = stair_panel(house)
    (hole,) = panel.openings
    trimmers, headers = of(panel, Role.TRIMMER), of(panel, Role.HEADER)
    thick = 1.75 * 25.4
    assert sorted(round(m.frame.origin[0] - hole.x0, 3) for m in trimmers if m.frame.origin[0] < hole.x0) == [
        round(-2 * thick, 3),
        round(-thick, 3),
    ]
    assert sorted(round(m.frame.origin[0] - hole.x1, 3) for m in trimmers if m.frame.origin[0] > hole.x0) == [
        0.0,
        round(thick, 3),
    ]
    assert len(headers) == 4
    assert all(m.length == pytest.approx(hole.width) and m.stock == "lvl-11-7/8" for m in headers)
    assert (hole.width, hole.height) == pytest.approx(tuple(STAIR["size"]))


def test_joists_stop_at_headers(house: House) -> None:
    panel = stair_panel(house)
    (hole,) = panel.openings
    crossing = [
        member
        for member in of(panel, Role.JOIST)
        if member.frame.origin[0] < hole.x1 and member.frame.origin[0] + member.thickness > hole.x0
    ]
    assert crossing
    for member in crossing:
        start, end = member.frame.origin[1], member.frame.origin[1] + member.length
        assert end <= hole.y0 - 2 * 1.75 * 25.4 + 1e-6 or start >= hole.y1 + 2 * 1.75 * 25.4 - 1e-6


def test_blocks_stand_over_the_walls_that_carry(house: House) -> None:
    over = [m for panel in floors(house) for m in panel.members if m.id.startswith("F2/bearing-block-1M")]
    ends = [m for panel in floors(house) for m in panel.members if m.id.startswith("F2/joint-block")]
    assert over
    assert ends
    for panel in floors(house):
        for member in panel.members:
            if member in over:
                middle = panel.wall_base + member.frame.origin[1] - member.thickness / 2
                assert middle == pytest.approx(12 * FOOT)


def test_blocks_between_stacked_bearing_walls_are_solid(house: House) -> None:
    over = [m for panel in floors(house) for m in panel.members if m.id.startswith("F2/bearing-block-1M")]
    plain = [m for panel in floors(house) for m in panel.members if m.id.startswith("F2/block-under")]
    assert {member.stock for member in over} == {"lvl-11-7/8"}
    assert {member.stock for member in plain} == {"i-11-7/8x2-1/2"}


def test_a_bearing_wall_along_the_joists_stands_on_two(house: House) -> None:
    under = [(panel, m) for panel in floors(house) for m in panel.members if "/under-2Q-" in m.id]
    assert len(under) == 2
    faces = [panel.wall_start + member.frame.origin[0] for panel, member in under]
    assert sorted(faces) == pytest.approx([33 * FOOT - 63.5, 33 * FOOT])


def test_partitions_between_joists_have_blocks_and_nailers(house: House) -> None:
    members = [member for panel in floors(house) for member in panel.members]
    blocks = [member for member in members if member.id.startswith("F2/block-under-2P")]
    nailers = [member for member in members if member.id.startswith("F2/nailer-1P")]
    assert len(blocks) >= 3
    assert all(member.role is Role.BLOCKING and member.width == pytest.approx(301.625) for member in blocks)
    assert len(nailers) >= 6
    assert all(member.role is Role.BACKING and member.frame.origin[2] == 0.0 for member in nailers)


def test_engineered_sticks_weigh_what_their_row_says(house: House) -> None:
    joist = next(m for panel in floors(house) for m in of(panel, Role.JOIST))
    assert joist.engineered
    assert member_mass(joist) / joist.length * 304.8 / 0.45359237 == pytest.approx(3.0)
    assert 150.0 < panel_mass(stair_panel(house)) < 900.0


def test_ids_are_unique_and_marks_are_in_order(house: House) -> None:
    ids = [part.id for panel in house.panels for part in (*panel.members, *panel.sheets)]
    assert len(ids) == len(set(ids))
    for panel in decks(house):
        assert [m.mark for m in panel.members] == [f"{panel.label}-{n:02d}" for n in range(1, len(panel.members) + 1)]


def test_an_opening_at_an_edge_has_no_room_for_its_sticks() -> None:
    tight = {"id": "S1", "at": [5 * FOOT, 40.0], "size": [900.0, 2000.0]}
    house = design(floored(openings=[tight]))
    assert "opening.crowded" in {finding.code for panel in house.panels for finding in panel.findings}


def test_the_board_below_finds_wood_beside_walls_that_joists_run_over() -> None:
    """A nailer every two feet, from the edge joist inward past the wall; a ceiling on its sheathing needs none."""
    sawn = {"stock": "2x10", "depth": 9.25 * 25.4, "spacing": 16 * 25.4}
    made = design(floored(**sawn, ceiling={"joists": "y"}))
    nailers = [(panel, m) for panel in made.panels for m in panel.members if "/edge-nailer-" in m.id]
    assert {member.id.split("@")[0] for _, member in nailers} == {"F2/edge-nailer-1B", "F2/edge-nailer-1D"}
    for panel, member in nailers:
        box = extent_of(member)
        x0, x1 = panel.wall_start + box.x0, panel.wall_start + box.x1
        inside = 139.7 + 11.1125  # the wall's framing and its inner sheathing
        assert x0 < inside + 25.0 <= x1 + 1e-6 or x0 - 1e-6 <= 40 * FOOT - inside - 25.0 < x1
        assert (box.z0, member.role) == (0.0, Role.BACKING)
    one_panel = nailers[0][0]
    ys = sorted(extent_of(member).y0 for panel, member in nailers if panel is one_panel)
    assert max(b - a for a, b in pairwise(ys)) <= 609.6 + 1e-6
    assert max(ys) - min(ys) > one_panel.height - 609.6
