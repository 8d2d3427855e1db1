"""Runs against runs: no two may take the same space, but where one is joined to the other."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from panelgen.checks.codes import found
from panelgen.checks.runs.lines import RunLines
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.legs import Legs, leg_depths, legs_meet
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["run_run"]

_HALF_TURN = math.pi / 2
"""Along a run, times its diameter: half a turn of the tightest possible pipe. What lies nearer to a joint
than that belongs to it."""

_FOLDED = -math.sqrt(0.5)
"""Cosine of the sharpest turn, 135 degrees, after which two stretches cannot meet again."""


def run_run(scene: Scene) -> list[Finding]:
    """One finding for each two runs that meet, fittings included, at their deepest place; a run may also meet itself.

    Stretches of a run may meet about the bend between them, and so may those about a point where a run
    of the same system ends in another. A run and its own fittings are one.
    """
    lines = scene.lines
    boxes, direction = lines.legs.boxes(TOLERANCE / 2), lines.legs.rods.direction
    i, j = overlapping(boxes, boxes, lines.panel, lines.panel)
    own = lines.run[i] == lines.run[j]
    bend = own & (j - i == 1) & (np.einsum("nc,nc->n", direction[i], direction[j]) > _FOLDED)
    one = own & ((lines.fitting[i] >= 0) | (lines.fitting[j] >= 0))
    keep = (i < j) & ~bend & ~one
    i, j = i[keep], j[keep]
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
    """Whether legs i and j meet only about a bend between them, or about a point where one run ends in the other."""
    reach = _HALF_TURN * 2 * float(max(lines.legs.rods.radius[i], lines.legs.rods.radius[j]))
    if lines.run[i] == lines.run[j]:
        return _meet_only_near(lines, i, j, at_start=False, reach=reach - (lines.begin[j] - lines.end[i]))
    first, second = lines.runs[lines.run[i]], lines.runs[lines.run[j]]
    if first.system != second.system:
        return False
    return _ends_in(lines, i, j, reach) or _ends_in(lines, j, i, reach)


def _ends_in(lines: RunLines, i: int, j: int, reach: float) -> bool:
    """Whether leg i meets leg j only within `reach` of an end of its own run that lies in the other one."""
    rods = lines.legs.rods
    own, other = (np.flatnonzero((lines.run == lines.run[k]) & (lines.fitting < 0)) for k in (i, j))
    body = rods.take(other)
    for at_start, end, away in (
        (True, rods.start[own[0]], lines.begin[i]),
        (False, rods.end[own[-1]], lines.end[own[-1]] - lines.end[i]),
    ):
        at = np.clip(np.einsum("nc,nc->n", end - body.start, body.direction), 0.0, body.length)
        gap = np.linalg.norm(end - body.start - at[:, None] * body.direction, axis=1)
        nearest = int(gap.argmin())
        joint = lines.begin[other[nearest]] + at[nearest]
        beside = max(lines.begin[j] - joint, joint - lines.end[j])
        in_other = gap[nearest] <= body.radius[nearest] and beside <= reach
        if in_other and _meet_only_near(lines, i, j, at_start=at_start, reach=reach - away):
            return True
    return False


def _meet_only_near(lines: RunLines, i: int, j: int, *, at_start: bool, reach: float) -> bool:
    """Whether leg i, with `reach` mm cut off its start or end, no longer meets leg j; an arm is never cut."""
    if reach < 0.0:
        return False
    if lines.fitting[i] >= 0:
        return True
    leg = lines.legs.take(np.array([i]))
    rods = leg.rods
    if reach >= rods.length[0]:
        return True
    cut = reach * rods.direction
    start = rods.start + cut if at_start else rods.start
    corners = leg.corners.copy()
    corners[:, :4] += cut if at_start else 0.0
    corners[:, 4:] -= 0.0 if at_start else cut
    rest = Legs(replace(rods, start=start, length=rods.length - reach), leg.square, corners)
    return not legs_meet(rest, lines.legs.take(np.array([j])), TOLERANCE)[0]


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
