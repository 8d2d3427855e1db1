"""Runs against runs: no two may take the same space, but where one is joined to the other."""

from __future__ import annotations

import math

import numpy as np

from panelgen.checks.codes import found
from panelgen.checks.runlines import RunLines
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.legs import leg_depths, legs_meet
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["run_run"]

_HALF_TURN = math.pi / 2
"""Along a run, times its diameter: half a turn of the tightest possible pipe. Stretches nearer than that
belong to one bend, which the bend radius judges."""


def run_run(scene: Scene) -> list[Finding]:
    """One finding for each two runs that meet, fittings included, at their deepest place; a run may also meet itself.

    Consecutive stretches of a run, a run and its own fittings, and what lies about a point where a run
    of the same system ends in another, are joined and so may meet.
    """
    lines = scene.lines
    boxes = lines.legs.boxes(TOLERANCE / 2)
    i, j = overlapping(boxes, boxes, lines.panel, lines.panel)
    own = lines.run[i] == lines.run[j]
    joined = own & ((j - i == 1) | (lines.fitting[i] >= 0) | (lines.fitting[j] >= 0))
    i, j = i[(i < j) & ~joined], j[(i < j) & ~joined]
    meet = legs_meet(lines.legs.take(i), lines.legs.take(j), TOLERANCE)
    i, j = i[meet], j[meet]
    depth, point = leg_depths(lines.legs.take(i), lines.legs.take(j))
    deepest: dict[tuple[int, int], int] = {}
    for k in np.argsort(-depth, kind="stable").tolist():
        pair = (int(lines.run[i[k]]), int(lines.run[j[k]]))
        if pair not in deepest and not _joined(lines, int(i[k]), int(j[k])):
            deepest[pair] = k
    return [_finding(scene, pair, int(lines.panel[i[k]]), depth[k], point[k]) for pair, k in sorted(deepest.items())]


def _joined(lines: RunLines, i: int, j: int) -> bool:
    """Whether legs i and j belong to one bend, or lie about a point where one run ends in the other."""
    rods = lines.legs.rods
    reach = _HALF_TURN * 2 * float(max(rods.radius[i], rods.radius[j]))
    if lines.run[i] == lines.run[j]:
        return bool(lines.begin[j] - lines.end[i] <= reach)
    first, second = lines.runs[lines.run[i]], lines.runs[lines.run[j]]
    if first.system != second.system:
        return False
    return _ends_in(lines, i, j, reach) or _ends_in(lines, j, i, reach)


def _ends_in(lines: RunLines, i: int, j: int, reach: float) -> bool:
    """Whether an end of leg i's run, within `reach` along it, lies in leg j's run, within `reach` of j."""
    rods = lines.legs.rods
    own, other = (np.flatnonzero((lines.run == lines.run[k]) & (lines.fitting < 0)) for k in (i, j))
    body = rods.take(other)
    for end, away in (
        (rods.start[own[0]], lines.begin[i]),
        (rods.end[own[-1]], lines.end[own[-1]] - lines.end[i]),
    ):
        at = np.clip(np.einsum("nc,nc->n", end - body.start, body.direction), 0.0, body.length)
        gap = np.linalg.norm(end - body.start - at[:, None] * body.direction, axis=1)
        nearest = int(gap.argmin())
        joint = lines.begin[other[nearest]] + at[nearest]
        beside = max(lines.begin[j] - joint, joint - lines.end[j])
        if gap[nearest] <= body.radius[nearest] and away <= reach and beside <= reach:
            return True
    return False


def _finding(scene: Scene, pair: tuple[int, int], panel: int, depth: float, point: Floats) -> Finding:
    first, second = (scene.lines.runs[k].run for k in pair)
    return found(
        "run.run",
        scene.panels[panel],
        parts=tuple(dict.fromkeys((first, second))),
        point=point,
        value=depth,
        limit=0.0,
        source="no two parts share space",
        run=first,
        other="itself" if first == second else second,
    )
