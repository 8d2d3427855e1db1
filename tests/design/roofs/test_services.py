"""Services in roofs: stacks through them in sleeves, runs in and across rafter bays, boxes, and planted faults."""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.house import design
from panelgen.errors import SpecError
from panelgen.model import Finding, HardwareKind, House, Member, Panel, Role
from panelgen.plans.joint_schedule import joint_schedule
from panelgen.spec import HouseSpec, loads
from tests.design.roofs.houses import BOX, ELL, Ring, roofs_of, spec_of

_ROOF = "rise: 6, run: 12, overhang: 16 in, openings: [{id: SK, edge: w0, at: [3800, 1500], size: [500, 900]}]"
_SPACING = 24 * 25.4
_BAY = 5.5 * _SPACING
"""The middle of a bay between rafters on layout, along w0 from its start."""

_RUNS = ("run.", "barrier.", "bore.", "sheet.sleeve", "sleeve.lost", "nail.left-out", "fastener.run", "box.")


def served(ring: Ring = BOX, roof: str = _ROOF, **services: Any) -> HouseSpec:
    """A house with a roof and these services."""
    plain = spec_of(ring, roof).model_dump(mode="json", exclude_defaults=True)
    return loads(json.dumps({**plain, **services}))


def stack(x: float, y: float, size: str = "pvc-2") -> dict[str, Any]:
    return {"id": "V", "system": "vent", "size": size, "path": [[x, y, 2000.0], [x, y, 8000.0]]}


def sleeve(plane: str, **fields: Any) -> dict[str, Any]:
    return {"id": "S", "run": "V", "wall": plane, "product": "sleeve-2-1/2", "seal": "flashing", **fields}


def cable(at: float, depth: float | str, size: str = "nm-12/2") -> dict[str, Any]:
    """A run across the rafters, `at` mm up the slope."""
    path = [[1500.0, at, depth], [3300.0, at, depth]]
    return {"id": "V", "system": "power", "size": size, "wall": "R-w0", "path": path}


def told(house: House, *codes: str) -> list[Finding]:
    return [one for one in check_house(house, Catalog.default()) if one.code.startswith(codes or _RUNS)]


def holding(house: House) -> list[Panel]:
    return [panel for panel in roofs_of(house) if panel.runs]


def test_a_stack_goes_through_the_roof_in_a_sleeve_that_leans_as_it_does() -> None:
    house = design(served(runs=[stack(_BAY, 1600.0)], sleeves=[sleeve("R-w0")]))
    assert told(house) == []
    (panel,) = holding(house)
    (part,) = panel.runs
    low, high = panel.depth
    assert math.dist(*part.path) == pytest.approx((high - low) * math.hypot(1.0, 0.5))  # plumb through 6 in 12
    holes = [(sheet, hole) for sheet in panel.sheets for hole in sheet.round_holes]
    assert {sheet.layer for sheet, _ in holes} == {"outer sheathing", "inner sheathing"}
    for sheet, hole in holes:
        x, y, _ = panel.frame.point(*sheet.frame.point(hole.x, hole.y, sheet.thickness / 2))
        assert (x, y) == pytest.approx((_BAY, 1600.0))
        outside = Catalog.default().sleeve("sleeve-2-1/2").outside
        assert hole.diameter == pytest.approx(outside * math.hypot(1.0, 0.5) + sheet.thickness * 0.5)


def test_the_bay_is_filled_around_a_stack_and_its_sleeve_is_counted() -> None:
    with_stack, without = (
        design(served(runs=runs, sleeves=sleeves))
        for runs, sleeves in (([stack(_BAY, 1600.0)], [sleeve("R-w0")]), ([], []))
    )
    (panel,) = holding(with_stack)
    (part,) = panel.runs
    depth = panel.framing.thickness
    taken = sum(bay.gross_volume - bay.net_volume for bay in panel.bays)
    assert taken == pytest.approx(part.outside_area * depth * math.hypot(1.0, 0.5) * 1e-9)
    counts = [joint_schedule(one, Catalog.default()) for one in (with_stack, without)]
    assert [one.sleeves for one in counts] == [1, 0]
    assert counts[0].sleeved - counts[1].sleeved == pytest.approx(math.pi * panel.sleeves[0].diameter)


