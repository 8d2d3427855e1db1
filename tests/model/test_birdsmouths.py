"""A birdsmouth is two cuts that meet in a point: volume, centre and blocks against closed forms and a solid."""

from __future__ import annotations

import manifold3d
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from panelgen.checks.blocks import stick_blocks
from panelgen.geometry.frames import WORLD
from panelgen.geometry.hexahedra import hexahedra_planes
from panelgen.model import SQUARE, EndCut, Member, Notch, Role, Why
from panelgen.model.bodies import member_body
from panelgen.model.masses import member_center
from panelgen.model.volumes import member_volume
from panelgen.solids.cuts import body_solids
from panelgen.solids.verdicts import all_valid, volume_of

THICK, WIDE, LONG = 38.1, 235.0, 3000.0


def rafter(*notches: Notch, start: EndCut = SQUARE, end: EndCut = SQUARE) -> Member:
    return Member(
        id="r",
        role=Role.RAFTER,
        stock="2x10",
        species="SPF",
        grade="No.2",
        thickness=THICK,
        width=WIDE,
        length=LONG,
        density=450.0,
        frame=WORLD,
        layer="framing",
        why=Why("", "", ""),
        start=start,
        end=end,
        notches=notches,
    )


@pytest.mark.parametrize("far", [False, True])
def test_a_birdsmouth_takes_a_triangle(far: bool) -> None:
    notch = Notch(400.0, 550.0, 50.0, far, apex=430.0)
    assert WIDE * LONG * THICK - member_volume(rafter(notch)) == pytest.approx(150.0 * 50.0 / 2 * THICK, rel=1e-9)


@pytest.mark.parametrize("far", [False, True])
def test_the_centre_moves_away_from_a_birdsmouth(far: bool) -> None:
    member = rafter(Notch(400.0, 550.0, 50.0, far, apex=430.0))
    whole, cut = WIDE * LONG, 150.0 * 50.0 / 2
    place = (1380.0 / 3, WIDE - 50.0 / 3 if far else 50.0 / 3)
    expected = [(whole * half - cut * at) / (whole - cut) for half, at in zip((LONG / 2, WIDE / 2), place, strict=True)]
    assert member_center(member)[:2] == pytest.approx(expected, rel=1e-12)


SLOPES = st.floats(-1.0, 1.0)


@given(SLOPES, SLOPES, SLOPES, st.booleans(), st.floats(20.0, 80.0), st.floats(0.05, 0.95))
def test_volume_blocks_and_a_solid_agree(a: float, b: float, c: float, far: bool, depth: float, at: float) -> None:
    notch = Notch(900.0, 1100.0, depth, far, apex=900.0 + 200.0 * at)
    member = rafter(notch, start=EndCut(a, b), end=EndCut(a, c))
    body = _convex(np.array([member.local_corners()]))
    edge, deep, out = (WIDE, WIDE - depth, 1.0) if far else (0.0, depth, -1.0)
    ring = np.array([(900.0, edge), (1100.0, edge), (notch.apex, deep)])
    corners = np.concatenate([np.column_stack((ring, np.full(3, z))) for z in (-1.0, THICK + 1.0)])
    tool = manifold3d.Manifold.hull_points(np.concatenate((corners, corners[[0, 1, 3, 4]] + (0.0, out, 0.0))))
    expected = (body - tool).volume()
    # Two tools drawn one mm past the edge take a sliver beyond the stick only.
    assert member_volume(member) == pytest.approx(expected, rel=1e-5)
    blocks = np.array(stick_blocks(member))
    assert sum(_convex(blocks[[k]]).volume() for k in range(len(blocks))) == pytest.approx(expected, rel=1e-5)
    normals, offsets = hexahedra_planes(blocks)
    inside = np.array([(notch.x0 + notch.x1 + notch.apex) / 3, (2 * edge + deep) / 3, THICK / 2])
    assert (np.einsum("bfc,c->bf", normals, inside) - offsets).max(axis=1).min() > 1.0


def _convex(blocks: np.ndarray) -> manifold3d.Manifold:
    return manifold3d.Manifold.hull_points(blocks.reshape(-1, 3))


def test_the_kernel_makes_a_rafter_with_plumb_ends_and_a_seat() -> None:
    member = rafter(Notch(400.0, 550.0, 50.0, apex=430.0), start=EndCut(0.5, 0.0), end=EndCut(0.5, 1.0))
    solids = body_solids(member_body(member), member_volume(member))
    assert all_valid(solids)
    assert sum(map(volume_of, solids)) == pytest.approx(member_volume(member), rel=1e-6)
