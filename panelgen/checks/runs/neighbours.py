"""Runs of one panel among the sticks of the panels beside it, and in sheets that lap around a corner."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from panelgen.checks.runs.lines import RunLines
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Vec3
from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import House, Panel, RunPart, ServiceRun

__all__ = ["with_strays", "with_visitors"]


def with_visitors(scene: Scene) -> Scene:
    """The scene of a house with legs of runs that reach among the sticks and sheets of another panel, seen from there.

    Legs in their own panel are left out: they have been looked at.
    """
    lines = scene.lines
    origins, axes = scene.frames()
    in_house = lines.legs.moved(axes[lines.panel], origins[lines.panel])
    leg, panel = overlapping(in_house.boxes(TOLERANCE), _panel_boxes(scene))
    away = lines.panel[leg] != panel
    leg, panel = leg[away], panel[away]
    own, back = axes[lines.panel[leg]], np.swapaxes(axes[panel], 1, 2)
    shift = np.einsum("ni,nij->nj", origins[lines.panel[leg]] - origins[panel], back)
    return replace(scene, lines=lines.seen_from(leg, panel, own @ back, shift))


def _panel_boxes(scene: Scene) -> Boxes:
    """The box around the sticks and sheets of each panel in the house; inside out where there are none."""
    origins, axes = scene.frames()
    timber, sheeting = scene.timber, scene.sheeting
    corners = np.concatenate((timber.corners, box_corners(sheeting.boxes.low, sheeting.boxes.high)))
    panel = np.concatenate((timber.block_panel, sheeting.panel))
    around = Boxes.around(np.einsum("bvi,bij->bvj", corners, axes[panel]) + origins[panel, None])
    return around.around_groups(panel, len(scene.panels)).grown(-TOLERANCE / 2)


def with_strays(scene: Scene, house: House) -> Scene:
    """The scene of a house with each run that is in no panel for a part of its way, in every panel whose box it meets.

    Around the end of a wall there is sheathing of the next one that no panel's room takes in.
    """
    inside: dict[str, float] = {}
    for panel in scene.panels:
        for part in panel.runs:
            inside[part.run] = inside.get(part.run, 0.0) + _length(part.path)
    strays = [run for run in house.runs if inside.get(run.id, 0.0) < _length(run.path) - TOLERANCE]
    if not strays:
        return replace(scene, lines=RunLines.of(()))
    points = [np.array(run.path) for run in strays]
    low, high = (np.array([pick(path, axis=0) for path in points]).reshape(-1, 3) for pick in (np.min, np.max))
    stray, panel_of = overlapping(Boxes(low, high).grown(TOLERANCE), _panel_boxes(scene))
    runs: list[list[RunPart]] = [[] for _ in scene.panels]
    for k, number in zip(stray.tolist(), panel_of.tolist(), strict=True):
        runs[number].append(_whole(strays[k], scene.panels[number]))
    panels = [replace(panel, runs=tuple(lot), fittings=()) for panel, lot in zip(scene.panels, runs, strict=True)]
    return replace(scene, lines=RunLines.of(panels))


def _length(path: Sequence[Vec3]) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(path))


def _whole(run: ServiceRun, panel: Panel) -> RunPart:
    """A run from end to end in the coordinates of a panel."""
    path = [(x, y, z) for x, y, z in panel.frame.to_local(np.array(run.path)).tolist()]
    return RunPart(
        f"{run.id}.0",
        run.id,
        run.system,
        run.product,
        run.diameter,
        tuple(path),
        run.why,
        insulation=run.insulation,
        section=run.section,
        family=run.family,
        bend_radius=run.bend_radius,
        flow=run.flow,
    )
