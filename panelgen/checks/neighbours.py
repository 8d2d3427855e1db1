"""Runs and sticks of one panel against those of the panels beside it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.runlines import RunLines, Visit
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import overlap_depths
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["panel_panel", "with_visitors"]


def with_visitors(scene: Scene) -> Scene:
    """The scene of a house with the runs that reach into another panel's box in that panel's coordinates.

    Its own runs are left out: they have been looked at.
    """
    runs = [(index, part) for index, panel in enumerate(scene.panels) for part in panel.runs]
    if not runs:
        return scene
    paths = [scene.panels[index].frame.to_parent(part.path) for index, part in runs]
    radius = np.array([[part.outside_diameter / 2] for _, part in runs])
    reach = Boxes(np.array([p.min(axis=0) for p in paths]) - radius, np.array([p.max(axis=0) for p in paths]) + radius)
    i, panel = overlapping(reach, _house_boxes(scene))
    visits = [
        Visit(runs[k][1], index, tuple(map(tuple, scene.panels[index].frame.to_local(paths[k]).tolist())))
        for k, index in zip(i.tolist(), panel.tolist(), strict=True)
        if runs[k][0] != index
    ]
    return replace(scene, lines=RunLines.along(visits))


def _house_boxes(scene: Scene) -> Boxes:
    """The box around the sticks of each panel, in house coordinates."""
    corners = _house_corners(scene)
    low = np.full((len(scene.panels), 3), np.inf)
    high = -low
    np.minimum.at(low, scene.timber.block_panel, corners.min(axis=1))
    np.maximum.at(high, scene.timber.block_panel, corners.max(axis=1))
    return Boxes(low, high)


def _house_corners(scene: Scene) -> Floats:
    """(b, 8, 3) corners of all blocks in house coordinates."""
    axes = np.array([panel.frame.axes for panel in scene.panels]).reshape(-1, 3, 3)
    origins = np.array([panel.frame.origin for panel in scene.panels]).reshape(-1, 3)
    panel = scene.timber.block_panel
    result: Floats = np.einsum("bvi,bij->bvj", scene.timber.corners, axes[panel]) + origins[panel, None]
    return result


def panel_panel(scene: Scene) -> list[Finding]:
    """One finding for each two panels whose sticks take the same space, at the deepest place; loose sticks apart."""
    timber = scene.timber
    corners = _house_corners(scene)
    boxes = Boxes.around(corners).grown(-TOLERANCE / 2)
    i, j = overlapping(boxes, boxes)
    panel = timber.block_panel
    loose = np.array([member.loose for member in timber.members], dtype=bool)[timber.owner]
    apart = (panel[i] < panel[j]) & ~loose[i] & ~loose[j]
    i, j = i[apart], j[apart]
    depth = overlap_depths(corners[i], corners[j])
    deep = depth > TOLERANCE
    i, j, depth = i[deep], j[deep], depth[deep]
    findings = []
    for k in worst_of_each(depth, panel[i], panel[j]).tolist():
        home, other = scene.panels[panel[i[k]]], scene.panels[panel[j[k]]]
        first, second = timber.members[timber.owner[i[k]]], timber.members[timber.owner[j[k]]]
        middle = (np.maximum(boxes.low[i[k]], boxes.low[j[k]]) + np.minimum(boxes.high[i[k]], boxes.high[j[k]])) / 2
        findings.append(
            found(
                "panel.panel",
                home,
                parts=(first.id, second.id),
                point=home.frame.to_local(middle),
                value=depth[k],
                limit=0.0,
                source="no two parts share space",
                neighbour=other.label,
                member=named(first),
                other=named(second),
            )
        )
    return findings
