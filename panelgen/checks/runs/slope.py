"""Drains fall all the way, as much as the rule set asks; vents nowhere sag, or water would stand in them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from panelgen.catalog import DrainSlope, RuleSet
from panelgen.checks.runs.whole import found_on_run, middle, runs_in, stretches
from panelgen.checks.scene import Scene
from panelgen.geometry.frames import Vec3
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, House, ServiceRun, Severity

__all__ = ["run_slope"]

_UP = 2
_PERCENT = 100.0


def run_slope(scene: Scene, house: House, rules: RuleSet) -> list[Finding]:
    """One finding for each drain that rises or falls too little, and each vent that sags, at its worst stretch."""
    findings: list[Finding] = []
    for run in runs_in(scene, house):
        if run.system == "drain":
            findings += _drain(scene, house, run, rules.drain_slope(run.diameter))
        elif run.system == "vent":
            findings += _vent(scene, house, run)
    return findings


def _drain(scene: Scene, house: House, run: ServiceRun, rule: DrainSlope | None) -> list[Finding]:
    least = 0.0 if rule is None else rule.least
    falls = [(fall, way, a, b) for fall, way, a, b in _falls(run) if least * way - fall > TOLERANCE]
    if not falls:
        return []
    fall, way, a, b = max(falls, key=lambda one: least * one[1] - one[0])
    with_cleanout = least if rule is None else rule.with_cleanout
    if fall < -TOLERANCE:
        how, severity = "rises against its flow", Severity.STOP
    elif with_cleanout * way - fall > TOLERANCE:
        how, severity = "falls too little", Severity.STOP
    else:
        how, severity = "falls less than a drain without a cleanout may", Severity.WARN
    return found_on_run(
        scene,
        house,
        "run.slope",
        run,
        middle(a, b),
        value=_PERCENT * fall / way if way else None,
        limit=_PERCENT * least if way else None,
        unit="%",
        source="a drain falls with its flow" if rule is None else rule.cited,
        severity=severity,
        how=how,
    )


def _falls(run: ServiceRun) -> Iterator[tuple[float, float, Vec3, Vec3]]:
    """How far each stretch falls and goes level with the flow, mm, and where it begins and ends in the flow."""
    for start, end in stretches(run):
        a, b = (start, end) if run.flow == "forward" else (end, start)
        yield a[_UP] - b[_UP], math.hypot(b[0] - a[0], b[1] - a[1]), a, b


def _vent(scene: Scene, house: House, run: ServiceRun) -> list[Finding]:
    """A vent drains to one of its ends, whichever is lower: it may not turn back up on the way there."""
    sense = -1.0 if run.path[-1][_UP] > run.path[0][_UP] else 1.0
    ways = list(stretches(run))
    rises = [sense * (b[_UP] - a[_UP]) for a, b in ways]
    worst = max(range(len(ways)), key=rises.__getitem__, default=None)
    if worst is None or rises[worst] <= TOLERANCE:
        return []
    return found_on_run(
        scene,
        house,
        "run.slope",
        run,
        middle(*ways[worst]),
        value=rises[worst],
        limit=0.0,
        source="common practice, no source",
        how="sags on its way, where water would stand",
    )
