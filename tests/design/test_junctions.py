"""Corners and tees in plan: layers never overlap, and the sheathing lines close at every corner.

The oracle is shapely: every layer of every wall is drawn as a rectangle in plan and the rectangles are
compared with each other, independently of how the spans were found.
"""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon
from shapely.ops import unary_union

from panelgen.catalog import Catalog
from panelgen.design.walls.junctions import ResolvedWall, resolve
from panelgen.design.walls.plan import plan_walls
from panelgen.model import LayerKind
from panelgen.spec import HouseSpec

EXTERIOR = {
    "layers": [
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
        {"layer": "framing", "stock": "2x6"},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
        {"layer": "strapping", "stock": "2x3"},
    ]
}
PARTITION = {"layers": [{"layer": "framing", "stock": "2x4", "insulation": None}]}

PLANS = {
    "rectangle": [(0, 0), (9000, 0), (9000, 6000), (0, 6000)],
    "L": [(0, 0), (9000, 0), (9000, 8000), (6000, 8000), (6000, 5000), (0, 5000)],
    "T": [(0, 0), (9000, 0), (9000, 3000), (6000, 3000), (6000, 7000), (3000, 7000), (3000, 3000), (0, 3000)],
    "U": [(0, 0), (9000, 0), (9000, 7000), (6000, 7000), (6000, 3000), (3000, 3000), (3000, 7000), (0, 7000)],
}


def spec_of(outline: list[tuple[float, float]] | None, lines: list[dict[str, object]] = ()) -> HouseSpec:  # type: ignore[assignment]
    outlines = []
    if outline:
        corners = [{"wall": f"E{n}", "at": list(at)} for n, at in enumerate(outline)]
        outlines = [{"assembly": "exterior", "corners": corners}]
    level = {"id": "1", "elevation": 0, "height": 2467, "outlines": outlines, "walls": list(lines)}
    return HouseSpec.model_validate(
        {
            "panelgen": 1,
            "house": "plan test",
            "design": {"ground_snow": "30 psf", "building_width": "24 ft"},
            "assemblies": {"exterior": EXTERIOR, "partition": PARTITION},
            "levels": [level],
        }
    )


def settle(spec: HouseSpec) -> tuple[ResolvedWall, ...]:
    walls, _, _ = resolve(plan_walls(spec, spec.levels[0], Catalog.default()))
    return walls


def rectangles(walls: tuple[ResolvedWall, ...]) -> dict[tuple[str, str], Polygon]:
    drawn = {}
    for one in walls:
        spans = {
            "framing": one.framing,
            "outer sheathing": one.outer,
            "inner sheathing": one.inner,
            "strapping": one.straps,
        }
        for layer in one.wall.layers:
            x0, x1 = spans[layer.name]
            ring = [(x0, layer.z0), (x1, layer.z0), (x1, layer.z1), (x0, layer.z1)]
            points = [one.wall.frame.point(x, 0.0, z)[:2] for x, z in ring]
            drawn[f"{one.wall.id}@{one.framing[0]:.0f}", layer.name] = Polygon(points)
    return drawn


def assert_no_overlap(drawn: dict[tuple[str, str], Polygon], *, straps_are_cut_at_tees: bool = False) -> None:
    for (key_a, a), (key_b, b) in combinations(drawn.items(), 2):
        if straps_are_cut_at_tees and "strapping" in (key_a[1], key_b[1]):
            continue  # the cavity room interrupts straps at Tee.span
        assert a.intersection(b).area < 1e-3, (key_a, key_b)


@pytest.mark.parametrize("plan", PLANS)
def test_layers_of_an_outline_never_overlap(plan: str) -> None:
    assert_no_overlap(rectangles(settle(spec_of(PLANS[plan]))))


@pytest.mark.parametrize("plan", PLANS)
@pytest.mark.parametrize("layer", ["outer sheathing", "inner sheathing"])
def test_sheathing_closes_round_the_outline(plan: str, layer: str) -> None:
    drawn = rectangles(settle(spec_of(PLANS[plan])))
    ring = unary_union([shape.buffer(1e-4, join_style="mitre") for (_, name), shape in drawn.items() if name == layer])
    assert ring.geom_type == "Polygon"
    assert len(ring.interiors) == 1


@pytest.mark.parametrize("plan", PLANS)
def test_framing_stays_inside_the_outline_and_reaches_its_corners(plan: str) -> None:
    drawn = rectangles(settle(spec_of(PLANS[plan])))
    outline = Polygon(PLANS[plan])
    framing = unary_union([shape for (_, name), shape in drawn.items() if name == "framing"])
    assert framing.difference(outline.buffer(1e-6)).area < 1e-3
    outside = unary_union([shape.buffer(1e-4) for shape in drawn.values()])
    assert outline.exterior.difference(outside.buffer(0.01)).length < 1e-3


