"""How floors are split: cassettes are the outline exactly, and keep to the shop's limits, walls and wishes."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import HealthCheck, given, settings

from panelgen.design.draft import Draft
from panelgen.design.floors.fields import fields
from panelgen.design.house import design
from panelgen.model import House, Panel, PanelKind
from panelgen.model.masses import panel_mass
from panelgen.spec import HouseSpec
from tests.design.floors.houses import ELL, FOOT, RECTANGLE, STAIR, bearing, floored, outlines

MIDDLE = bearing("1M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))
BACK = bearing("1N", (0.0, 24 * FOOT), (24 * FOOT, 24 * FOOT))


def in_plan(panel: Panel) -> shapely.Polygon:
    """The framing of a panel seen from above."""
    corners = [(0.0, 0.0), (panel.length, 0.0), (panel.length, panel.height), (0.0, panel.height)]
    return shapely.Polygon([panel.frame.point(x, y, 0.0)[:2] for x, y in corners])


def cassettes(house: House, kind: PanelKind = PanelKind.FLOOR) -> list[Panel]:
    return [panel for panel in house.panels if panel.kind is kind]


def placed(spec: HouseSpec) -> list[tuple[float, float, float, float]]:
    """Start, length and the same along the joists of every cassette, without designing any."""
    briefs = [one.panel for one in Draft.of(spec).cassettes]
    return [(one.wall_start, one.length, one.wall_base, one.height) for one in briefs]


@given(outlines())
def test_fields_are_the_outline_and_apart(ring: tuple[tuple[float, float], ...]) -> None:
    boxes = [shapely.box(*rect) for rect in fields(ring)]
    outline = shapely.Polygon(ring)
    assert sum(box.area for box in boxes) == pytest.approx(outline.area)
    assert shapely.union_all(boxes).symmetric_difference(outline).area == pytest.approx(0.0, abs=1e-3)


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(outlines())
def test_cassettes_are_the_outline_and_apart(ring: tuple[tuple[float, float], ...]) -> None:
    for joists in ("x", "y"):
        briefs = [one.panel for one in Draft.of(floored(ring, joists=joists)).cassettes]
        boxes = []
        for one in briefs:
            ends = (one.frame.point(0.0, 0.0, 0.0)[:2], one.frame.point(one.length, one.height, 0.0)[:2])
            (xa, ya), (xb, yb) = ends
            boxes.append(shapely.box(min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)))
        outline = shapely.Polygon(ring)
        assert sum(box.area for box in boxes) == pytest.approx(outline.area)
        assert shapely.union_all(boxes).symmetric_difference(outline).area == pytest.approx(0.0, abs=1.0)


def test_cassettes_keep_to_the_line_and_the_truck() -> None:
    house = design(floored(ELL, lower=[MIDDLE, BACK], openings=[STAIR]))
    for panel in cassettes(house):
        assert panel.length <= house.limits.line_height + 1e-6
        assert panel.height <= house.limits.line_length + 1e-6
    assert not [finding for finding in house.findings if finding.code.startswith("deck.")]


def test_labels_name_level_kind_and_number() -> None:
    labels = [panel.label for panel in cassettes(design(floored(RECTANGLE)))]
    assert labels == [f"2F{number:02d}" for number in range(1, len(labels) + 1)]


def test_sawn_joists_meet_over_a_wall_that_carries_the_whole_cassette() -> None:
    long = floored(stock="2x10", depth=9.25 * 25.4, spacing=16 * 25.4, lower=[MIDDLE])
    assert {(base, height) for _, _, base, height in placed(long)} == {(0.0, 12 * FOOT), (12 * FOOT, 12 * FOOT)}


def test_a_joist_too_long_for_the_rack_without_a_wall_to_meet_over_is_a_finding() -> None:
    half = bearing("1M", (0.0, 12 * FOOT), (10 * FOOT, 12 * FOOT))
    house = design(floored(stock="2x10", depth=9.25 * 25.4, spacing=16 * 25.4, lower=[half]))
    found = [finding for finding in house.findings if finding.code == "deck.no-joint"]
    assert found
    assert all(finding.limit == pytest.approx(4876.8) for finding in found)
    assert {panel.height for panel in cassettes(house) if panel.wall_start < 1.0} == {12 * FOOT}


def test_joints_keep_off_openings_and_forbidden_stretches() -> None:
    free = [start for start, *_ in placed(floored(openings=[STAIR]))][1:]
    at = STAIR["at"][0]
    assert all(start <= at - 300.0 or start >= at + STAIR["size"][0] + 300.0 for start in free)
    barred = floored(floor={"no_joints": [{"start": 7 * FOOT, "end": 9 * FOOT}]})
    assert not [start for start, *_ in placed(barred) if 7 * FOOT < start < 9 * FOOT]


def test_pins_are_joints() -> None:
    assert 10 * FOOT in [start for start, *_ in placed(floored(floor={"joints": [{"at": 10 * FOOT}]}))]


def test_pins_are_in_plan_also_where_joists_run_along_x() -> None:
    ring = ((0.0, 1000.0), (24 * FOOT, 1000.0), (24 * FOOT, 1000.0 + 40 * FOOT), (0.0, 1000.0 + 40 * FOOT))
    house = design(floored(ring, joists="x", floor={"joints": [{"at": 1000.0 + 30 * FOOT}]}))
    ends = {round(in_plan(panel).bounds[1], 3) for panel in cassettes(house)}
    assert round(1000.0 + 30 * FOOT, 3) in ends


def test_a_floor_off_the_top_of_its_walls_is_a_finding() -> None:
    house = design(floored(depth=310.0, lower=[MIDDLE]))
    found = [finding for finding in house.findings if finding.code == "deck.seat"]
    assert {finding.parts[1] for finding in found} == {"1A", "1B", "1C", "1D", "1M"}
    assert all(finding.value == pytest.approx(310.0 - 301.625) for finding in found)


def test_cassettes_are_split_so_that_the_crane_lifts_them() -> None:
    shop = {"panel_mass": 400.0, "longest_stock": 7400.0}
    house = design(floored(stock="2x12", depth=11.25 * 25.4, spacing=16 * 25.4, shop=shop))
    assert len(cassettes(house)) > 6
    assert all(panel_mass(panel) <= 400.0 for panel in cassettes(house))
