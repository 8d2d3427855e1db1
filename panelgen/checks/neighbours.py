"""Runs and sticks of one panel against those of the panels beside it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import overlap_depths
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding

__all__ = ["panel_panel", "with_visitors"]


def with_visitors(scene: Scene) -> Scene:
    """The scene of a house with the legs of runs that reach among the sticks of another panel, seen from there.

    Legs in their own panel are left out: they have been looked at.
    """
    lines = scene.lines
    origins, axes = scene.frames()
    in_house = lines.legs.moved(axes[lines.panel], origins[lines.panel])
    leg, panel = overlapping(in_house.boxes(TOLERANCE), _panel_boxes(scene, _house_corners(scene)))
    away = lines.panel[leg] != panel
    leg, panel = leg[away], panel[away]
    own, back = axes[lines.panel[leg]], np.swapaxes(axes[panel], 1, 2)
    shift = np.einsum("ni,nij->nj", origins[lines.panel[leg]] - origins[panel], back)
    return replace(scene, lines=lines.seen_from(leg, panel, own @ back, shift))


def panel_panel(scene: Scene) -> list[Finding]:
    """One finding for each two panels whose sticks take the same space, at the deepest place; loose sticks apart."""
    timber = scene.timber
    corners = _house_corners(scene)
    boxes, panel = Boxes.around(corners).grown(-TOLERANCE / 2), timber.block_panel
    guest, host = overlapping(boxes, _panel_boxes(scene, corners))
    near = np.unique(guest[panel[guest] != host])
    i, j = overlapping(boxes.take(near), boxes.take(near))
    i, j = near[i], near[j]
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


def _house_corners(scene: Scene) -> Floats:
    """(b, 8, 3) corners of all blocks in house coordinates."""
    origins, axes = scene.frames()
    panel = scene.timber.block_panel
    result: Floats = np.einsum("bvi,bij->bvj", scene.timber.corners, axes[panel]) + origins[panel, None]
    return result


def _panel_boxes(scene: Scene, corners: Floats) -> Boxes:
    """The box around the sticks of each panel, from the corners of all blocks; inside out where there are none."""
    around = Boxes.around(corners).around_groups(scene.timber.block_panel, len(scene.panels))
    return around.grown(-TOLERANCE / 2)