def test_partition_stops_at_the_inner_sheathing_of_its_host() -> None:
    line = {"wall": "P1", "assembly": "partition", "start": [4000, 0], "end": [4000, 6000]}
    walls = settle(spec_of(PLANS["rectangle"], [line]))
    drawn = rectangles(walls)
    assert_no_overlap(drawn, straps_are_cut_at_tees=True)
    partition = next(one for one in walls if one.wall.id == "P1")
    sheathing = Catalog.default().sheet("osb-7/16").thickness
    depth = Catalog.default().stock("2x6").width
    assert partition.framing == pytest.approx((depth + sheathing, 6000 - depth - sheathing))
    hosts = [one for one in walls if one.tees and any(tee.wall == "P1" for tee in one.tees)]
    assert [one.wall.id for one in hosts] == ["E0", "E2"]
    half = Catalog.default().stock("2x4").width / 2
    south = next(tee for tee in hosts[0].tees if tee.wall == "P1")
    assert south.framing == pytest.approx((4000 - half, 4000 + half))


def test_crossing_partitions_are_cut_where_they_cross() -> None:
    lines = [
        {"wall": "P1", "assembly": "partition", "start": [4000, 0], "end": [4000, 6000]},
        {"wall": "P2", "assembly": "partition", "start": [0, 3000], "end": [9000, 3000]},
    ]
    walls = settle(spec_of(PLANS["rectangle"], lines))
    assert [one.wall.id for one in walls].count("P1") == 2
    assert [one.wall.id for one in walls].count("P2") == 1
    assert_no_overlap(rectangles(walls), straps_are_cut_at_tees=True)


def test_a_skew_wall_is_cut_short_and_reported() -> None:
    lines = [{"wall": "P1", "assembly": "partition", "start": [2000, 0], "end": [5000, 4000]}]
    walls, _, findings = resolve(
        plan_walls(spec := spec_of(PLANS["rectangle"], lines), spec.levels[0], Catalog.default())
    )
    assert [finding.code for finding in findings] == ["junction.angle"]
    assert_no_overlap(rectangles(walls), straps_are_cut_at_tees=True)


@settings(max_examples=60, deadline=None)
@given(
    widths=st.lists(st.integers(1500, 6000), min_size=3, max_size=3),
    depths=st.lists(st.integers(1500, 6000), min_size=2, max_size=2),
    turn=st.integers(0, 3),
)
def test_any_l_plan_in_any_orientation(widths: list[int], depths: list[int], turn: int) -> None:
    a, b, _ = widths
    c, d = depths
    plan = [(0, 0), (a + b, 0), (a + b, c + d), (a, c + d), (a, c), (0, c)]
    turned = [[(x, y), (-y, x), (-x, -y), (y, -x)][turn] for x, y in plan]
    drawn = rectangles(settle(spec_of(turned)))
    assert_no_overlap(drawn)
    for layer in ("outer sheathing", "inner sheathing"):
        shapes = [shape.buffer(1e-4, join_style="mitre") for (_, name), shape in drawn.items() if name == layer]
        assert len(unary_union(shapes).interiors) == 1


def test_every_wall_has_one_framing_layer() -> None:
    for one in settle(spec_of(PLANS["L"])):
        assert sum(layer.kind is LayerKind.FRAMING for layer in one.wall.layers) == 1


def test_three_walls_at_one_corner_do_not_overlap() -> None:
    lines = [
        {"wall": "P1", "assembly": "partition", "start": [1000, 2000], "end": [4000, 2000]},
        {"wall": "P2", "assembly": "partition", "start": [4000, 2000], "end": [4000, 4000]},
        {"wall": "P3", "assembly": "partition", "start": [4000, 500], "end": [4000, 2000]},
    ]
    assert_no_overlap(rectangles(settle(spec_of(None, lines))))


def test_the_straps_of_a_wall_stop_short_of_one_beyond_its_end() -> None:
    """A partition goes on from an inner corner in line with one wall: the straps of the other lap that corner."""
    thick = 139.7
    inline = {"wall": "P", "assembly": "partition", "start": [6000, 5000 - thick / 2], "end": [9000, 5000 - thick / 2]}
    inline |= {"bearing": True}
    walls = settle(spec_of(PLANS["L"], [inline]))
    (host,) = (one for one in walls if any(tee.wall == "P" and tee.framing[0] >= one.framing[1] for tee in one.tees))
    drawn = rectangles(walls)
    (partition,) = (shape for (wall, _), shape in drawn.items() if wall.startswith("P@"))
    straps = drawn[f"{host.wall.id}@{host.framing[0]:.0f}", "strapping"]
    assert straps.intersection(partition).area < 1e-3
    assert straps.distance(partition) < 1e-6
    assert host.framing[1] < host.straps[1]
