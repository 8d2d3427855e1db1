"""Runs and rough openings: a run leads around an opening, never through it, but for shafts."""

from __future__ import annotations

import numpy as np

from panelgen.checks.codes import found
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.openings import Openings
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.hexahedra import point_distances
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["run_opening"]


def run_opening(scene: Scene) -> list[Finding]:
    """One finding for each run that is inside a rough opening, or crosses one."""
    lines, openings = scene.lines, Openings.of(scene.panels).closed_to_runs()
    if not len(lines) or not openings.openings:
        return []
    rods, bends = lines.legs.rods, lines.bends(TOLERANCE)
    i, j = overlapping(lines.legs.boxes(TOLERANCE), openings.boxes, lines.panel, openings.panel)
    meets = lines.legs.take(i).meet_blocks(openings.corners[j], TOLERANCE)
    i, j = i[meets], j[meets]
    k, at_bend = overlapping(bends.boxes(), openings.boxes, lines.panel[bends.leg], openings.panel)
    distance = point_distances(bends.center[k], openings.corners[at_bend])
    near = distance <= bends.radius[k]
    k, at_bend, distance = k[near], at_bend[near], distance[near]
    middle = np.clip((rods.start[i] + rods.end[i]) / 2, openings.boxes.low[j], openings.boxes.high[j])
    run = lines.run[np.concatenate((i, bends.leg[k]))]
    opening = np.concatenate((j, at_bend))
    depth = np.concatenate((lines.legs.take(i).ways_out(openings.corners[j]), bends.radius[k] + TOLERANCE - distance))
    point = np.concatenate((middle, bends.center[k]))
    return [
        found(
            "run.opening",
            scene.panels[openings.panel[opening[hit]]],
            parts=(lines.runs[run[hit]].run, openings.openings[opening[hit]].id),
            point=point[hit],
            value=depth[hit],
            limit=0.0,
            source="no run crosses a rough opening",
            run=lines.runs[run[hit]].run,
            opening=openings.openings[opening[hit]].id,
        )
        for hit in worst_of_each(depth, run, opening).tolist()
    ]
