"""Fittings follow from the shape of a run, its branches and the lengths its pipe comes in."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from panelgen.catalog import Catalog
from panelgen.design import design
from panelgen.design.services.fittings import fittings_of
from panelgen.design.services.runs import house_run
from panelgen.model import Finding, Fitting
from panelgen.spec import RunSpec
from tests.design.houses import one_wall

CATALOG = Catalog.default()
FOOT = 304.8


def spec(path: list[tuple[float, float, float]], size: str = "pvc-2", **fields: Any) -> RunSpec:
    return RunSpec.model_validate({"id": "R", "system": "drain", "size": size, "path": path} | fields)


def fitted(*specs: RunSpec) -> tuple[tuple[Fitting, ...], tuple[Finding, ...]]:
    return fittings_of(specs, [house_run(one, {}, {}, CATALOG) for one in specs], CATALOG)


def test_pipe_turns_by_elbows() -> None:
    """24 CFR 3280.610 lists the angles of drainage fittings: 90 and 45 degrees are a 1/4 and a 1/8 bend."""
    fittings, findings = fitted(spec([(0, 0, 0), (1000, 0, 0), (1000, 1000, 0), (2000, 2000, 0)]))
    assert not findings
    assert [(one.id, one.product) for one in fittings] == [
        ("R/elbow-1", "pvc-2 1/4 bend"),
        ("R/elbow-2", "pvc-2 1/8 bend"),
    ]
    quarter, eighth = fittings
    assert (quarter.point, quarter.axis, quarter.other) == ((1000, 0, 0), (1, 0, 0), (0, 1, 0))
    assert [one.angle for one in fittings] == pytest.approx([90, 45])
    assert quarter.length > eighth.length
    assert quarter.diameter == pytest.approx(2.75 * 25.4)
    assert "3280.610" in quarter.why.source


def test_a_turn_that_no_elbow_makes_is_reported() -> None:
    fittings, (finding,) = fitted(spec([(0, 0, 0), (1000, 0, 0), (1866.025, 500, 0)]))
    assert (finding.code, finding.severity) == ("fitting.angle", "warn")
    assert (finding.value, finding.limit) == pytest.approx((30.0, 22.5))
    assert finding.house_point == (1000, 0, 0)
    assert [one.kind for one in fittings] == ["elbow"]


def test_a_run_that_turns_back_keeps_its_size() -> None:
    (elbow,), (finding,) = fitted(spec([(0, 0, 0), (1000, 0, 0), (0, 0, 0)]))
    assert finding.value == pytest.approx(180.0)
    assert elbow.length < 1000.0


@pytest.mark.parametrize("size", ["pex-1/2", "nm-12/2", "emt-1/2"])
def test_tube_cable_and_conduit_are_bent(size: str) -> None:
    fittings, findings = fitted(spec([(0, 0, 0), (1000, 0, 0), (1000, 1000, 0)], size))
    assert (fittings, findings) == ((), ())


def test_a_pipe_with_a_bend_radius_is_bent() -> None:
    assert fitted(spec([(0, 0, 0), (1000, 0, 0), (1000, 1000, 0)], "copper-1/2", bend=150)) == ((), ())


def test_an_elbow_asked_for_takes_the_place_of_a_bend() -> None:
    path = [(0, 0, 0), (1000, 0, 0), (1000, 1000, 0), (2000, 1000, 0)]
    (elbow,), _ = fitted(spec(path, "pex-1/2", fittings=[{"kind": "elbow", "at": 1995}]))
    assert (elbow.point, elbow.product) == ((1000, 1000, 0), "pex-1/2 elbow")


def test_long_pipes_are_joined_at_every_stock_length() -> None:
    """PVC comes in lengths of 10 ft: common practice, no source."""
    fittings, _ = fitted(spec([(0, 0, 0), (25 * FOOT, 0, 0)]))
    assert [one.point[0] / FOOT for one in fittings] == pytest.approx([10, 20])
    assert {one.kind for one in fittings} == {"coupling"}
    assert fitted(spec([(0, 0, 0), (10 * FOOT, 0, 0)])) == ((), ())


def test_an_elbow_starts_a_new_length() -> None:
    fittings, _ = fitted(spec([(0, 0, 0), (9 * FOOT, 0, 0), (9 * FOOT, 9 * FOOT, 0)]))
    assert [one.kind for one in fittings] == ["elbow"]


def test_conduit_is_not_joined_within_a_bend() -> None:
    """1/2 in. conduit bends at 4 in.: its bend begins that far before the corner."""
    fittings, _ = fitted(spec([(0, 0, 0), (10 * FOOT, 0, 0), (10 * FOOT, 5 * FOOT, 0)], "emt-1/2"))
    assert [one.point for one in fittings] == [pytest.approx((10 * FOOT - 101.6, 0, 0))]


def test_cable_has_no_couplings() -> None:
    assert fitted(spec([(0, 0, 0), (100 * FOOT, 0, 0)], "nm-12/2")) == ((), ())


def test_a_branch_starts_at_a_tee_of_its_trunk() -> None:
    trunk = spec([(0, 0, 0), (2000, 0, 0)], "pvc-3")
    branch = spec([(500, 0, 0), (500, 0, 800)], id="B", branch_of="R")
    (tee,), _ = fitted(trunk, branch)
    assert (tee.id, tee.run, tee.product) == ("R/tee-B", "R", "pvc-3 tee")
    assert (tee.point, tee.axis, tee.other) == ((500, 0, 0), (1, 0, 0), (0, 0, 1))


def test_a_branch_at_the_end_of_its_trunk_goes_on_by_an_adapter() -> None:
    branch = spec([(2000, 0, 0), (3000, 0, 0)], id="B", branch_of="R")
    (adapter,), _ = fitted(spec([(0, 0, 0), (2000, 0, 0)], "pvc-3"), branch)
    assert (adapter.kind, adapter.point) == ("adapter", (2000, 0, 0))


def test_a_fitting_goes_over_the_insulation() -> None:
    (elbow,), _ = fitted(spec([(0, 0, 0), (1000, 0, 0), (1000, 1000, 0)], insulation=12.7))
    assert elbow.diameter == pytest.approx(3.75 * 25.4)


def test_a_duct_on_edge_has_fittings_on_edge() -> None:
    flat, edge = (
        fitted(spec([(0, 0, 0), (3000, 0, 0)], "duct-3-1/4x10", lay=lay))[0][0] for lay in ("flat", "on edge")
    )
    assert flat.section is not None
    assert edge.section == flat.section[::-1]


def test_a_run_by_its_diameter_has_no_fittings() -> None:
    bare = RunSpec.model_validate({"id": "R", "system": "drain", "diameter": 50, "path": [(0, 0, 0), (9999, 0, 0)]})
    assert fitted(bare) == ((), ())


@settings(max_examples=100, deadline=None)
@given(
    legs=st.lists(st.tuples(st.sampled_from(((1, 0), (0, 1))), st.floats(100.0, 9000.0)), min_size=1, max_size=5),
    shares=st.lists(st.floats(0.0, 1.0), max_size=3),
)
def test_no_pipe_is_longer_than_its_stock(legs: list[tuple[tuple[int, int], float]], shares: list[float]) -> None:
    path = [(0.0, 0.0, 0.0)]
    for (x, y), length in legs:
        path.append((path[-1][0] + x * length, path[-1][1] + y * length, 0.0))
    asked = [{"kind": "coupling", "share": share} for share in shares]
    one = spec(path, fittings=asked)
    fittings, _ = fitted(one)
    assert len({fitting.id for fitting in fittings}) == len(fittings)
    # On a staircase that only goes right and up, x + y is the way along it.
    places = [0.0, *(fitting.point[0] + fitting.point[1] for fitting in fittings), path[-1][0] + path[-1][1]]
    assert places == sorted(places)
    assert max(b - a for a, b in pairwise(places)) <= 10 * FOOT + 0.01


def test_fittings_are_in_the_panel_that_holds_them() -> None:
    run = {"id": "R1", "system": "drain", "size": "pvc-2", "wall": "N1"}
    path = [["2 ft", 500, "framing"], ["10 ft", 500, "framing"], ["10 ft", 2000, "framing"]]
    house = design(one_wall("16 ft", shop={"line_length": "9 ft"}, runs=[run | {"path": path}]))
    held = [(panel, fitting) for panel in house.panels for fitting in panel.fittings]
    ((panel, elbow),) = held
    assert panel.wall_start <= 10 * FOOT <= panel.wall_start + panel.length
    assert elbow.point[:2] == pytest.approx((10 * FOOT - panel.wall_start, 500.0))
    assert elbow.axis == pytest.approx((1, 0, 0))
    assert elbow.other == pytest.approx((0, 1, 0))
