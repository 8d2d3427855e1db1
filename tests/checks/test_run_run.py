from __future__ import annotations

import math

import pytest

from panelgen.checks.runs.crossing import run_run
from panelgen.model import Fitting, RunPart
from tests.checks.builders import WHY, panel, run
from tests.checks.looking import about, seen

MAIN = run((0.0, 500.0, 70.0), (2000.0, 500.0, 70.0), id="main.1")


def found(*parts: RunPart, **more: object) -> list[tuple[str, ...]]:
    return about(seen(run_run, panel((), parts, **more)))


@pytest.mark.parametrize(("apart", "meet"), [(22.2, False), (22.16, False), (22.1, True)])
def test_crossing_and_parallel_runs(apart: float, meet: bool) -> None:
    crossing = run((1000.0, 0.0, 70.0 + apart), (1000.0, 900.0, 70.0 + apart), id="other.1")
    beside = run((300.0, 500.0 + apart, 70.0), (900.0, 500.0 + apart, 70.0), id="other.1")
    expected = [("run.run", "main", "other")] if meet else []
    assert found(MAIN, crossing) == expected
    assert found(MAIN, beside) == expected


def test_depth_and_place() -> None:
    (finding,) = seen(run_run, panel((), [MAIN, run((1000.0, 0.0, 80.0), (1000.0, 900.0, 80.0), id="other.1")]))
    assert finding.value == pytest.approx(12.2)
    assert finding.point == pytest.approx((1000.0, 500.0, 75.0))


def test_coaxial_runs() -> None:
    inner = run((500.0, 500.0, 70.0), (900.0, 500.0, 70.0), id="other.1", diameter=10.0)
    assert found(MAIN, inner) == [("run.run", "main", "other")]


def test_flat_ends_that_face_each_other() -> None:
    after = run((2000.0, 505.0, 70.0), (3000.0, 505.0, 70.0), id="other.1", system="power")
    assert found(MAIN, after) == []


def test_a_branch_of_the_same_system_is_joined() -> None:
    tee = run((1000.0, 500.0, 70.0), (1000.0, 1200.0, 70.0), id="other.1")
    assert found(MAIN, tee) == []
    assert found(MAIN, run((1000.0, 500.0, 70.0), (1000.0, 1200.0, 70.0), id="other.1", system="hot water")) == [
        ("run.run", "main", "other")
    ]


def test_runs_that_share_an_end_are_joined_and_nothing_farther_off() -> None:
    joined = run((2000.0, 500.0, 70.0), (2000.0, 900.0, 70.0), id="other.1")
    assert found(MAIN, joined) == []
    doubling_back = run((2000.0, 500.0, 70.0), (2000.0, 505.0, 70.0), (100.0, 505.0, 70.0), id="other.1")
    assert found(MAIN, doubling_back) == [("run.run", "main", "other")]


def test_consecutive_stretches_and_tight_bends_are_one_run() -> None:
    steps = [(500.0 * math.sin(a / 10), 500.0 - 500.0 * math.cos(a / 10), 70.0) for a in range(12)]
    assert found(run(*steps)) == []
    assert found(run((0.0, 0.0, 70.0), (500.0, 0.0, 70.0), (505.0, 5.0, 70.0), (505.0, 500.0, 70.0))) == []


@pytest.mark.parametrize(("back", "meet"), [(23.0, False), (12.0, True)])
def test_a_run_that_comes_back_beside_itself(back: float, meet: bool) -> None:
    hairpin = run((0.0, 0.0, 70.0), (900.0, 0.0, 70.0), (900.0, back, 70.0), (0.0, back, 70.0))
    assert found(hairpin) == ([("run.run", "run")] if meet else [])
    fold = run((0.0, 0.0, 70.0), (900.0, 0.0, 70.0), (0.0, back, 70.0))
    assert found(fold) == [("run.run", "run")]


def test_a_run_that_crosses_itself() -> None:
    loop = run((0.0, 0.0, 70.0), (900.0, 0.0, 70.0), (900.0, 400.0, 70.0), (300.0, 400.0, 70.0), (300.0, -300.0, 70.0))
    (finding,) = seen(run_run, panel((), [loop]))
    assert finding.parts == ("run",)
    assert "itself" in finding.words


def test_fittings_take_room_of_their_own() -> None:
    close = run((0.0, 525.0, 70.0), (2000.0, 525.0, 70.0), id="other.1")
    coupling = Fitting("c1", "main", "coupling", "coupling", (800.0, 500.0, 70.0), (1.0, 0.0, 0.0), 30.0, 60.0, WHY)
    assert found(MAIN, close) == []
    assert found(MAIN, close, fittings=(coupling,)) == [("run.run", "main", "other")]
    assert found(MAIN, fittings=(coupling,)) == []


def test_a_tee_belongs_to_both_runs_it_joins() -> None:
    branch = run((1000.0, 500.0, 70.0), (1000.0, 1200.0, 70.0), id="other.1")
    tee = Fitting(
        "t1", "main", "tee", "tee", (1000.0, 500.0, 70.0), (1.0, 0.0, 0.0), 30.0, 60.0, WHY, other=(0.0, 1.0, 0.0)
    )
    assert found(MAIN, branch, fittings=(tee,)) == []


def test_rectangular_ducts() -> None:
    def duct(id: str, y: float, z: float) -> RunPart:
        path = ((0.0, y, z), (2000.0, y, z))
        return RunPart(f"{id}.1", id, "supply air", "duct", math.hypot(100.0, 60.0), path, WHY, section=(100.0, 60.0))

    assert found(duct("a", 500.0, 70.0), duct("b", 600.0, 70.0)) == []
    assert found(duct("a", 500.0, 70.0), duct("b", 599.9, 70.0)) == [("run.run", "a", "b")]
    assert found(duct("a", 561.1, 70.0), MAIN) == []
    assert found(duct("a", 561.0, 70.0), MAIN) == [("run.run", "a", "main")]
