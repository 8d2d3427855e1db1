"""Screws of the interior board: where they can hit a run, a steel plate covers it.

The screws go into the straps, or into the framing where there are none, as deep as the board's row in the
catalog says. They miss the end of a strap by no more than the distance at which the rule set asks for steel.
"""

from __future__ import annotations

import math

import numpy as np

from panelgen.catalog import Catalog, RuleSet
from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.runs.screw_zones import ScrewZones
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, HardwareKind, House, Severity

__all__ = ["run_screws"]

_STEEP = math.sqrt(0.5)
"""Sine of the angle to the face beyond which a run goes through the wall, not along it."""


def run_screws(scene: Scene, house: House, rules: RuleSet, catalog: Catalog) -> list[Finding]:
    """One finding for each run within reach of the board's screws and without a plate there, where they reach deepest.

    A warning where the rule set asks no steel for the run's family. Raises CatalogError for an unknown board.
    """
    lines, timber = scene.lines, scene.timber
    if not house.interior_board or not len(lines):
        return []
    zone = catalog.services.screw_zone(house.interior_board)
    zones = ScrewZones.of(scene.panels, timber, zone.depth)
    widest = max((rule.edge_distance for rule in rules.shields.values()), default=0.0)
    distances = (rules.shields.get(part.family) for part in lines.runs)
    beside = np.array([widest if rule is None else rule.edge_distance for rule in distances])[lines.run]
    every = np.arange(len(zones.member))
    around = Boxes.around(zones.corners(timber, every, np.full(len(every), widest)))
    along = np.flatnonzero((np.abs(lines.legs.rods.direction[:, 2]) <= _STEEP) & (lines.fitting < 0))
    boxes = lines.legs.boxes(TOLERANCE).take(along)
    i, j = overlapping(boxes, around, lines.panel[along], timber.panel[zones.member])
    i = along[i]
    corners, member = zones.corners(timber, j, beside[i]), zones.member[j]
    meets = lines.legs.take(i).meet_blocks(corners, TOLERANCE)
    i, corners, member = i[meets], corners[meets], member[meets]
    bare = np.array(
        [not _is_covered(scene, *pair) for pair in zip(i.tolist(), member.tolist(), strict=True)], dtype=bool
    )
    i, corners, member = i[bare], corners[bare], member[bare]
    reach = lines.legs.take(i).ways_out(corners)
    findings = []
    for k in worst_of_each(reach, lines.run[i]).tolist():
        part, stick = lines.runs[lines.run[i[k]]], timber.members[member[k]]
        findings.append(
            found(
                "run.screws",
                scene.panels[lines.panel[i[k]]],
                parts=(part.run, stick.id),
                point=_place(scene, int(i[k]), corners[k]),
                value=reach[k],
                limit=0.0,
                source=zone.cited,
                severity=Severity.WARN if part.family not in rules.shields else None,
                run=part.run,
                member=named(stick),
            )
        )
    return findings


def _is_covered(scene: Scene, leg: int, member: int) -> bool:
    """Whether a plate on this stick is there for the run: its own, or one at a hole that it shares."""
    lines, stick = scene.lines, scene.timber.members[member]
    part = lines.runs[lines.run[leg]]
    sharing = {run for bore in stick.bores if part.run in bore.runs for run in bore.runs} | {part.run}
    return any(
        plate.kind is HardwareKind.SHIELD
        and stick.id in plate.parts
        and any(other.id in plate.parts for other in lines.runs if other.run in sharing)
        for plate in scene.panels[lines.panel[leg]].hardware
    )


def _place(scene: Scene, leg: int, zone: Floats) -> Floats:
    """The middle of the part of a leg beside a zone."""
    rods = scene.lines.legs.rods
    along = (zone - rods.start[leg]) @ rods.direction[leg]
    middle = (max(float(along.min()), 0.0) + min(float(along.max()), float(rods.length[leg]))) / 2
    result: Floats = rods.start[leg] + middle * rods.direction[leg]
    return result
