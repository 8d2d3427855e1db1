"""What a roof says of itself: strips, seats, gables that close nothing, splices and long sticks."""

from __future__ import annotations

import pytest

from panelgen.catalog import Catalog
from panelgen.design.roofs.assign import roof_briefs, slopes_of
from panelgen.model import Finding, Severity
from tests.design.roofs.houses import BOX, ELL, Ring, panels_of, spec_of

CATALOG = Catalog.default()
RULES = CATALOG.rules("irc-2021")


def notes(ring: Ring, roof: str) -> dict[str, Finding]:
    spec = spec_of(ring, roof)
    slopes, doubts = slopes_of(spec, CATALOG, RULES)
    _, _, findings = roof_briefs(spec, slopes, CATALOG, RULES, {})
    return {finding.code: finding for finding in (*doubts, *findings)}


def test_a_gable_that_closes_no_whole_side_is_hipped() -> None:
    found = notes(ELL, "rise: 6 in, edges: [{edge: w3, kind: gable}]")
    assert found["roof.gable-hipped"].severity is Severity.WARN
    assert found["roof.gable-hipped"].parts == ("R-w3",)
    assert "roof.gable-hipped" not in notes(ELL, "rise: 6 in, edges: [{edge: w4, kind: gable}]")


def test_very_unequal_slopes_leave_no_seat() -> None:
    edges = "edges: [{edge: w0, rise: 2 in}, {edge: w1, kind: gable}, {edge: w3, kind: gable}]"
    seat = notes(BOX, f"rise: 18 in, {edges}")["roof.seat"]
    assert seat.value is not None
    assert seat.value < 38.1  # IRC R802.6: 1-1/2 in on wood
    assert "roof.seat" not in notes(BOX, "rise: 6 in")


def test_hips_through_several_panels_are_left_to_an_engineer() -> None:
    assert "needs an engineer" in notes(BOX, "rise: 6 in")["roof.spliced"].words
    assert "roof.spliced" not in notes(BOX, "rise: 6 in, edges: [{edge: w1, kind: gable}, {edge: w3, kind: gable}]")


def test_a_sliver_of_a_plane_is_left_to_the_site() -> None:
    ring = [(0.0, 4686.0), (0.0, 0.0), (43.0, 0.0), (43.0, -4587.0), (6837.0, -4587.0), (6837.0, 4686.0)]
    strip = notes(ring, "rise: 2 in, overhang: 600, edges: [{edge: w4, kind: gable}, {edge: w5, kind: gable}]")[
        "roof.strip"
    ]
    assert strip.value is not None
    assert strip.value > 0.0


@pytest.mark.parametrize(("depth", "long"), [(6000.0, False), (13500.0, True)])
def test_rafters_longer_than_the_rack_are_found(depth: float, long: bool) -> None:
    ring = [(0.0, 0.0), (10000.0, 0.0), (10000.0, depth), (0.0, depth)]
    panels = panels_of(ring, "rise: 6 in, edges: [{edge: w1, kind: gable}, {edge: w3, kind: gable}]")
    codes = {finding.code for panel in panels for finding in panel.findings}
    assert ("roof.stock-length" in codes) is long


def test_a_joint_can_be_pinned_and_kept_clear() -> None:
    gables = "edges: [{edge: w1, kind: gable}, {edge: w3, kind: gable}]"
    pins = "joints: [{edge: w0, at: 4000}], no_joints: [{edge: w0, start: 6000, end: 8000}]"
    starts = [panel.wall_start for panel in panels_of(BOX, f"rise: 6 in, {gables}, {pins}") if panel.wall == "R-w0"]
    assert 4000.0 in [round(start, 6) for start in starts]
    assert not any(6000.0 < start < 8000.0 for start in starts)
