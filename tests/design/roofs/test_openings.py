"""Openings in a plane: trimmers, headers and what is cut."""

from __future__ import annotations

import pytest

from panelgen.model import Role, Severity
from tests.design.roofs.houses import BOX, house_of, panels_of


def roof(width: int, kind: str = "skylight") -> str:
    opening = f"{{id: K, edge: w0, at: [5000, 1800], size: [{width}, 1200], kind: {kind}}}"
    return f"rise: 6 in, edges: [{{edge: w1, kind: gable}}, {{edge: w3, kind: gable}}], openings: [{opening}]"


@pytest.mark.parametrize(("width", "plies"), [(1200, 1), (1219.2, 1), (1500, 2)])
def test_wide_openings_have_double_trimmers_and_headers(width: float, plies: int) -> None:
    """IRC R802.9: single where the header spans 4 ft or less (from memory)."""
    panel = next(p for p in panels_of(BOX, roof(width)) if p.openings)
    (opening,) = panel.openings
    assert (opening.width, opening.height) == pytest.approx((width, 1200.0))
    headers = [m for m in panel.members if m.role is Role.HEADER]
    trimmers = [m for m in panel.members if "/trimmer-" in m.id]
    assert len(headers) == len(trimmers) == 2 * plies
    left = max(m.corners()[:, 0].max() for m in trimmers if "left" in m.id)
    right = min(m.corners()[:, 0].min() for m in trimmers if "right" in m.id)
    assert (left, right) == pytest.approx((opening.x0, opening.x1))
    below = max(m.corners()[:, 1].max() for m in headers if "lower" in m.id)
    above = min(m.corners()[:, 1].min() for m in headers if "upper" in m.id)
    assert (below, above) == pytest.approx((opening.y0, opening.y1))


def test_cut_rafters_stop_square_at_the_headers_and_sheets_leave_the_hole() -> None:
    panel = next(p for p in panels_of(BOX, roof(1200, "dormer")) if p.openings)
    low = [m for m in panel.members if m.id.endswith("-low")]
    high = [m for m in panel.members if m.id.endswith("-up")]
    assert low
    assert len(low) == len(high)
    assert all(m.end.is_square and m.notches for m in low)
    assert all(m.start.is_square and not m.notches for m in high)
    (opening,) = panel.openings
    for sheet in panel.sheets:
        x, y, _ = sheet.frame.origin
        inside = [
            (x + u, y + v)
            for u, v in sheet.outline
            if opening.x0 + 1 < x + u < opening.x1 - 1 and opening.y0 + 1 < y + v < opening.y1 - 1
        ]
        assert inside == []


@pytest.mark.parametrize("at", ["[100000, 1800]", "[1500, 1800]", "[5000, 3000]", "[5000, 450]"])
def test_an_opening_outside_its_plane_stops(at: str) -> None:
    """Beyond the plane, over its hip, over its ridge, and so low that the header would meet the fascia."""
    roof = f"rise: 6 in, overhang: 0, openings: [{{id: K, edge: w0, at: {at}, size: [600, 900]}}]"
    house = house_of(BOX, roof)
    (finding,) = [f for f in house.findings if f.code == "roof.opening"]
    assert finding.severity is Severity.STOP


def test_a_dormer_is_left_to_its_own_design() -> None:
    (panel,) = [p for p in panels_of(BOX, roof(1200, "dormer")) if p.openings]
    (finding,) = [f for f in panel.findings if f.code == "roof.dormer"]
    assert "needs an engineer" in finding.words
