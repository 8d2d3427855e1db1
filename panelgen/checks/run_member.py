"""Runs against wood: every stick a run meets must have a hole that takes it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.holes import SLACK, balls_inside_bores, bore_excess, inside_bores
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Ints, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import hexahedra_planes, point_distances
from panelgen.geometry.rod_distances import axis_distances, ways_out
from panelgen.geometry.rods import Bools, Rods
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["run_member"]


@dataclass(frozen=True, slots=True, eq=False)
class _Hits:
    """Stretch and block of each clash, how deep it is (mm), where (k, 3), and whether the run ends in the wood."""

    stretch: Ints
    block: Ints
    depth: Floats
    point: Floats
    ends: Bools


def run_member(scene: Scene) -> list[Finding]:
    """One finding for each run and stick that take the same space where no hole of the stick takes the run."""
    if not len(scene.lines) or not len(scene.timber.owner):
        return []
    hits = [_stretches(scene), _bends(scene)]
    stretch = np.concatenate([hit.stretch for hit in hits])
    block = np.concatenate([hit.block for hit in hits])
    depth = np.concatenate([hit.depth for hit in hits])
    point = np.concatenate([hit.point for hit in hits])
    ends = np.concatenate([hit.ends for hit in hits])
    member = scene.timber.owner[block]
    run = scene.lines.run[stretch]
    return [
        _finding(scene, run[k], member[k], stretch[k], depth[k], point[k], bool(ends[k]))
        for k in worst_of_each(depth, run, member).tolist()
    ]


def _stretches(scene: Scene) -> _Hits:
    lines, timber = scene.lines, scene.timber
    rods = lines.rods.shaved(TOLERANCE)
    i, block = overlapping(rods.boxes(), timber.boxes, lines.panel, timber.block_panel)
    member = timber.owner[block]
    excess = bore_excess(rods.take(i), timber, member)
    bored = excess <= SLACK
    rest = np.flatnonzero(~bored)
    corners = timber.corners[block[rest]]
    candidates = rods.take(i[rest])
    meets = axis_distances(candidates, corners) <= candidates.radius
    rest, corners, candidates = rest[meets], corners[meets], candidates.take(meets)
    through = inside_bores(candidates, timber, member[rest], corners)
    bored[rest[through]] = True
    rest, corners = rest[~through], corners[~through]
    stops, at = _stops_in_wood(scene, i, block, bored)
    clash = np.concatenate((rest, stops))
    depth, point = _measured(lines.rods.take(i[rest]), corners)
    return _Hits(
        i[clash],
        block[clash],
        np.concatenate((np.minimum(depth, excess[rest]), np.zeros(len(stops)))),
        np.concatenate((point, at)),
        np.arange(len(clash)) >= len(rest),
    )


def _stops_in_wood(scene: Scene, i: Ints, block: Ints, bored: Bools) -> tuple[Ints, Floats]:
    """The pairs in which a run comes to its end inside a hole of the stick, and where."""
    lines = scene.lines
    pairs, points = [], []
    for stops, ends in ((lines.stops_at_start, lines.rods.start), (lines.stops_at_end, lines.rods.end)):
        rows = np.flatnonzero(bored & stops[i])
        normals, offsets = hexahedra_planes(scene.timber.corners[block[rows]])
        height = np.einsum("nfc,nc->nf", normals, ends[i[rows]]) - offsets
        rows = rows[(height < -TOLERANCE).all(axis=1)]
        pairs.append(rows)
        points.append(ends[i[rows]])
    return np.concatenate(pairs), np.concatenate(points)


def _bends(scene: Scene) -> _Hits:
    lines, timber = scene.lines, scene.timber
    bends = lines.bends(TOLERANCE)
    i, block = overlapping(bends.boxes(), timber.boxes, lines.panel[bends.stretch], timber.block_panel)
    center, radius = bends.center[i], bends.radius[i]
    distance = point_distances(center, timber.corners[block])
    near = np.flatnonzero(distance <= radius)
    i, block, center, radius, distance = i[near], block[near], center[near], radius[near], distance[near]
    clash = ~balls_inside_bores(center, radius, timber, timber.owner[block], timber.corners[block])
    depth = radius[clash] + TOLERANCE - distance[clash]
    return _Hits(bends.stretch[i[clash]], block[clash], depth, center[clash], np.zeros(len(depth), dtype=bool))


def _measured(rods: Rods, corners: Floats) -> tuple[Floats, Floats]:
    """How far each run must move to come clear of the wood, and the middle of the stretch of it beside the stick."""
    height = np.einsum("nvc,nc->nv", corners - rods.start[:, None], rods.direction)
    middle = (np.maximum(height.min(axis=1), 0.0) + np.minimum(height.max(axis=1), rods.length)) / 2
    return ways_out(rods, corners), rods.start + middle[:, None] * rods.direction


def _finding(scene: Scene, run: int, member: int, stretch: int, depth: float, point: Floats, ends: bool) -> Finding:
    part, stick = scene.lines.runs[run], scene.timber.members[member]
    if ends:
        how = "ends inside"
    elif any(bore.run == part.run for bore in stick.bores):
        how = "does not fit the hole in"
    else:
        how = "goes into"
    return found(
        "run.member",
        scene.panels[scene.lines.panel[stretch]],
        parts=(part.run, stick.id),
        point=point,
        value=None if ends else depth,
        limit=None if ends else 0.0,
        source="no two parts share space",
        run=part.run,
        how=how,
        member=named(stick),
    )
