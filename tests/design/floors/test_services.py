"""Services in floors: runs through joists, risers in sleeves and shafts, and what only a maker may allow."""

from __future__ import annotations

from typing import Any

import pytest

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.house import design
from panelgen.model import Finding, House, Panel, PanelKind, Role
from panelgen.proposals.courses import course_of
from panelgen.proposals.standing import Standing
from tests.design.floors.houses import FOOT, bearing, floored

SAWN: dict[str, Any] = {"stock": "2x12", "depth": 11.25 * 25.4, "spacing": 16 * 25.4}
MIDDLE = [bearing("1M", (0.0, 12 * FOOT), (40 * FOOT, 12 * FOOT))]
_TOP = 2466.975


def pipe(z: float, diameter: float = 40.0) -> dict[str, Any]:
    """A level pipe across the joists, its axis `z` above the bottom of the framing."""
    return {
        "id": "P1",
        "system": "cold water",
        "diameter": diameter,
        "path": [[1000.0, 1500.0, _TOP + z], [6000.0, 1500.0, _TOP + z]],
    }


def riser(x: float, y: float) -> dict[str, Any]:
    return {"id": "R1", "system": "vent", "diameter": 48.0, "path": [[x, y, 1500.0], [x, y, 4000.0]]}


def floors(house: House) -> list[Panel]:
    return [panel for panel in house.panels if panel.kind is PanelKind.FLOOR]


def checked(house: House, *codes: str) -> list[Finding]:
    return [finding for finding in check_house(house, Catalog.default()) if finding.code in codes]


def test_joists_are_bored_where_a_run_crosses_them() -> None:
    house = design(floored(**SAWN, lower=MIDDLE, runs=[pipe(140.0)]))
    bored = [m for panel in floors(house) for m in panel.members if m.bores]
    layout = [n * SAWN["spacing"] for n in range(1, 40) if 1000.0 < n * SAWN["spacing"] < 6000.0]
    assert len(bored) >= len(layout)
    assert {member.role for member in bored} == {Role.JOIST}
    assert not checked(house, "run.member", "bore.size", "bore.edge", "bore.unruled", "run.joint", "run.outside")


@pytest.mark.parametrize(("z", "diameter", "code"), [(140.0, 110.0, "bore.size"), (50.0, 40.0, "bore.edge")])
def test_a_bore_beyond_what_a_joist_may_lose_is_found(z: float, diameter: float, code: str) -> None:
    """IRC R502.8: a hole is no wider than a third of the depth, and two inches from the edges."""
    house = design(floored(**SAWN, lower=MIDDLE, runs=[pipe(z, diameter)]))
    assert checked(house, code)


def test_engineered_joists_may_not_be_bored_without_their_makers_word() -> None:
    house = design(floored(lower=MIDDLE, runs=[pipe(140.0)]))
    found = checked(house, "bore.unruled")
    assert found
    members = {m.id: m for panel in floors(house) for m in panel.members}
    assert all(members[finding.parts[0]].engineered for finding in found)


def test_a_riser_goes_through_the_deck_in_its_sleeve() -> None:
    at = (1220.0, 5000.0)
    sleeve = {"id": "S1", "run": "R1", "wall": "F2", "at": list(at), "product": "sleeve-2", "seal": "gasket"}
    house = design(floored(lower=MIDDLE, runs=[riser(*at)], sleeves=[sleeve]))
    holes = [(panel, sheet, hole) for panel in floors(house) for sheet in panel.sheets for hole in sheet.round_holes]
    ((panel, sheet, hole),) = holes
    x, y, _ = panel.frame.point(sheet.frame.origin[0] + hole.x, sheet.frame.origin[1] + hole.y, 0.0)
    assert (x, y) == pytest.approx(at)
    assert not checked(house, "run.sheet", "run.member", "run.opening")


def test_a_riser_without_a_sleeve_is_noted() -> None:
    house = design(floored(lower=MIDDLE, runs=[riser(1220.0, 5000.0)]))
    assert {finding.panel for finding in checked(house, "run.sheet")} <= {panel.label for panel in floors(house)}
    assert checked(house, "run.sheet")


@pytest.mark.parametrize(("kind", "found"), [("shaft", 0), ("stair", 1), ("hatch", 1)])
def test_runs_lead_through_shafts_only(kind: str, found: int) -> None:
    hole = {"id": "H1", "at": [4 * FOOT, 15 * FOOT], "size": [500.0, 600.0], "kind": kind}
    house = design(floored(lower=MIDDLE, openings=[hole], runs=[riser(4 * FOOT + 250.0, 15 * FOOT + 300.0)]))
    assert len(checked(house, "run.opening")) == found
    assert not checked(house, "run.sheet", "run.member")


def test_a_run_may_be_given_along_and_across_the_joists_of_a_floor() -> None:
    run = {
        "id": "P1",
        "system": "cold water",
        "diameter": 20.0,
        "wall": "F2",
        "path": [[1000.0, 1500.0, "framing"], [6000.0, 1500.0, "framing"]],
    }
    spec = floored(**SAWN, lower=MIDDLE, runs=[run])
    house = design(spec)
    assert house.runs[0].path[0] == pytest.approx((1000.0, 1500.0, _TOP + 11.25 * 25.4 / 2))
    course = course_of(Standing.of(spec, house, ()), "P1")
    assert course is not None
    assert course.points[1] == pytest.approx((6000.0, 1500.0, 11.25 * 25.4 / 2))


def test_a_block_makes_way_for_a_riser() -> None:
    at = (1300.0, 12 * FOOT)
    clear, met = (
        [m.id for panel in floors(design(floored(**SAWN, lower=MIDDLE, runs=runs))) for m in panel.members]
        for runs in ([], [riser(*at)])
    )
    assert [name.split("@")[0] for name in clear if name not in met] == ["F2/joint-block", "F2/joint-block"]
    house = design(floored(**SAWN, lower=MIDDLE, runs=[riser(*at)]))
    assert len(checked(house, "blocking.left-out")) == 2
    assert not checked(house, "run.member")


def test_a_block_is_bored_for_a_run_along_the_joists() -> None:
    z = _TOP + 140.0
    run = {"id": "P2", "system": "cold water", "diameter": 30.0, "path": [[1400.0, 1000.0, z], [1400.0, 6000.0, z]]}
    house = design(floored(**SAWN, lower=MIDDLE, runs=[run]))
    bored = [m for panel in floors(house) for m in panel.members if m.bores]
    assert {member.role for member in bored} == {Role.BLOCKING}
    assert not checked(house, "run.member", "blocking.left-out")
