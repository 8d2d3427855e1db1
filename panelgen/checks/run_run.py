"""Runs against runs: no two may take the same space, but where one is joined to the other."""

from __future__ import annotations

import math

import numpy as np

from panelgen.checks.codes import found
from panelgen.checks.runlines import RunLines
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import nearest_points, rods_meet
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["run_run"]

_HALF_TURN = math.pi / 2
"""Along a run, times its diameter: half a turn of the tightest possible pipe. Stretches nearer than that
belong to one bend, which the bend radius judges."""


def run_run(scene: Scene) -> list[Finding]:
    """One finding for each two runs that meet, at their deepest place; a run may also meet itself.

    Consecutive stretches of a run, and the stretches about a point where a run of the same system ends
    in another, are joined and so may meet.
    """
    lines = scene.lines
    rods = lines.rods.shaved(TOLERANCE / 2)
    boxes = rods.boxes()
    i, j = overlapping(boxes, boxes, lines.panel, lines.panel)
    keep = (i < j) & ~((lines.run[i] == lines.run[j]) & (j - i == 1))
    i, j = i[keep], j[keep]
    meet = rods_meet(rods.take(i), rods.take(j))
    i, j = i[meet], j[meet]
    a, b = lines.rods.take(i), lines.rods.take(j)
    s, t, distance = nearest_points(a, b)
    depth = a.radius + b.radius - distance
    point = (a.start + s[:, None] * a.direction + b.start + t[:, None] * b.direction) / 2
    along = _along(lines)
    deepest: dict[tuple[int, int], int] = {}
    for k in np.argsort(-depth, kind="stable").tolist():
        pair = (int(lines.run[i[k]]), int(lines.run[j[k]]))
        if pair not in deepest and not _joined(lines, along, int(i[k]), int(j[k])):
            deepest[pair] = k
    return [_finding(scene, pair, int(lines.panel[i[k]]), depth[k], point[k]) for pair, k in sorted(deepest.items())]


def _along(lines: RunLines) -> Floats:
    """(n,) how far along its run each stretch begins, mm."""
    total = np.cumsum(lines.rods.length)
    begin = total - lines.rods.length
    result: Floats = begin - begin[np.searchsorted(lines.run, lines.run)]
    return result


def _joined(lines: RunLines, along: Floats, i: int, j: int) -> bool:
    """Whether stretches i and j belong to one bend, or lie about a point where one run ends in the other."""
    reach = _HALF_TURN * 2 * float(max(lines.rods.radius[i], lines.rods.radius[j]))
    if lines.run[i] == lines.run[j]:
        return bool(along[j] - along[i] - lines.rods.length[i] <= reach)
    first, second = lines.runs[lines.run[i]], lines.runs[lines.run[j]]
    if first.system != second.system:
        return False
    return _ends_in(lines, along, i, j, reach) or _ends_in(lines, along, j, i, reach)


def _ends_in(lines: RunLines, along: Floats, i: int, j: int, reach: float) -> bool:
    """Whether an end of stretch i's run, within `reach` along it, lies in stretch j's run, within `reach` of j."""
    own = np.flatnonzero(lines.run == lines.run[i])
    other = np.flatnonzero(lines.run == lines.run[j])
    rods = lines.rods.take(other)
    total = along[own[-1]] + lines.rods.length[own[-1]]
    ends = (
        (lines.rods.start[own[0]], along[i]),
        (lines.rods.end[own[-1]], total - along[i] - lines.rods.length[i]),
    )
    for end, away in ends:
        at = np.clip(np.einsum("nc,nc->n", end - rods.start, rods.direction), 0.0, rods.length)
        gap = np.linalg.norm(end - rods.start - at[:, None] * rods.direction, axis=1)
        nearest = int(gap.argmin())
        joint = along[other[nearest]] + at[nearest]
        beside = max(along[j] - joint, joint - along[j] - lines.rods.length[j])
        if gap[nearest] <= rods.radius[nearest] and away <= reach and beside <= reach:
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
