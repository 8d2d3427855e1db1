"""Roof planes over rectilinear outlines: known roofs, the rafter table of the steel square, and any outline."""

from __future__ import annotations

import math
from collections import Counter

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from panelgen.errors import GeometryError
from panelgen.geometry.roof_planes import OutlineEdge, RoofFace, RoofLine, roof_faces

Ring = list[tuple[float, float]]

BOX: Ring = [(0, 0), (10000, 0), (10000, 6000), (0, 6000)]
ELL: Ring = [(0, 0), (10000, 0), (10000, 4000), (5000, 4000), (5000, 9000), (0, 9000)]
TEE: Ring = [(0, 0), (3000, 0), (3000, -5000), (6000, -5000), (6000, 0), (10000, 0), (10000, 4000), (0, 4000)]
CUP: Ring = [(0, 0), (3000, 0), (3000, 4000), (8000, 4000), (8000, 0), (12000, 0), (12000, 8000), (0, 8000)]


def edges(ring: Ring, slope: float = 0.5, gables: tuple[int, ...] = ()) -> list[OutlineEdge]:
    return [
        OutlineEdge(a, b, slope, n in gables) for n, (a, b) in enumerate(zip(ring, ring[1:] + ring[:1], strict=True))
    ]


def lines(faces: tuple[RoofFace, ...]) -> dict[str, int]:
    return Counter(side.line.value for face in faces for side in face.sides)


@pytest.mark.parametrize(
    ("ring", "gables", "expected"),
    [
        (BOX, (), {"eave": 4, "hip": 8, "ridge": 2}),
        (BOX, (1, 3), {"eave": 2, "rake": 4, "ridge": 2}),
        (BOX, (1, 2, 3), {"eave": 1, "rake": 2, "top": 1}),
        (ELL, (), {"eave": 6, "hip": 12, "ridge": 4, "valley": 2}),
        (ELL, (1, 4), {"eave": 4, "hip": 4, "rake": 4, "ridge": 4, "valley": 2}),
        (TEE, (), {"eave": 8, "hip": 12, "ridge": 4, "valley": 4}),
        (CUP, (), {"eave": 8, "hip": 14, "ridge": 6, "valley": 4}),
    ],
)  # fmt: skip
def test_known_roofs_have_the_lines_a_carpenter_counts(
    ring: Ring, gables: tuple[int, ...], expected: dict[str, int]
) -> None:
    faces = roof_faces(edges(ring, gables=gables))
    assert lines(faces) == expected


def test_a_wing_of_the_same_width_dies_in_no_hip() -> None:
    """An L of two equal arms: its hip and valley meet the ridges in one point."""
    ring: Ring = [(0, 0), (9000, 0), (9000, 4000), (4000, 4000), (4000, 9000), (0, 9000)]
    faces = roof_faces(edges(ring))
    assert lines(faces) == {"eave": 6, "hip": 10, "ridge": 4, "valley": 2}
    assert (2000.0, 2000.0) in faces[0].ring


def test_the_rise_of_the_ridge_is_slope_times_half_the_width() -> None:
    faces = roof_faces(edges(BOX, slope=8 / 12))
    ridge = next(side for side in faces[0].sides if side.line is RoofLine.RIDGE)
    assert faces[0].height(ridge.start) == pytest.approx(3000.0 * 8 / 12)
    assert sorted((ridge.start, ridge.end)) == [(3000.0, 3000.0), (7000.0, 3000.0)]


def test_a_steeper_end_moves_the_hip_toward_it() -> None:
    """On a rectangle with ends twice as steep, the hip runs 2 across for 1 along."""
    own = [OutlineEdge(one.start, one.end, 1.0 if n % 2 else 0.5) for n, one in enumerate(edges(BOX))]
    faces = roof_faces(own)
    assert [tuple(round(x, 6) for x in point) for point in faces[1].ring] == [(10000, 0), (10000, 6000), (8500, 3000)]


RAFTER_TABLE = [
    # rise in 12, common rafter and hip or valley for a foot of common run, in (STANDARDS 8.1; computed from the
    # published formulas, anchored in US Army Engineer carpentry text at 13.42, 17.69 and 20.00)
    (3, 12.369, 17.234),
    (4, 12.649, 17.436),
    (5, 13.000, 17.692),
    (6, 13.416, 18.000),
    (7, 13.892, 18.358),
    (8, 14.422, 18.762),
    (9, 15.000, 19.209),
    (10, 15.620, 19.698),
    (11, 16.279, 20.224),
    (12, 16.971, 20.785),
]


