"""Runs through whole houses: one run with a part in every panel it passes, and what random ones meet is found."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.house import design
from panelgen.geometry.frames import Floats
from panelgen.model import Barrier, Finding, House, Member, Panel, PanelKind, Severity, Sheet
from panelgen.spec import loads
from tests.random_houses import random_spec

HERON = Path("examples/heron-house.yaml").read_text(encoding="utf-8")
_SIZES = ("nm-12/2", "pex-3/4", "pvc-2", "pvc-3", "duct-4", "emt-1/2")
_WELL_IN = 1.0
"""mm. Places nearer to a face than this are left to rounding."""


def told(house: House, run: str) -> list[Finding]:
    return [one for one in check_house(house, Catalog.default()) if run in one.parts]


def of_heron(*without: str, path: str = "") -> House:
    """Heron House without the lines of these ids, its stack led elsewhere if that is said."""
    lines = [line for line in HERON.splitlines() if not any(f"{{id: {name}," in line for name in without)]
    text = "\n".join(lines)
    return design(loads(text.replace("[[14 ft, 15 ft, 20], [14 ft, 15 ft, 24 ft]]", path) if path else text))


def test_a_stack_is_one_run_with_a_part_in_every_panel() -> None:
    house = of_heron()
    kinds = [panel.kind for panel in house.panels if any(part.run == "VS1" for part in panel.runs)]
    walls = [PanelKind.INTERIOR_WALL, PanelKind.FLOOR, PanelKind.INTERIOR_WALL]
    assert kinds == [*walls, PanelKind.CEILING, PanelKind.ROOF]
    assert told(house, "VS1") == []


@pytest.mark.parametrize(
    ("sleeve", "code", "kind"),
    [
        ("SL3", "run.sheet", PanelKind.FLOOR),
        ("SL4", "barrier.pierced", PanelKind.CEILING),
        ("SL5", "barrier.pierced", PanelKind.ROOF),
    ],
)
def test_a_missing_sleeve_is_found_in_its_panel(sleeve: str, code: str, kind: PanelKind) -> None:
    house = of_heron(sleeve)
    (found,) = told(house, "VS1")
    kinds = {panel.label: panel.kind for panel in house.panels}
    assert (found.code, kinds[found.panel]) == (code, kind)


def test_a_stack_beside_its_bay_meets_joist_and_rafter() -> None:
    house = of_heron(path="[[176, 15 ft, 130], [176, 15 ft, 24 ft]]")
    members = {member.id: panel.kind for panel in house.panels for member in panel.members}
    met = {members[one.parts[1]] for one in told(house, "VS1") if one.code == "run.member"}
    assert met >= {PanelKind.CEILING, PanelKind.ROOF}
    assert all(one.severity is Severity.STOP for one in told(house, "VS1") if one.code == "run.member")


def with_runs(seed: int, count: int) -> House:
    """A random house with random runs, straight or bent, through whatever is there."""
    rng = np.random.default_rng(seed)
    spec: dict[str, Any] = random_spec(seed)
    ring = np.array([corner["at"] for corner in spec["levels"][0]["outlines"][0]["corners"]], dtype=float)
    top = 110.0 * len(spec["levels"]) + 60.0
    spec["runs"] = []
    for number in range(count):
        low, high = (*(ring.min(axis=0) - 12.0), 0.0), (*(ring.max(axis=0) + 12.0), top)
        points = [rng.uniform(low, high)]
        for _ in range(int(rng.integers(1, 4))):
            way = rng.normal(size=3) if number % 2 else np.eye(3)[rng.integers(0, 3)] * rng.choice((-1.0, 1.0))
            points.append(points[-1] + way / np.linalg.norm(way) * rng.uniform(12.0, 120.0))
        path = [[round(float(value), 3) for value in point] for point in points]
        spec["runs"].append({"id": f"Q{number}", "system": "data", "size": _SIZES[number % len(_SIZES)], "path": path})
    return design(loads(json.dumps(spec)))


@pytest.mark.parametrize("seed", [1, 7, 36, 38, 41])
def test_whatever_random_runs_meet_is_found(seed: int) -> None:
    """Places along the runs are looked up in wood and barrier sheets by themselves, panel by panel."""
    house = with_runs(seed, 24)
    findings = check_house(house, Catalog.default())
    in_wood = {one.parts[:2] for one in findings if one.code == "run.member"}
    pierced = {(one.parts[0], one.panel) for one in findings if one.code.startswith("barrier.")}
    met = 0
    for run in house.runs:
        shares = np.linspace(0.0, 1.0, 80)[:, None]
        path = np.array(run.path)
        points = np.concatenate([a + shares * (b - a) for a, b in pairwise(path)])
        for panel in house.panels:
            local = panel.frame.to_local(points)
            for member in panel.members:
                if not member.loose and _is_in(member, run.id, member.frame.to_local(local)):
                    met += 1
                    assert (run.id, member.id) in in_wood
            for sheet in _barriers(panel):
                if _is_through(sheet, sheet.frame.to_local(local)):
                    met += 1
                    assert (run.id, panel.label) in pierced
    assert met >= 5


def _barriers(panel: Panel) -> list[Sheet]:
    names = {layer.name for layer in panel.layers if layer.barrier is not Barrier.NONE}
    return [sheet for sheet in panel.sheets if sheet.layer in names and not sheet.loose]


def _is_in(member: Member, run: str, points: Floats) -> bool:
    """Whether any of some places of a run is well inside a stick, which has no hole for that run."""
    if any(run in bore.runs for bore in member.bores):
        return False
    for x, y, z in points.tolist():
        if _WELL_IN < y < member.width - _WELL_IN and _WELL_IN < z < member.thickness - _WELL_IN:
            low, high = member.end_x(member.start, False, y, z), member.end_x(member.end, True, y, z)
            notched = any(notch.x0 - _WELL_IN < x < notch.x1 + _WELL_IN for notch in member.notches)
            if low + _WELL_IN < x < high - _WELL_IN and not notched:
                return True
    return False


def _is_through(sheet: Sheet, points: Floats) -> bool:
    """Whether any of some places is well inside a sheet."""
    deep = points[(points[:, 2] > _WELL_IN) & (points[:, 2] < sheet.thickness - _WELL_IN)]
    face = shapely.Polygon(sheet.outline, sheet.cutouts).buffer(-_WELL_IN)
    return bool(len(deep)) and bool(shapely.contains_xy(face, deep[:, 0], deep[:, 1]).any())
