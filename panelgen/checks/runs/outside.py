"""Runs stay inside the panel's outline and depth."""

from __future__ import annotations

import numpy as np

from panelgen.checks.bounds import SIDES, Bounds
from panelgen.checks.codes import found
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["run_outside"]


def run_outside(scene: Scene) -> list[Finding]:
    """One finding for each run and side of its panel where it sticks out, at the place where it does most.

    A panel reaches as far along as its farthest part, since sheets may lap past the framing at corners;
    up and down to the outline of the framing; and through to its outermost layers. Where a run goes on
    beyond the panel only its axis must keep inside the bound. Fittings are not looked at: one at a joint
    is in both panels.
    """
    lines = scene.lines
    if not len(lines):
        return []
    low, high = _reach(scene)
    hits = [
        _beyond(scene, index, Bounds.of(scene.panels[index], (low[index], high[index]), scene.panels[index].depth))
        for index in np.unique(lines.panel).tolist()
    ]
    stretch, side = (np.concatenate([hit[k] for hit in hits]) for k in (0, 1))
    depth, point = np.concatenate([hit[2] for hit in hits]), np.concatenate([hit[3] for hit in hits])
    run = lines.run[stretch]
    return [
        found(
            "run.outside",
            scene.panels[lines.panel[stretch[k]]],
            parts=(lines.runs[run[k]].run,),
            point=point[k],
            value=depth[k],
            limit=0.0,
            source="outline and layers of the panel",
            run=lines.runs[run[k]].run,
            side=SIDES[side[k]],
        )
        for k in worst_of_each(depth, run, side).tolist()
    ]


def _reach(scene: Scene) -> tuple[Floats, Floats]:
    """(p,) least and greatest panel x of anything in each panel."""
    low, high = np.zeros(len(scene.panels)), np.array([panel.length for panel in scene.panels])
    for boxes, owner in (
        (scene.timber.boxes, scene.timber.block_panel),
        (scene.sheeting.boxes, scene.sheeting.panel),
    ):
        np.minimum.at(low, owner, boxes.low[:, 0])
        np.maximum.at(high, owner, boxes.high[:, 0])
    return low, high


def _beyond(scene: Scene, index: int, bounds: Bounds) -> tuple[Ints, Ints, Floats, Floats]:
    """Stretch and side of every excess in one panel, how far (mm), and the end of the stretch where it is."""
    lines = scene.lines
    rows = np.flatnonzero((lines.panel == index) & (lines.fitting < 0))
    legs = lines.legs.take(rows)
    rods = legs.rods
    flat = np.sqrt(np.maximum(1.0 - (rods.direction @ bounds.normals.T) ** 2, 0.0))
    ends = (
        (rods.start, rods.bend_start, lines.stops_at_start[rows]),
        (rods.end, rods.bend_end, lines.stops_at_end[rows]),
    )
    over = np.stack(
        [
            end @ bounds.normals.T
            + np.where(bend[:, None], 1.0, np.where(stops[:, None], flat, 0.0)) * rods.radius[:, None]
            - bounds.offsets
            for end, bend, stops in ends
        ]
    )
    over[:, legs.square] = ((legs.corners[legs.square] @ bounds.normals.T).max(axis=1) - bounds.offsets)[None]
    k, column = np.nonzero(over.max(axis=0) > TOLERANCE)
    farther = over.argmax(axis=0)[k, column]
    point = np.where(farther[:, None] == 0, rods.start[k], rods.end[k])
    return rows[k], np.array(bounds.side, dtype=np.int64)[column], over[farther, k, column], point
