from __future__ import annotations

import math

import pytest

from panelgen.checks.runs.sheet import run_sheet
from panelgen.model import Finding, Layer, RoundHole, RunPart, Severity, Sheet, Sleeve
from tests.checks.builders import DEPTH, LAYERS, SKIN, WHY, panel, run, sheet, sleeve
from tests.checks.looking import CATALOG, about, seen

INNER = sheet("inner", 0.0, 0.0, 1219.2, 2438.4)
HOLED = sheet("inner", 0.0, 0.0, 1219.2, 2438.4, holes=[RoundHole(600.0, 900.0, 34.925, "SL1")])
OUT = run((600.0, 900.0, -30.0), (600.0, 900.0, 70.0))


def found(part: RunPart, *sheets: Sheet, sleeves: tuple[Sleeve, ...] = (), **more: object) -> list[Finding]:
    return seen(run_sheet, panel((), [part], sheets=sheets, sleeves=sleeves, **more), CATALOG)


def test_barrier_pierced_without_a_sleeve() -> None:
    (finding,) = found(OUT, INNER)
    assert (finding.code, finding.severity, finding.parts) == ("barrier.pierced", Severity.STOP, ("run", "inner"))
    assert finding.point == pytest.approx((600.0, 900.0, -SKIN / 2))
    assert "air barrier" in finding.words


def test_sleeve_of_the_right_size_for_the_run() -> None:
    assert found(OUT, HOLED, sleeves=(sleeve("SL1", "run", 600.0, 900.0),)) == []


@pytest.mark.parametrize(
    ("part", "declared", "code", "says"),
    [
        (OUT, (), "barrier.pierced", "declare a sealed sleeve"),
        (OUT, (sleeve("SL1", "other", 600.0, 900.0),), "barrier.sleeve", "declared for run other"),
        (
            run((600.0, 900.0, -30.0), (600.0, 900.0, 70.0), diameter=30.0),
            (sleeve("SL1", "run", 600.0, 900.0),),
            "barrier.sleeve",
            "too small",
        ),
        (
            run((608.0, 900.0, -30.0), (608.0, 900.0, 70.0)),
            (sleeve("SL1", "run", 600.0, 900.0),),
            "barrier.sleeve",
            "beside its hole",
        ),
        (
            run((600.0 - 80.0, 900.0, -30.0), (600.0 + 100.0, 900.0, 30.0)),
            (sleeve("SL1", "run", 600.0, 900.0),),
            "barrier.sleeve",
            "at a slant",
        ),
        (
            run((700.0, 900.0, -30.0), (700.0, 900.0, 70.0)),
            (sleeve("SL1", "run", 600.0, 900.0),),
            "barrier.pierced",
            "declare",
        ),
    ],
    ids=["hole without a sleeve", "sleeve of another run", "too small", "beside", "slanted", "elsewhere"],
)
def test_sleeves_that_are_not_right(part: RunPart, declared: tuple[Sleeve, ...], code: str, says: str) -> None:
    (finding,) = found(part, HOLED, sleeves=declared)
    assert finding.code == code
    assert says in finding.words


def test_sheathing_that_is_no_barrier_is_noted() -> None:
    plain = tuple(Layer(one.name, one.kind, one.product, one.z0, one.z1) for one in LAYERS)
    (finding,) = found(OUT, INNER, layers=plain)
    assert (finding.code, finding.severity) == ("run.sheet", Severity.NOTE)
    assert found(OUT, HOLED, layers=plain) == []


def test_one_finding_where_a_run_crosses_two_sheets_at_their_joint() -> None:
    left, right = sheet("left", 0.0, 0.0, 598.0, 2438.4), sheet("right", 601.0, 0.0, 1219.2, 2438.4)
    assert about(found(OUT, left, right)) == [("barrier.pierced", "run", "left", "right")]


def test_both_barriers_are_two_findings_and_coming_back_is_another() -> None:
    outer = sheet("outer", 0.0, 0.0, 1219.2, 2438.4, layer="outer sheathing")
    vent = run((600.0, 900.0, -30.0), (600.0, 900.0, 300.0))
    pierced = "barrier.pierced"
    assert about(found(vent, INNER, outer)) == [(pierced, "run", "inner"), (pierced, "run", "outer")]
    back = run((600.0, 900.0, -30.0), (600.0, 900.0, 70.0), (600.0, 1500.0, 70.0), (600.0, 1500.0, -30.0))
    assert len(found(back, INNER)) == 2


@pytest.mark.parametrize(("depth", "meets"), [(0.0, False), (0.04, False), (0.1, True)])
def test_run_along_a_sheet_may_touch_it(depth: float, meets: bool) -> None:
    z = -SKIN - 11.1 + depth
    assert bool(found(run((100.0, 900.0, z), (1000.0, 900.0, z)), INNER)) == meets


def test_cut_outs_are_open() -> None:
    window = ((500.0, 800.0), (700.0, 800.0), (700.0, 1000.0), (500.0, 1000.0))
    assert found(OUT, sheet("inner", 0.0, 0.0, 1219.2, 2438.4, cutouts=[window])) == []


def test_bend_pokes_the_sheet() -> None:
    bent = run((300.0, 900.0, 70.0), (600.0, 900.0, 11.0), (900.0, 900.0, 70.0))
    assert about(found(bent, INNER)) == [("barrier.pierced", "run", "inner")]


def test_rectangular_duct_through_the_wall() -> None:
    whole = run((600.0, 900.0, -30.0), (600.0, 900.0, DEPTH), diameter=math.hypot(250.0, 80.0))
    duct = RunPart("run.1", "run", "supply air", "duct", whole.diameter, whole.path, WHY, section=(250.0, 80.0))
    window = ((470.0, 855.0), (730.0, 855.0), (730.0, 945.0), (470.0, 945.0))
    assert found(duct, sheet("inner", 0.0, 0.0, 1219.2, 2438.4, cutouts=[window])) == []
    assert about(found(duct, INNER)) == [("barrier.pierced", "run", "inner")]
