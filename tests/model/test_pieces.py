"""Pieces of runs: what a rectangular run takes up is its section along its path, no more and no less."""

from __future__ import annotations

import math
from itertools import pairwise

import manifold3d
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from panelgen.geometry.mitres import Tube
from panelgen.model import Fitting, RunPart, Why
from panelgen.model.pieces import DuctPiece, ducts_along, fitting_pieces, run_pieces
from panelgen.model.volumes import run_volume

WHY = Why("run.test", "", "")
STACK = (254.0, 82.55)


def run(path: list[tuple[float, float, float]], **fields: object) -> RunPart:
    return RunPart("R.1", "R", "supply air", "duct", math.hypot(*STACK), tuple(path), WHY, **fields)


def solid(piece: DuctPiece) -> manifold3d.Manifold:
    """The convex hull of the corners, which knows nothing of sticks and planes."""
    return manifold3d.Manifold.hull_points(piece.corners())


def test_a_stack_lies_flat_in_the_wall() -> None:
    """Going up, its width is along the wall and its depth through it."""
    (piece,) = ducts_along([(1000.0, 0.0, 70.0), (1000.0, 2400.0, 70.0)], STACK)
    low, high = piece.corners().min(axis=0), piece.corners().max(axis=0)
    assert low == pytest.approx((1000.0 - 127.0, 0.0, 70.0 - 41.275))
    assert high == pytest.approx((1000.0 + 127.0, 2400.0, 70.0 + 41.275))


def test_a_duct_along_the_wall_has_its_width_upright() -> None:
    (piece,) = ducts_along([(0.0, 500.0, 70.0), (2000.0, 500.0, 70.0)], STACK)
    size = piece.corners().max(axis=0) - piece.corners().min(axis=0)
    assert size == pytest.approx((2000.0, 254.0, 82.55))


def test_a_duct_through_the_wall_has_its_width_level() -> None:
    (piece,) = ducts_along([(500.0, 500.0, -20.0), (500.0, 500.0, 200.0)], STACK)
    size = piece.corners().max(axis=0) - piece.corners().min(axis=0)
    assert size == pytest.approx((254.0, 82.55, 220.0))


def test_a_right_angle_is_mitred() -> None:
    first, second = ducts_along([(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (1000.0, 1000.0, 0.0)], STACK)
    assert first.corners().max(axis=0)[0] == pytest.approx(1000.0 + 127.0)
    assert second.corners().min(axis=0)[1] == pytest.approx(-127.0)
    assert (solid(first) ^ solid(second)).volume() < 1.0


def test_a_bend_too_sharp_to_mitre_has_square_ends() -> None:
    pieces = ducts_along([(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0), (0.0, 100.0, 0.0)], STACK)
    assert [piece.stick.end[1:] for piece in pieces] == [(0.0, 0.0), (0.0, 0.0)]
    short = ducts_along([(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (100.0, 1000.0, 0.0)], STACK)
    assert [piece.stick.start[1:] for piece in short] == [(0.0, 0.0), (0.0, 0.0)]


def test_points_that_turn_nothing_are_left_out() -> None:
    path = [(0.0, 0.0, 0.0), (0.0, 0.0, 0.0), (500.0, 0.0, 0.0), (1000.0, 0.0, 0.0)]
    assert ducts_along(path, STACK) == ducts_along([path[0], path[-1]], STACK)


def test_insulation_is_part_of_what_a_run_takes_up() -> None:
    path = [(0.0, 0.0, 0.0), (1000.0, 0.0, 0.0)]
    (tube,) = run_pieces(RunPart("P.1", "P", "hot water", "pex", 15.875, tuple(path), WHY, insulation=12.7))
    assert isinstance(tube, Tube)
    assert tube.radius == pytest.approx(15.875 / 2 + 12.7)
    (piece,) = run_pieces(run(path, section=STACK, insulation=25.4))
    assert isinstance(piece, DuctPiece)
    assert (piece.stick.width, piece.stick.thickness) == pytest.approx((254.0 + 50.8, 82.55 + 50.8))


coordinate = st.integers(-40, 40).map(lambda n: 50.0 * n)


@settings(max_examples=100, deadline=None)
@given(
    path=st.lists(st.tuples(coordinate, coordinate, st.just(0.0)), min_size=2, max_size=5, unique=True),
    section=st.tuples(st.floats(20.0, 80.0), st.floats(10.0, 60.0)),
)
def test_the_volume_is_the_section_times_the_path(
    path: list[tuple[float, float, float]], section: tuple[float, float]
) -> None:
    part = run(path, section=section)
    pieces = run_pieces(part)
    assert sum(piece.volume() for piece in pieces) == pytest.approx(run_volume(part), rel=1e-6)
    for piece in pieces:
        assert solid(piece).volume() == pytest.approx(piece.volume(), rel=1e-5)


@settings(max_examples=100, deadline=None)
@given(
    legs=st.lists(st.tuples(st.floats(400.0, 2000.0), st.floats(-75.0, 75.0)), min_size=2, max_size=4),
    section=st.tuples(st.floats(20.0, 80.0), st.floats(10.0, 60.0)),
)
def test_neighbours_touch_and_do_not_overlap(legs: list[tuple[float, float]], section: tuple[float, float]) -> None:
    assume(any(abs(turn) > 1.0 for _, turn in legs[1:]))
    path, heading = [(0.0, 0.0, 0.0)], 0.0
    for length, turn in legs:
        heading += math.radians(turn)
        x, y, _ = path[-1]
        path.append((x + length * math.cos(heading), y + length * math.sin(heading), 0.0))
    pieces = ducts_along(path, section)
    for one, following in pairwise(pieces):
        assert (solid(one) ^ solid(following)).volume() < 1e-4 * one.volume()
        ends, starts = one.corners()[4:], following.corners()[:4]
        assert np.allclose(ends, starts, atol=1e-3)


def fitting(kind: str, **fields: object) -> Fitting:
    return Fitting("F", "R", kind, "pvc-2", (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), 70.0, 200.0, WHY, **fields)


@pytest.mark.parametrize(
    ("made", "reach"),
    [
        (fitting("coupling"), [(-100.0, 0.0), (100.0, 0.0)]),
        (fitting("elbow", other=(0.0, 1.0, 0.0), angle=90.0), [(-100.0, 0.0), (0.0, 100.0)]),
        (fitting("tee", other=(0.0, 1.0, 0.0)), [(-100.0, 0.0), (100.0, 0.0), (0.0, 100.0)]),
    ],
    ids=lambda value: value.kind if isinstance(value, Fitting) else "",
)
def test_arms_of_a_fitting(made: Fitting, reach: list[tuple[float, float]]) -> None:
    assert [arm[:2] for arm in made.arms] == [pytest.approx(end) for end in reach]
    pieces = fitting_pieces(made)
    ends = {
        tuple(round(value, 6) for value in point[:2])
        for piece in pieces
        for point in (piece.points[0], piece.points[-1])
    }
    assert set(reach) <= ends
    assert all(piece.radius == 35.0 for piece in pieces)


def test_a_fitting_of_a_rectangular_run_is_rectangular() -> None:
    (piece,) = fitting_pieces(fitting("coupling", section=STACK))
    assert isinstance(piece, DuctPiece)
    assert piece.volume() == pytest.approx(200.0 * 254.0 * 82.55)