@pytest.mark.parametrize(("rise", "common", "hip"), RAFTER_TABLE)
def test_lengths_for_a_foot_of_run_are_those_of_the_rafter_table(rise: float, common: float, hip: float) -> None:
    """Hip, valley and common lengths measured on the planes of an L, on lines whose common run is known."""
    faces = roof_faces(edges(ELL, slope=rise / 12))
    measured = Counter[str]()
    for face in faces:
        for side in face.sides:
            if side.line in (RoofLine.HIP, RoofLine.VALLEY):
                run = abs(side.end[0] - side.start[0])
                length = math.dist((*side.start, face.height(side.start)), (*side.end, face.height(side.end)))
                assert 12.0 * length / run == pytest.approx(hip, abs=6e-4)
                measured[side.line.value] += 1
    assert measured == {"hip": 12, "valley": 2}
    tallest = max(faces[2].ring, key=faces[2].height)
    run = 4000.0 - tallest[1]
    assert 12.0 * math.hypot(run, faces[2].height(tallest)) / run == pytest.approx(common, abs=6e-4)


def test_a_roof_part_without_eaves_is_refused() -> None:
    with pytest.raises(GeometryError, match="no eave"):
        roof_faces(edges(BOX, gables=(0, 1, 2, 3)))


SIDE = st.integers(4, 30).map(lambda n: 300.0 * n)


@st.composite
def outlines(draw: st.DrawFn) -> Ring:
    """A rectangle with one to three rectangular bays or notches: rectangles, L, T, U, Z and stairs of them."""
    width, depth = draw(SIDE) + 3000.0, draw(SIDE) + 3000.0
    shape = shapely.box(0.0, 0.0, width, depth)
    for _ in range(draw(st.integers(0, 3))):
        x, y, w, h = draw(SIDE), draw(SIDE), draw(SIDE), draw(SIDE)
        patch = shapely.box(x, y, x + w, y + h)
        changed = shape.union(patch) if draw(st.booleans()) else shape.difference(patch)
        changed = changed.simplify(0.0)
        if changed.geom_type == "Polygon" and not changed.interiors and changed.is_valid:
            shape = changed
    shape = shapely.geometry.polygon.orient(shape.normalize())
    return [(float(x), float(y)) for x, y in shape.exterior.coords[:-1]]


@given(outlines(), st.sampled_from([0.25, 0.5, 1.0]), st.data())
def test_faces_cover_any_outline_once_and_meet_at_one_height(ring: Ring, slope: float, data: st.DataObject) -> None:
    gables = tuple(data.draw(st.lists(st.integers(0, len(ring) - 1), unique=True, max_size=3)))
    try:
        faces = roof_faces(edges(ring, slope, gables))
    except GeometryError:
        assert gables
        return
    areas = [shapely.Polygon(face.ring) for face in faces]
    whole = shapely.Polygon(ring)
    assert sum(area.area for area in areas) == pytest.approx(whole.area, abs=1.0)
    assert shapely.union_all(areas, grid_size=1e-6).symmetric_difference(whole).area < 1.0
    for face in faces:
        for side in face.sides:
            if side.other is None:
                assert whole.exterior.distance(shapely.LineString([side.start, side.end])) < 1e-3
                continue
            for point in (side.start, side.end):
                assert face.height(point) == pytest.approx(faces[side.other].height(point), abs=1e-3)


@given(outlines(), st.integers(0, 2**32))
def test_without_gables_the_height_is_that_of_the_largest_square(ring: Ring, seed: int) -> None:
    """The straight skeleton of a rectilinear outline: distance to its boundary, measured along x and y."""
    whole = shapely.Polygon(ring)
    faces = roof_faces(edges(ring, 1.0))
    for face in faces:
        point = shapely.Polygon(face.ring).representative_point()
        low, high = 0.0, 1e5
        for _ in range(60):
            half = (low + high) / 2
            square = shapely.box(point.x - half, point.y - half, point.x + half, point.y + half)
            low, high = (half, high) if whole.contains(square) else (low, half)
        assert face.height((point.x, point.y)) == pytest.approx(low, abs=1e-3)
