"""Runs against wood: every stick a run meets must have a hole that takes it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.holes.fits import BoreFits, ball_excess, rod_excess
from panelgen.checks.holes.remains import SLACK, ball_inside_bores, inside_bores
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Ints, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import hexahedra_planes, point_distances
from panelgen.geometry.legs import Legs
from panelgen.geometry.rods import Bools
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["run_member"]


@dataclass(frozen=True, slots=True, eq=False)
class _Hits:
    """Leg and block of each clash, how deep it is (mm), where (k, 3), and whether the run ends in the wood."""

    leg: Ints
    block: Ints
    depth: Floats
    point: Floats
    ends: Bools


def run_member(scene: Scene) -> list[Finding]:
    """One finding for each run and stick that take the same space where no hole of the stick takes the run."""
    if not len(scene.lines) or not len(scene.timber.owner):
        return []
    hits = [_legs(scene), _bends(scene)]
    leg = np.concatenate([hit.leg for hit in hits])
    block = np.concatenate([hit.block for hit in hits])
    depth = np.concatenate([hit.depth for hit in hits])
    point = np.concatenate([hit.point for hit in hits])
    ends = np.concatenate([hit.ends for hit in hits])
    member = scene.timber.owner[block]
    run = scene.lines.run[leg]
    return [
        _finding(scene, leg[k], member[k], depth[k], point[k], bool(ends[k]))
        for k in worst_of_each(depth, run, member).tolist()
    ]


def _legs(scene: Scene) -> _Hits:
    lines, timber = scene.lines, scene.timber
    boxes = lines.legs.boxes(TOLERANCE)
    i, block = overlapping(boxes, timber.boxes, lines.panel, timber.block_panel)
    member = timber.owner[block]
    fits = BoreFits.near(boxes, lines.panel, timber)
    excess = fits.least(rod_excess(lines.legs.rods.shaved(TOLERANCE), timber.bores, fits), i, member)
    bored = excess <= SLACK
    rest = np.flatnonzero(~bored)
    rest = rest[lines.legs.take(i[rest]).meet_blocks(timber.corners[block[rest]], TOLERANCE)]
    legs, corners, near = lines.legs.take(i[rest]), timber.corners[block[rest]], fits.bores(i[rest], member[rest])
    through = inside_bores(legs, corners, timber.bores, near, TOLERANCE)
    bored[rest[through]] = True
    rest = rest[~through]
    stops, at = _stops_in_wood(scene, i, block, bored)
    clash = np.concatenate((rest, stops))
    depth, point = _measured(lines.legs.take(i[rest]), timber.corners[block[rest]])
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
    rods = lines.legs.rods
    for stops, ends in ((lines.stops_at_start, rods.start), (lines.stops_at_end, rods.end)):
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
    boxes, panel = bends.boxes(), lines.panel[bends.leg]
    i, block = overlapping(boxes, timber.boxes, panel, timber.block_panel)
    distance = point_distances(bends.center[i], timber.corners[block])
    near = np.flatnonzero(distance <= bends.radius[i])
    i, block, distance = i[near], block[near], distance[near]
    close, body = np.unique(i, return_inverse=True)
    fits = BoreFits.near(boxes.take(close), panel[close], timber)
    excess = ball_excess(bends.center[close], bends.radius[close], timber.bores, fits)
    fit = fits.least(excess, body, timber.owner[block]) <= SLACK
    drills = fits.bores(body, timber.owner[block])
    for k in np.flatnonzero(~fit & (drills >= 0).any(axis=1)):
        own = drills[k][drills[k] >= 0]
        fit[k] = ball_inside_bores(bends.center[i[k]], bends.radius[i[k]], timber.corners[block[k]], timber.bores, own)
    i, block, distance = i[~fit], block[~fit], distance[~fit]
    depth = bends.radius[i] + TOLERANCE - distance
    return _Hits(bends.leg[i], block, depth, bends.center[i], np.zeros(len(depth), dtype=bool))


def _measured(legs: Legs, corners: Floats) -> tuple[Floats, Floats]:
    """How far each leg must move to come clear of the wood, and the middle of the part of it beside the stick."""
    rods = legs.rods
    height = np.einsum("nvc,nc->nv", corners - rods.start[:, None], rods.direction)
    middle = (np.maximum(height.min(axis=1), 0.0) + np.minimum(height.max(axis=1), rods.length)) / 2
    return legs.ways_out(corners), rods.start + middle[:, None] * rods.direction


def _finding(scene: Scene, leg: int, member: int, depth: float, point: Floats, ends: bool) -> Finding:
    lines = scene.lines
    part, stick = lines.runs[lines.run[leg]], scene.timber.members[member]
    bored = any(part.run in bore.runs for bore in stick.bores)
    how = "ends inside" if ends else "does not fit the hole in" if bored else "goes into"
    if lines.fitting[leg] >= 0:
        kind = lines.fittings[lines.fitting[leg]].kind
        how = f"has a fitting ({kind}) that {how}"
    return found(
        "run.member",
        scene.panels[lines.panel[leg]],
        parts=(part.run, stick.id),
        point=point,
        value=None if ends else depth,
        limit=None if ends else 0.0,
        source="no two parts share space",
        run=part.run,
        how=how,
        member=named(stick),
    )
