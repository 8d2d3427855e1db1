"""Branches start on the run they branch off."""

from __future__ import annotations

import math

from panelgen.checks.runs.whole import found_on_run, runs_in
from panelgen.checks.scene import Scene
from panelgen.geometry.polylines import Polyline
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, House

__all__ = ["run_branch"]


def run_branch(scene: Scene, house: House) -> list[Finding]:
    """One finding for each branch that does not begin inside the run it branches off, or whose run is not there."""
    trunks = {run.id: run for run in house.runs}
    findings: list[Finding] = []
    for run in runs_in(scene, house):
        if not run.branch_of:
            continue
        trunk = trunks.get(run.branch_of)
        gap = math.inf
        if trunk is not None:
            way = Polyline.through(trunk.path)
            gap = math.dist(way.point_at(way.nearest(run.path[0])), run.path[0]) - trunk.outside_diameter / 2
        if gap > TOLERANCE:
            findings += found_on_run(
                scene,
                house,
                "run.branch",
                run,
                run.path[0],
                run.branch_of,
                value=gap if math.isfinite(gap) else None,
                limit=0.0 if math.isfinite(gap) else None,
                source="spec runs: branch_of",
                trunk=run.branch_of,
            )
    return findings