def test_a_stack_without_a_sleeve_pierces_both_barriers() -> None:
    house = design(served(runs=[stack(_BAY, 1600.0)]))
    assert sorted(one.code for one in told(house)) == ["barrier.pierced", "barrier.pierced"]


def test_a_sleeve_that_is_square_to_the_roof_does_not_take_a_plumb_stack() -> None:
    at = [_BAY, 1600.0 * math.hypot(1.0, 0.5)]
    house = design(served(runs=[stack(_BAY, 1600.0)], sleeves=[sleeve("R-w0", at=at, product="sleeve-2-1/2")]))
    assert {one.code for one in told(house)} <= {"barrier.sleeve", "barrier.pierced"}
    assert told(house)


def test_a_sleeve_off_its_run_is_lost() -> None:
    house = design(served(runs=[stack(_BAY, 1600.0)], sleeves=[sleeve("R-w2")]))
    assert [one.parts for one in told(house, "sleeve.lost")] == [("S",)]


@pytest.mark.parametrize(
    ("x", "y", "roles"),
    [
        (5 * _SPACING, 1600.0, {Role.RAFTER}),
        (5.4 * _SPACING, 2990.0, {Role.RIDGE}),
        (3800.0, 700.0, set[Role]()),  # through the skylight's lower header, or beside it
    ],
)
def test_a_stack_through_a_stick_of_the_roof_is_found(x: float, y: float, roles: set[Role]) -> None:
    roof = _ROOF if roles else _ROOF.replace("[3800, 1500]", "[3800, 1282]")
    house = design(served(roof=roof, runs=[stack(x, y)], sleeves=[sleeve("R-w0")]))
    members = {member.id: member for panel in house.panels for member in panel.members}
    met = {members[one.parts[1]].role for one in told(house, "run.member")}
    assert met >= (roles or {Role.HEADER})


def test_a_stack_through_an_opening_is_found() -> None:
    assert told(design(served(runs=[stack(3800.0, 1350.0)])), "run.opening")


def test_a_run_across_the_rafters_bores_them() -> None:
    house = design(served(runs=[cable(900.0, "framing")]))
    bored = [member for panel in holding(house) for member in panel.members if member.bores]
    assert len(bored) >= 2
    assert {member.role for member in bored} == {Role.RAFTER}
    assert told(house) == []


@pytest.mark.parametrize(("depth", "size", "code"), [("framing", "pvc-3", "bore.size"), (30.0, "pvc-1", "bore.edge")])
def test_a_bore_beyond_what_a_rafter_may_lose_is_found(depth: float | str, size: str, code: str) -> None:
    """IRC R802.7, as R502.8: a hole is no wider than a third of the depth, and two inches from the edges."""
    assert told(design(served(runs=[cable(900.0, depth, size)])), code)


def test_a_run_near_the_edge_of_a_rafter_is_shielded() -> None:
    house = design(served(runs=[cable(900.0, 20.0)]))
    plates = [one for panel in holding(house) for one in panel.hardware if one.kind is HardwareKind.SHIELD]
    assert plates
    assert {plate.point[2] for plate in plates} == {0.0}


def test_a_duct_lies_in_a_bay() -> None:
    path = [[_BAY, 400.0, "framing"], [_BAY, 2600.0, "framing"]]
    house = design(served(runs=[{"id": "V", "system": "supply air", "size": "duct-6", "wall": "R-w0", "path": path}]))
    assert told(house) == []
    assert [len(panel.runs) for panel in holding(house)] == [1]


