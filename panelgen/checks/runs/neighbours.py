"""Runs of one panel among the sticks of the panels beside it, and in sheets that lap around a corner."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.hexahedra import box_corners
from panelgen.geometry.tolerance import TOLERANCE

__all__ = ["with_visitors"]


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
