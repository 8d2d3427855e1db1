"""Runs through panels: nothing of a run is lost or doubled, and every straight crossing is bored."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.design import design
from panelgen.design.services.runs import Space, parts_in
from panelgen.errors import SpecError
from panelgen.geometry.frames import WORLD, Frame
from panelgen.geometry.stretches import Stretches
from panelgen.model import House, LayerKind, Role, RunPart, ServiceRun, Why
from panelgen.spec import HouseSpec
from panelgen.spec.crosscheck.survey import survey
from tests.design.houses import house_data, one_wall

WHY = Why("run.test", "", "")
SHOP = {"line_length": "12 ft", "line_height": "12 ft"}


def run(path: list[list[Any]], **fields: Any) -> dict[str, Any]:
    return {"id": "R1", "system": "power", "size": "nm-12/2", "wall": "N1", "path": path} | fields


def length_of(path: tuple[tuple[float, float, float], ...]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(path))


def designed(path: list[list[Any]], length: str = "30 ft", **fields: Any) -> House:
    return design(one_wall(length, shop=SHOP, runs=[run(path, **fields)]))


def test_a_run_is_cut_at_panel_joints_without_loss() -> None:
    house = designed([["1 ft", "3 ft", "framing"], ["29 ft", "3 ft", "framing"]])
    parts = [part for panel in house.panels for part in panel.runs]
    assert len(house.panels) == len(parts) == 3
    assert sum(length_of(part.path) for part in parts) == pytest.approx(28 * 304.8)
    assert [(part.enters, part.leaves) for part in parts] == [(False, True), (True, True), (True, False)]
    for left, right in pairwise(house.panels):
        end = left.frame.to_parent(left.runs[0].path[-1:])[0]
        start = right.frame.to_parent(right.runs[0].path[:1])[0]
        assert np.allclose(end, start, atol=1e-6)


def test_every_upright_in_the_way_gets_one_bore() -> None:
    house = designed([["1 ft", "3 ft", "framing"], ["29 ft", "3 ft", "framing"]])
    for panel in house.panels:
        (part,) = panel.runs
        x0, x1 = part.path[0][0], part.path[-1][0]
        for member in panel.members:
            if member.layer != "framing" or member.role in (Role.BOTTOM_PLATE, Role.TOP_PLATE, Role.CAP_PLATE):
                continue
            at = member.frame.origin[0]
            crossed = x0 <= at and at + member.thickness <= x1
            assert len(member.bores) == int(crossed), member.id
            for bore in member.bores:
                place = member.frame.point(*bore.point)
                assert place[1:] == pytest.approx((3 * 304.8, panel.framing.thickness / 2))
                assert bore.diameter > part.diameter


def test_a_riser_bores_all_three_plates_and_ties_the_top_ones_when_wide() -> None:
    house = designed([["3 ft", 0, "framing"], ["3 ft", "97-1/8 in", "framing"]], size="pvc-3", system="drain")
    (panel,) = [panel for panel in house.panels if panel.runs]
    bored = [member.role for member in panel.members if member.bores]
    assert sorted(bored) == [Role.BOTTOM_PLATE, Role.CAP_PLATE, Role.TOP_PLATE]
    # 3.5 in. pipe in a 5.5 in. plate: more than half, so IRC R602.6.1 asks for a tie across the top plates.
    assert {tie.parts[0] for tie in panel.hardware if "tie" in tie.product} == {
        member.id for member in panel.members if member.role in (Role.CAP_PLATE, Role.TOP_PLATE) and member.bores
    }


def test_no_bore_where_the_hole_would_break_the_edge() -> None:
    house = designed([["1 ft", "3 ft", 5], ["5 ft", "3 ft", 5]], length="8 ft")
    assert not [bore for panel in house.panels for member in panel.members for bore in member.bores]


def test_an_oblique_run_gets_an_oblique_bore() -> None:
    house = designed([["1 ft", "2 ft", "framing"], ["3 ft", "3 ft", "framing"]], length="8 ft")
    bores = [bore for panel in house.panels for member in panel.members for bore in member.bores]
    assert bores
    for bore in bores:
        assert not bore.is_square
        assert abs(bore.axis[2]) == pytest.approx(2 / math.sqrt(5))


def test_cavity_depth_is_the_middle_of_the_straps() -> None:
    house = designed([["1 ft", "3 ft", "cavity"], ["5 ft", "3 ft", "cavity"]], length="8 ft")
    (panel,) = house.panels
    strapping = next(layer for layer in panel.layers if layer.kind is LayerKind.STRAPPING)
    assert panel.runs[0].path[0][2] == pytest.approx((strapping.z0 + strapping.z1) / 2)


def test_cavity_in_a_wall_without_straps_is_bad_input() -> None:
    with pytest.raises(SpecError, match="no service cavity"):
        design(one_wall("8 ft", assembly="bare", runs=[run([["1 ft", "3 ft", "cavity"], ["5 ft", "3 ft", "cavity"]])]))


coordinate = st.floats(-500, 1500).map(lambda v: round(v, 3))
points = st.tuples(coordinate, coordinate, coordinate)


@settings(max_examples=200, deadline=None)
@given(path=st.lists(points, min_size=2, max_size=6, unique=True))
def test_neighbouring_boxes_share_a_run_without_loss(path: list[tuple[float, float, float]]) -> None:
    whole = ServiceRun("R", "power", "cable", 10.0, tuple(path), WHY)
    far, beyond = (-1000.0, -1000.0, -1000.0), Frame((500.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    spaces = (
        Space(WORLD, far, (2000.0, 2000.0, 2000.0)),
        Space(WORLD, far, (500.0, 2000.0, 2000.0)),
        Space(beyond, (0.0, -1000.0, -1000.0), (1500.0, 2000.0, 2000.0)),
    )
    big, left, right = parts_in([whole], Stretches.of([path]), spaces)
    assert sum(length_of(part.path) for part in big) == pytest.approx(length_of(tuple(path)))
    on_the_joint = sum(math.dist(a, b) for a, b in pairwise(path) if a[0] == b[0] == 500.0)
    parts: list[RunPart] = [*left, *right]
    assert sum(length_of(part.path) for part in parts) - on_the_joint == pytest.approx(length_of(tuple(path)))


def test_what_a_spec_says_of_a_run_reaches_every_stretch() -> None:
    """3-1/4 x 10 in. duct on edge; 1/2 in. EMT bends at 4 in. (NEC Chapter 9 Table 2, from memory)."""
    path = [["1 ft", "3 ft", "framing"], ["29 ft", "3 ft", "framing"]]
    duct = designed(path, size="duct-3-1/4x10", system="supply air", lay="on edge", insulation="1/2 in")
    conduit = designed(path, size="emt-1/2", flow="backward")
    for house, section in ((duct, pytest.approx((82.55, 254.0))), (conduit, None)):
        for one in (*house.runs, *(part for panel in house.panels for part in panel.runs)):
            assert one.section == section
    part = duct.panels[0].runs[0]
    assert (part.family, part.outside_section) == ("duct", pytest.approx((107.95, 279.4)))
    assert conduit.panels[1].runs[0].bend_radius == pytest.approx(101.6)
    assert conduit.panels[1].runs[0].flow == "backward"
    assert designed(path, bend="6 in").runs[0].bend_radius == pytest.approx(152.4)


def test_straps_make_way_for_a_flat_duct_by_its_width() -> None:
    """A flat duct is 10 in. wide along the wall: straps across it stop that far apart, whatever its depth."""
    house = designed([["4 ft", 300, -31], ["4 ft", 2000, -31]], "8 ft", size="duct-2-1/4x10", system="supply air")
    (panel,) = house.panels
    low, high = 4 * 304.8 - 127.0, 4 * 304.8 + 127.0
    for member in panel.members:
        if member.role is Role.STRAP and member.frame.x == (1.0, 0.0, 0.0) and 350 < member.frame.origin[1] < 1900:
            start = member.frame.origin[0]
            assert start + member.length <= low - 2.9 or start >= high + 2.9, member.id


def test_spec_and_design_put_walls_in_the_same_place() -> None:
    """The cross-checks place runs of walls in the house on their own; the design is the other reading."""
    corners = [("S", (0, 0)), ("E", (8000, 0)), ("N", (8000, 6000)), ("W", (0, 6000))]
    outline = {"assembly": "exterior", "corners": [{"wall": wall, "at": at} for wall, at in corners]}
    line = {"wall": "P", "assembly": "bare", "start": [4000, 0], "end": [4000, 6000]}
    level = {"id": "1", "elevation": 300, "height": 2500, "outlines": [outline], "walls": [line]}
    spec = HouseSpec.model_validate(house_data([level]))
    seen = survey(spec, Catalog.default())
    for wall in design(spec).walls:
        expected = wall.frame.point(1234.0, 567.0, 89.0)
        assert seen.walls[wall.id].place(1234.0, 567.0, 89.0, wall.thickness) == pytest.approx(expected)