def test_a_box_is_set_in_a_bay_and_found_in_a_rafter() -> None:
    box = {"id": "B", "wall": "R-w0", "product": "square-4x1-1/4"}
    beside, inside = (design(served(boxes=[{**box, "at": [x, 1200.0]}])) for x in (_BAY + 100.0, 5 * _SPACING))
    assert [one.code for one in told(beside) if "member" in one.code] == []
    (panel,) = [panel for panel in roofs_of(beside) if panel.boxes]
    x, y, _ = panel.boxes[0].frame.point(*(size / 2 for size in panel.boxes[0].size))
    assert (x + panel.wall_start, y + panel.wall_base) == pytest.approx((_BAY + 100.0, 1200.0))
    assert told(inside, "box.member")


def test_services_of_a_plane_that_there_is_not_are_bad_input() -> None:
    with pytest.raises(SpecError, match="R-w9"):
        served(runs=[{**cable(900.0, "framing"), "wall": "R-w9"}])


@pytest.mark.parametrize("ring", [BOX, ELL])
def test_plumb_runs_are_in_one_panel_of_the_roof_each(ring: Ring) -> None:
    """Panels beside a hip, valley or joint overlap as boxes, but not in the house."""
    rng = np.random.default_rng(3)
    xs, ys = zip(*ring, strict=True)
    places = rng.uniform((min(xs), min(ys)), (max(xs), max(ys)), size=(60, 2)).tolist()
    runs = [{**stack(x, y), "id": f"V{n}"} for n, (x, y) in enumerate(places)]
    house = design(served(ring, runs=runs))
    low, high = roofs_of(house)[0].depth
    lengths: dict[str, float] = {}
    for panel in roofs_of(house):
        for part in panel.runs:
            lengths[part.run] = lengths.get(part.run, 0.0) + sum(math.dist(*leg) for leg in pairwise(part.path))
    inside = [name for (x, y), name in zip(places, (run["id"] for run in runs), strict=True) if _holds(ring, x, y)]
    assert {name: lengths[name] for name in inside} == pytest.approx(
        dict.fromkeys(inside, (high - low) * math.hypot(1.0, 0.5)), abs=1e-3
    )


def _holds(ring: Sequence[tuple[float, float]], x: float, y: float) -> bool:
    """Whether a place in plan is inside a ring, by crossings to its right."""
    crossed = False
    for (xa, ya), (xb, yb) in pairwise((*ring, ring[0])):
        if (ya > y) != (yb > y) and x < xa + (xb - xa) * (y - ya) / (yb - ya):
            crossed = not crossed
    return crossed


def test_whatever_a_random_run_meets_is_found() -> None:
    """Places along random runs are looked up in the wood of the roof by themselves: what is met has a finding."""
    rng = np.random.default_rng(11)
    runs = []
    for number in range(80):
        start = rng.uniform((0.0, 0.0, 2700.0), (10000.0, 6000.0, 4500.0))
        way = rng.normal(size=3)
        end = start + way / np.linalg.norm(way) * rng.uniform(400.0, 2500.0)
        path = [[round(float(v), 1) for v in point] for point in (start, end)]
        runs.append({"id": f"V{number}", "system": "data", "diameter": 20.0, "path": path})
    house = design(served(runs=runs))
    found = {(one.parts[0], one.parts[1]) for one in told(house, "run.member")}
    met = 0
    for run in house.runs:
        points = np.linspace(run.path[0], run.path[1], 200)
        for panel in roofs_of(house):
            local = panel.frame.to_local(points)
            for member in panel.members:
                if _is_in_wood(member, run.id, member.frame.to_local(local)):
                    met += 1
                    assert (run.id, member.id) in found
    assert met >= 10


def _is_in_wood(member: Member, run: str, points: np.ndarray) -> bool:
    """Whether any of some points of a run is well inside a stick, and has no hole made for the run there."""
    if any(run in bore.runs for bore in member.bores):
        return False
    for x, y, z in points.tolist():
        if not (1.0 < y < member.width - 1.0 and 1.0 < z < member.thickness - 1.0):
            continue
        low, high = member.end_x(member.start, False, y, z), member.end_x(member.end, True, y, z)
        if low + 1.0 < x < high - 1.0 and not any(notch.x0 - 1.0 < x < notch.x1 + 1.0 for notch in member.notches):
            return True
    return False
