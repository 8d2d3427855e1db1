from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.geometry.frames import Frame
from panelgen.model import Bay, Bore, EndCut, Notch, Panel, RoundHole
from panelgen.model.masses import center_of_gravity, member_center, panel_mass, sheet_center
from panelgen.model.volumes import member_mass, sheet_mass
from tests.factories import WHY, WIDE, board, raked_panel, rectangle, stick, wall_panel

TURNED = Frame((100.0, 200.0, 300.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

slopes = st.floats(-0.6, 0.6)


@settings(deadline=None, max_examples=50)
@given(slopes, slopes, slopes, slopes)
def test_cut_sticks_balance_where_their_hulls_do(a: float, b: float, c: float, d: float) -> None:
    member = stick(frame=TURNED, start=EndCut(a, b), end=EndCut(c, d))
    hull = trimesh.convex.convex_hull(member.corners())
    assert member_center(member) == pytest.approx(tuple(hull.center_mass), abs=1e-3)


def test_bores_and_notches_shift_the_centre() -> None:
    """Checked against the moments of boxes and cylinders worked out by hand."""
    member = stick(bores=(Bore((500.0, 70.0, 0.0), 60.0),), notches=(Notch(1000.0, 1200.0, 40.0, from_far_edge=True),))
    thick = member.thickness
    parts = [
        (member.length * member.width * thick, (member.length / 2, member.width / 2)),
        (-math.pi * 900.0 * thick, (500.0, 70.0)),
        (-200.0 * 40.0 * thick, (1100.0, member.width - 20.0)),
    ]
    volume = sum(v for v, _ in parts)
    x, y = (sum(v * c[k] for v, c in parts) / volume for k in (0, 1))
    assert member_center(member) == pytest.approx((x, y, thick / 2))
    assert member_mass(member) == pytest.approx(volume * member.density * 1e-9)


def test_slanted_bore_counts_by_its_true_length() -> None:
    axis = (0.6, 0.0, 0.8)
    member = stick(bores=(Bore((500.0, 70.0, 0.0), 40.0, axis),))
    bore = math.pi * 400.0 * member.thickness / 0.8
    middle = 500.0 + 0.75 * member.thickness / 2
    blank = member.length * member.width * member.thickness
    assert member_center(member)[0] == pytest.approx((blank * member.length / 2 - bore * middle) / (blank - bore))


def test_sheets_with_holes() -> None:
    plain = board(
        outline=rectangle(0.0, 1200.0, 0.0, 2400.0),
        cutouts=(rectangle(600.0, 1200.0, 0.0, 2400.0)[::-1],),
        round_holes=(RoundHole(300.0, 600.0, 200.0, "s"),),
        frame=TURNED,
    )
    area, hole = 600.0 * 2400.0, math.pi * 1e4
    x, y = 300.0, (area * 1200.0 - hole * 600.0) / (area - hole)
    assert sheet_center(plain) == pytest.approx(TURNED.point(x, y, plain.thickness / 2))


@pytest.mark.parametrize("panel", [wall_panel(), raked_panel()], ids=["wall", "raked"])
def test_panel_is_the_sum_of_its_parts(panel: Panel) -> None:
    parts = [(member_mass(member), np.array(member_center(member))) for member in panel.members]
    parts += [(sheet_mass(sheet), np.array(sheet_center(sheet))) for sheet in panel.sheets]
    total = sum(mass for mass, _ in parts)
    assert panel_mass(panel) == pytest.approx(total)
    expected = sum(mass * center for mass, center in parts) / total
    assert center_of_gravity(panel) == pytest.approx(tuple(expected))
    assert 0.0 < expected[0] < panel.length
    assert 0.0 < expected[1] < panel.height


def test_insulation_weighs() -> None:
    bay = Bay("b", rectangle(0.0, 400.0, 0.0, 2000.0), (), 0.0, WIDE, 0.1, 0.1, "cellulose", 56.0, WHY)
    empty = wall_panel()
    filled = replace(empty, bays=(bay,))
    assert panel_mass(filled) - panel_mass(empty) == pytest.approx(5.6)


def test_empty_panel_balances_at_its_origin() -> None:
    whole = wall_panel()
    empty = replace(whole, members=(), sheets=())
    assert center_of_gravity(empty) == (0.0, 0.0, 0.0)
    assert panel_mass(empty) == 0.0
