"""Runs of different systems keep their distance: hot from cold, power from data, gas from everything."""

from __future__ import annotations

import numpy as np

from panelgen.catalog import Catalog
from panelgen.checks.codes import found
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Ints, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.leg_gaps import leg_gaps
from panelgen.geometry.legs import leg_depths, legs_meet
from panelgen.geometry.rods import Bools
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Box, Finding

__all__ = ["run_clearance"]


def run_clearance(scene: Scene, catalog: Catalog) -> list[Finding]:
    """One finding for each two runs nearer than their systems allow, at the nearest place, fittings included.

    Runs that meet are left to the check of shared space. Two runs that end at the same box are not held
    apart where they come in.
    """
    lines = scene.lines
    systems = list(dict.fromkeys(part.system for part in lines.runs))
    rules = {(i, j): catalog.services.clearance(a, b) for i, a in enumerate(systems) for j, b in enumerate(systems)}
    wanted = np.array([rule.distance for rule in rules.values()]).reshape(len(systems), len(systems))
    if not wanted.any():
        return []
    system = np.array([systems.index(part.system) for part in lines.runs])[lines.run]
    rows = np.flatnonzero(wanted.max(axis=1)[system] > 0.0)
    boxes = lines.legs.boxes(0.0).take(rows).grown(wanted.max() / 2)
    i, j = (rows[side] for side in overlapping(boxes, boxes, lines.panel[rows], lines.panel[rows]))
    asked = wanted[system[i], system[j]]
    keep = (lines.run[i] < lines.run[j]) & (asked > 0.0)
    i, j, asked = i[keep], j[keep], asked[keep]
    gap = leg_gaps(lines.legs.take(i), lines.legs.take(j))
    near = asked - gap > TOLERANCE
    i, j, asked, gap = i[near], j[near], asked[near], gap[near]
    pairs = lines.run[i] * len(lines.runs) + lines.run[j]
    meet = legs_meet(lines.legs.take(i), lines.legs.take(j), TOLERANCE)
    apart = ~np.isin(pairs, pairs[meet]) & ~_at_one_box(scene, i, j)
    i, j, asked, gap = i[apart], j[apart], asked[apart], gap[apart]
    _, point = leg_depths(lines.legs.take(i), lines.legs.take(j))
    findings = []
    for k in worst_of_each(asked - gap, lines.run[i], lines.run[j]).tolist():
        first, second = lines.runs[lines.run[i[k]]], lines.runs[lines.run[j[k]]]
        findings.append(
            found(
                "run.clearance",
                scene.panels[lines.panel[i[k]]],
                parts=(first.run, second.run),
                point=point[k],
                value=max(0.0, float(gap[k])),
                limit=asked[k],
                source=rules[int(system[i[k]]), int(system[j[k]])].cited,
                run=first.run,
                system=first.system,
                other=second.run,
                others=second.system,
            )
        )
    return findings


def _at_one_box(scene: Scene, i: Ints, j: Ints) -> Bools:
    """(n,) whether legs i and j are the last ones of their runs, into the same box."""
    lines = scene.lines
    result = np.zeros(len(i), dtype=bool)
    for k, (a, b) in enumerate(zip(i.tolist(), j.tolist(), strict=True)):
        boxes = scene.panels[lines.panel[a]].boxes
        result[k] = any(_ends_in(scene, a, box) and _ends_in(scene, b, box) for box in boxes)
    return result


def _ends_in(scene: Scene, leg: int, box: Box) -> bool:
    lines = scene.lines
    ends: list[Floats] = []
    if lines.stops_at_start[leg]:
        ends.append(lines.legs.rods.start[leg])
    if lines.stops_at_end[leg]:
        ends.append(lines.legs.rods.end[leg])
    places = (box.frame.to_local(end) for end in ends)
    return any(((place >= -TOLERANCE) & (place <= np.array(box.size) + TOLERANCE)).all() for place in places)
