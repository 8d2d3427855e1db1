"""Bends of runs that are bent: the radius asked for is allowed, and there is room for it between two corners."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise

from panelgen.catalog import BendRadius, Catalog
from panelgen.checks.runs.whole import found_on_run, runs_in
from panelgen.checks.scene import Scene
from panelgen.geometry.polylines import Polyline
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, Fitting, House, ServiceRun

__all__ = ["run_bend"]

_SHARPEST = 150.0
"""Degrees. A run that turns farther comes back on itself, whatever the radius."""

_SHARPEST_TANGENT = math.tan(math.radians(_SHARPEST) / 2)


def run_bend(scene: Scene, house: House, catalog: Catalog) -> list[Finding]:
    """One finding for each run whose radius is less than its size allows, or that has no room for its bends.

    The arcs at the two corners of a stretch must both fit on it. A last stretch shorter than its arc just ends
    in the bend: nothing there is bent tighter. An elbow takes the length of its arm.
    """
    elbows: dict[str, list[Fitting]] = {}
    for fitting in house.fittings:
        if fitting.kind == "elbow":
            elbows.setdefault(fitting.run, []).append(fitting)
    findings: list[Finding] = []
    for run in runs_in(scene, house):
        if run.bend_radius <= 0.0 or len(run.path) < 3:
            continue
        rule = _rule(run, catalog)
        least = 0.0 if rule is None else rule.to_centre_line(run.diameter)
        if run.bend_radius >= least - TOLERANCE and run.id not in elbows and _is_roomy(run):
            continue
        way = Polyline.through(run.path)
        worst = min(_too_short(run, way, elbows.get(run.id, ())), default=None)
        source = f"spec runs {run.id}: bend" if rule is None else rule.cited
        if rule is not None and way.bends and run.bend_radius < least - TOLERANCE:
            why = "is bent tighter than its size allows"
            place, value, limit = way.points[1], run.bend_radius, least
        elif worst is not None:
            why = "turns twice on a stretch too short for its bends"
            place = way.point_at((way.along[worst[1]] + way.along[worst[1] + 1]) / 2)
            value, limit = max(0.0, worst[0]) * run.bend_radius, run.bend_radius
        else:
            continue
        findings += found_on_run(scene, house, "run.bend", run, place, value=value, limit=limit, source=source, why=why)
    return findings


def _rule(run: ServiceRun, catalog: Catalog) -> BendRadius | None:
    size = catalog.service_sizes.get(run.product)
    return None if size is None else catalog.services.bend_radius(size)


def _is_roomy(run: ServiceRun) -> bool:
    """Whether all stretches but the first and the last are long enough for the sharpest bends, which most are."""
    return all(math.dist(a, b) >= 2 * run.bend_radius * _SHARPEST_TANGENT for a, b in pairwise(run.path[1:-1]))


def _too_short(run: ServiceRun, way: Polyline, elbows: Sequence[Fitting]) -> Iterator[tuple[float, int]]:
    """Stretches between two corners too short for their bends: the share of the radius that there is room for, and
    the first corner.
    """
    ends = [(0.0, 0.0), *(_taken(run, way, corner, elbows) for corner in way.bends)]
    for corner in way.bends[:-1]:
        (arm, arc), (next_arm, next_arc) = ends[corner], ends[corner + 1]
        room = way.along[corner + 1] - way.along[corner] - arm - next_arm
        if arc + next_arc > TOLERANCE and arc + next_arc > room + TOLERANCE:
            yield room / (arc + next_arc), corner


def _taken(run: ServiceRun, way: Polyline, corner: int, elbows: Sequence[Fitting]) -> tuple[float, float]:
    """What a corner takes of the stretches beside it: by an elbow's arm, or else by an arc, mm."""
    for elbow in elbows:
        if math.dist(elbow.point, way.points[corner]) <= TOLERANCE:
            return elbow.length / 2, 0.0
    return 0.0, run.bend_radius * math.tan(math.radians(min(way.turn(corner), _SHARPEST)) / 2)
