"""Integrals of chords: exact where the body is flat-sided, whatever the direction."""

from __future__ import annotations

import math

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from panelgen.geometry.fibres import Across, chord_integral, disc
from panelgen.geometry.frames import cross
from panelgen.geometry.lofts import Cylinder, HalfSpace, ring_area
from tests.strategies import frames

CUBE = [HalfSpace(tuple(sign * float(k == axis) for k in range(3)), 1.0) for axis in range(3) for sign in (-1.0, 1.0)]
"""Edge 2, about the origin."""

EVERYWHERE = shapely.box(-9.0, -9.0, 9.0, 9.0)


@given(frames())
def test_all_chords_together_are_the_volume(frame: object) -> None:
    assert chord_integral(EVERYWHERE, Across.to(frame.x), CUBE) == pytest.approx(8.0)


@given(frames())
def test_a_slanted_cut_halves_the_cube(frame: object) -> None:
    assert chord_integral(EVERYWHERE, Across.to(frame.y), [*CUBE, HalfSpace(frame.x, 0.0)]) == pytest.approx(4.0)


@given(frames())
def test_the_plane_across_a_direction_is_square_to_it(frame: object) -> None:
    u, v = Across.to(frame.z)
    assert cross(u, v) == pytest.approx(frame.z)


def test_outside_the_body_there_is_nothing() -> None:
    assert chord_integral(shapely.box(2.0, 2.0, 3.0, 3.0), Across.to((0.0, 0.0, 1.0)), CUBE) == 0.0
    assert chord_integral(shapely.Polygon(), Across.to((0.0, 0.0, 1.0)), CUBE) == 0.0


@pytest.mark.parametrize("sides", [512, 2048])
def test_a_disc_has_its_true_area_and_place(sides: int) -> None:
    area = disc(Cylinder((3.0, 4.0, 9.0), (0.0, 0.0, 1.0), 25.0), Across.to((0.0, 0.0, 1.0)), sides)
    assert area.area == pytest.approx(math.pi * 25.0**2, rel=1e-12)
    assert (area.centroid.x, area.centroid.y) == pytest.approx((3.0, 4.0))


@given(st.integers(3, 9), st.floats(-1e4, 1e4), st.booleans())
def test_ring_area_is_signed_by_direction(corners: int, away: float, is_clockwise: bool) -> None:
    turn = (-1 if is_clockwise else 1) * 2 * math.pi / corners
    ring = tuple((away + 50.0 * math.cos(k * turn), away - 50.0 * math.sin(-k * turn)) for k in range(corners))
    expected = corners / 2 * 50.0**2 * math.sin(turn)
    assert ring_area(ring) == pytest.approx(expected, rel=1e-6)
