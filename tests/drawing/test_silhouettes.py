"""Silhouettes are the parts' true outlines seen square to the panel, in mm."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from panelgen.drawing.looks import Look
from panelgen.drawing.silhouettes import Silhouette, silhouettes
from panelgen.model import Bore, Fasteners, Fitting, Panel, RunPart, Sleeve
from tests.factories import SPACING, THICK, WHY, WIDE, raked_panel, wall_panel


def bare(**changes: object) -> Panel:
    return replace(wall_panel(runs=0), **{"runs": (), "boxes": (), **changes})


def run(*path: tuple[float, float, float], **changes: object) -> RunPart:
    return replace(RunPart("r.1", "r", "drain", "pipe", 40.0, path, WHY), **changes)


def find(panel: Panel, id: str, look: Look) -> Silhouette:
    return next(part for part in silhouettes(panel) if part.id == id and part.look is look)


def test_stud_is_its_edge_and_its_length() -> None:
    panel = wall_panel()
    stud = next(member for member in panel.members if member.id == "1W01.s01")
    area = find(panel, stud.id, Look.MEMBER).area
    x = SPACING - THICK / 2
    assert area.bounds == pytest.approx((x, THICK, x + THICK, THICK + stud.length))
    assert area.area == pytest.approx(THICK * stud.length)


def test_stud_under_a_slope_has_four_corners() -> None:
    panel = raked_panel()
    stud = next(member for member in panel.members if member.id == "2W07.s02")
    area = find(panel, stud.id, Look.MEMBER).area
    assert len(area.exterior.coords) == 5
    assert area.area == pytest.approx(THICK * stud.centre_length)


def test_bore_is_a_band_as_high_as_it_is_wide_through_its_stick() -> None:
    panel = wall_panel()
    bores = [part for part in silhouettes(panel) if part.look is Look.BORE]
    drilled = [(member, bore) for member in panel.members for bore in member.bores]
    assert len(bores) == len(drilled)
    for part, (member, bore) in zip(bores, drilled, strict=True):
        assert part.area.area == pytest.approx(bore.diameter * THICK / abs(bore.axis[2]), rel=1e-6)
        assert shapely.covers(find(panel, member.id, Look.MEMBER).area.buffer(1e-6), part.area)


def test_bore_seen_end_on_is_a_disc() -> None:
    panel = bare()
    header = next(member for member in panel.members if member.id == "1W01.h0")
    bored = replace(header, bores=(Bore((600.0, 100.0, THICK / 2), 50.0),))
    (hole,) = [part for part in silhouettes(replace(panel, members=(bored,))) if part.look is Look.BORE]
    assert hole.area.area == pytest.approx(math.pi * 25**2, rel=0.02)


def test_run_has_its_true_width_and_a_round_bend() -> None:
    panel = bare(runs=(run((500.0, 300.0, 60.0), (1500.0, 300.0, 60.0), (1500.0, 900.0, 60.0)),))
    area = find(panel, "r", Look.RUN).area
    assert area.bounds == pytest.approx((500.0, 280.0, 1520.0, 900.0))
    assert area.area == pytest.approx(1020 * 40 + 600 * 40 - 20 * 40 + 20 * 20 - (1 - math.pi / 4) * 400, rel=0.01)


def test_run_through_the_panel_is_a_disc() -> None:
    panel = bare(runs=(run((500.0, 300.0, -60.0), (500.0, 300.0, 200.0)),))
    assert find(panel, "r", Look.RUN).area.area == pytest.approx(math.pi * 20**2, rel=0.02)


def test_rectangular_run_is_as_wide_as_its_section_and_insulation() -> None:
    duct = run((500.0, 300.0, 60.0), (1500.0, 300.0, 60.0), section=(200.0, 80.0), insulation=25.0)
    assert find(bare(runs=(duct,)), "r", Look.RUN).area.bounds == pytest.approx((500.0, 175.0, 1500.0, 425.0))


def test_fitting_has_the_id_of_its_run() -> None:
    elbow = Fitting("f", "r", "coupling", "pvc", (800.0, 300.0, 60.0), (1.0, 0.0, 0.0), 60.0, 100.0, WHY)
    panel = bare(runs=(run((500.0, 300.0, 60.0), (1500.0, 300.0, 60.0)),), fittings=(elbow,))
    areas = [part.area for part in silhouettes(panel) if part.id == "r"]
    assert [area.bounds[3] - area.bounds[1] for area in areas] == pytest.approx([40.0, 60.0])


def test_sheet_has_its_cut_outs_and_the_look_of_its_side() -> None:
    parts = silhouettes(wall_panel())
    outer, inner = ([part for part in parts if part.look is look] for look in (Look.OUTER, Look.INNER))
    assert len(outer) == len(inner) == 4
    window = (2724.0 - 1524.0) * (2057.4 - 914.4)
    assert sum(part.area.area for part in outer) == pytest.approx(4876.8 * 2743.2 - window)


def test_box_sleeve_and_strap_stand_where_they_are() -> None:
    panel = replace(wall_panel(), sleeves=(Sleeve("sl", "r", "sleeve", "tape", 2000.0, 500.0, 100.0, WHY),))
    assert find(panel, "1W01.box", Look.BOX).area.bounds == pytest.approx((500.0, 400.0, 595.0, 455.0))
    assert find(panel, "sl", Look.SLEEVE).area.bounds == pytest.approx((1950.0, 450.0, 2050.0, 550.0))
    assert find(panel, "1W01.t0", Look.STRAP).area.area == pytest.approx(63.5 * panel.length)


def test_nails_are_drawn_only_where_asked_for() -> None:
    index = np.zeros(2, dtype=np.int64)
    heads = np.array([(100.0, 200.0, WIDE), (300.0, 200.0, WIDE)])
    nails = Fasteners("nails", "8d", 63.5, 3.3, heads, (0.0, 0.0, -1.0), index, index, True, WHY)
    panel = bare(fasteners=(nails,))
    assert [part for part in silhouettes(panel) if part.look is Look.NAIL] == []
    (row,) = [part for part in silhouettes(panel, ["nails"]) if part.look is Look.NAIL]
    places = sorted(piece.centroid.coords[0] for piece in shapely.get_parts(row.area))
    assert places == [pytest.approx((100.0, 200.0)), pytest.approx((300.0, 200.0))]
