"""Hips and valleys of a whole roof, put together from the boards of its panels, and where they come down.

Each panel has a board of its own on its side of a hip or valley, and long ones are parted at joints: what bears is all
of them as one stick. Its foot lands on the walls where it crosses them; its upper end, says the code, on a brace or
nowhere.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import dist, hypot

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.codes import found
from panelgen.checks.structure.bearings import house_lines, over_walls
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.point_loads import PointLoad
from panelgen.checks.structure.sticks import FULL, Sticks
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, Vec3
from panelgen.model import Finding, Role

__all__ = ["RoofLine", "braces", "foot_loads", "roof_lines"]

_APART = 100.0
"""Boards in line whose middle lines are no farther apart (mm) are of one hip or valley; common practice, no source."""
_NODE = 300.0
"""Upper ends this near (mm) in plan meet; common practice, no source."""
_IN_LINE = 0.9999


@dataclass(frozen=True, slots=True)
class RoofLine:
    """A hip or valley: its boards, and its lower and upper end in the house, mm.

    `foot` is where it comes down on a wall, None where it does not; `plies` are the boards there side by side.
    """

    role: Role
    rows: tuple[int, ...]
    low: Vec3
    high: Vec3
    foot: Vec3 | None
    plies: int


def roof_lines(sticks: Sticks, walls: Walls, rules: RuleSet) -> list[RoofLine]:
    """The hips and valleys of a scene, but for those of dormers, which an engineer carries."""
    rows = sticks.rows(Role.HIP, Role.VALLEY, in_wall=False)
    on_dormer = np.array([panel.dormer != "" for panel in sticks.scene.panels], dtype=bool)
    rows = rows[~on_dormer[sticks.scene.timber.panel[rows]]]
    if not len(rows):
        return []
    start, end = house_lines(sticks, rows)
    falls = (start[:, 2] > end[:, 2])[:, None]
    low, high = np.where(falls, end, start), np.where(falls, start, end)
    feet = _feet(sticks, walls, rows, low, high, rules)
    ahead = (high - low)[:, :2]
    ahead /= np.maximum(np.hypot(ahead[:, 0], ahead[:, 1]), 1e-9)[:, None]
    aside = low[:, 0] * ahead[:, 1] - low[:, 1] * ahead[:, 0]
    groups: list[list[int]] = []
    for k, row in enumerate(rows.tolist()):
        for group in groups:
            first = group[0]
            same = sticks.role[row] == sticks.role[rows[first]] and ahead[k] @ ahead[first] > _IN_LINE
            if same and abs(aside[k] - aside[first]) <= _APART:
                group.append(k)
                break
        else:
            groups.append([k])
    return [_line(sticks, rows[group].tolist(), low[group], high[group], feet[group]) for group in groups]


def _line(sticks: Sticks, rows: list[int], low: Floats, high: Floats, feet: Floats) -> RoofLine:
    lowest, highest = int(low[:, 2].argmin()), int(high[:, 2].argmax())
    on_walls = np.flatnonzero(np.isfinite(feet[:, 0]))
    foot = None
    if len(on_walls):
        first = on_walls[feet[on_walls, 2].argmin()]
        foot = _vec(feet[first])
        on_walls = on_walls[np.hypot(*(feet[on_walls, :2] - feet[first, :2]).T) <= _NODE]
    role = sticks.member(rows[0]).role
    return RoofLine(role, tuple(rows), _vec(low[lowest]), _vec(high[highest]), foot, len(on_walls))


def _feet(sticks: Sticks, walls: Walls, rows: Ints, low: Floats, high: Floats, rules: RuleSet) -> Floats:
    """(n, 3) where the middle lines of boards first lie over a wall that they bear on; NaN where they bear on none."""
    feet = np.full(low.shape, np.nan)
    if not len(walls.panel):
        return feet
    bears, first, last = over_walls(walls, low, high, sticks.scene.timber.sizes[rows, 1], np.zeros(len(rows)), rules)
    share = np.where(bears, (first + last) / 2, np.inf).min(axis=1)
    on_wall = np.isfinite(share)
    feet[on_wall] = (low + (high - low) * np.where(on_wall, share, 0.0)[:, None])[on_wall]
    return feet


def foot_loads(lines: Sequence[RoofLine], sticks: Sticks) -> Iterator[PointLoad]:
    """What hips and valleys bring down on walls at their feet."""
    for line in lines:
        if line.foot is not None:
            parts = tuple(sticks.member(row).id for row in line.rows)
            panel = int(sticks.scene.timber.panel[line.rows[0]])
            yield PointLoad.at(line.foot, f"{line.role} {_mark(sticks, line.rows[0])}", panel, parts, line.plies)


def braces(
    lines: Sequence[RoofLine], sticks: Sticks, walls: Walls, rules: RuleSet
) -> tuple[list[Finding], list[PointLoad]]:
    """What is said of the ends of hips and valleys that no wall carries, and the loads of braces under them.

    A brace stands on the nearest bearing wall of the roof's own level, on the stud nearest to it, no flatter than the
    rule set allows; where there is none the roof needs an engineer.
    """
    rule = rules.structure.roof_beam
    findings: list[Finding] = []
    loads: list[PointLoad] = []
    for point, meeting in _nodes(lines):
        rows = [row for line in meeting for row in line.rows[:1]]
        panel = int(sticks.scene.timber.panel[rows[0]])
        home = sticks.scene.panels[panel]
        parts = tuple(sticks.member(row).id for row in rows)
        names = ", ".join(f"{line.role} {_mark(sticks, line.rows[0])}" for line in meeting)
        stand = _wall_below(point, home.level, walls, sticks, rule.brace_slope)
        at = home.frame.to_local(np.array([point]))[0]
        if stand is None:
            findings.append(found("roof.brace", home, parts=parts, point=at, source=rule.cited, lines=names))
            continue
        wall, foot = stand
        label = sticks.scene.panels[int(walls.panel[wall])].label
        findings.append(found("roof.braced", home, parts=parts, point=at, source=rule.cited, lines=names, below=label))
        loads.append(PointLoad.at(foot, f"the brace under {names}", panel, parts, 1))
    return findings, loads


def _nodes(lines: Sequence[RoofLine]) -> list[tuple[Vec3, list[RoofLine]]]:
    """The ends that no wall carries, those that meet together."""
    nodes: list[tuple[Vec3, list[RoofLine]]] = []
    for line in lines:
        for point in (line.high, *(() if line.foot else (line.low,))):
            near = next((one for at, one in nodes if dist(at[:2], point[:2]) <= _NODE), None)
            if near is None:
                nodes.append((point, [line]))
            elif line not in near:
                near.append(line)
    return nodes


def _wall_below(point: Vec3, level: str, walls: Walls, sticks: Sticks, steepness: float) -> tuple[int, Vec3] | None:
    """The bearing wall for a brace under a house point, and the house place at its bottom of the stud it stands on."""
    best: tuple[float, int, float] | None = None
    for w, number in enumerate(walls.panel.tolist()):
        if not walls.carries[w] or sticks.scene.panels[number].level != level or walls.top[w] >= point[2]:
            continue
        along, _, through = (np.array(point) - walls.origin[w]) @ walls.axes[w].T
        at = min(max(along, 0.0), walls.size[w, 0])
        away = hypot(along - at, through - walls.size[w, 2] / 2)
        if point[2] - walls.top[w] >= steepness * away and (best is None or away < best[0]):
            best = (away, w, float(at))
    if best is None:
        return None
    _, w, at = best
    panel = int(walls.panel[w])
    studs = [row for row in sticks.span(panel) if sticks.member(row).role in FULL and sticks.built[row]]
    centres = [float(sticks.low[row, 0] + sticks.high[row, 0]) / 2 for row in studs]
    x = min(centres, key=lambda centre: abs(centre - at), default=at)
    return w, sticks.scene.panels[panel].frame.point(x, 0.0, float(walls.size[w, 2]) / 2)


def _mark(sticks: Sticks, row: int) -> str:
    member = sticks.member(row)
    return member.mark or member.id


def _vec(point: Floats) -> Vec3:
    x, y, z = point.tolist()
    return (x, y, z)
