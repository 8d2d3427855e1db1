"""Runs of one panel among the sticks of the panels beside it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.tolerance import TOLERANCE

__all__ = ["with_visitors"]


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
