"""How far apart panels stand that meet edge to edge: walls in line, decks, ceilings, and slopes of a roof."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.envelope.bodies import frames_of
from panelgen.geometry.frames import Floats, Vec3
from panelgen.geometry.rods import Bools
from panelgen.model import House, Joint, JointKind, Panel

__all__ = ["Gap", "joint_gaps"]

_EDGE_TO_EDGE = (JointKind.IN_LINE, JointKind.FLOOR_FLOOR, JointKind.CEILING_CEILING, JointKind.ROOF_ROOF)

_OPPOSITE = -0.99
"""Edges whose directions are opposite to about 8 degrees may face one another."""

_LEAST = 50.0
"""Edges that face one another over less than this (mm) touch at a corner only; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Gap:
    """The widest place of a joint, at `point` in the house: how far apart (mm) the framing of its panels is there.

    `panel` is the first of the two. Those of one wall, deck or slope lie in one plane: a step out of it counts too.
    """

    joint: Joint
    panel: Panel
    width: float
    point: Vec3


def joint_gaps(house: House) -> Iterator[Gap]:
    """The gap at every joint of panels that meet edge to edge, in the order of the joints; about 0 where they touch.

    Joints of which no edges of the framing face one another have none.
    """
    numbers = {panel.label: number for number, panel in enumerate(house.panels)}
    joints = [joint for joint in house.joints if joint.kind in _EDGE_TO_EDGE]
    if not joints:
        return
    one, other = np.array([[numbers[label] for label in joint.panels] for joint in joints]).T
    start, end = _edges(house.panels)
    normals = frames_of(house.panels)[1][:, 2]
    flush = np.array([house.panels[a].wall == house.panels[b].wall for a, b in zip(one, other, strict=True)])
    width, point = _widest((start[one], end[one]), (start[other], end[other]), normals[one], flush)
    for joint, number, wide, (x, y, z) in zip(joints, one.tolist(), width.tolist(), point.tolist(), strict=True):
        if wide < np.inf:
            yield Gap(joint, house.panels[number], wide, (x, y, z))


def _edges(panels: Sequence[Panel]) -> tuple[Floats, Floats]:
    """Both ends of the edges of each panel's framing, (p, e, 3) in the house; rows are filled up by no length."""
    most = max(len(panel.profile) for panel in panels)
    rings = [(*panel.profile, *panel.profile[-1:] * (most - len(panel.profile))) for panel in panels]
    flat = np.array(rings, dtype=float)
    origins, axes = frames_of(panels)
    start = flat @ axes[:, :2] + origins[:, None]
    return start, np.roll(start, -1, axis=1)


def _widest(
    near: tuple[Floats, Floats], far: tuple[Floats, Floats], normal: Floats, flush: Bools
) -> tuple[Floats, Floats]:
    """How far apart (k,) the edges of two panels are, and where (k, 3).

    `near` and `far` are both ends of the edges of each, (k, e, 3), `normal` (k, 3) that of the near one's plane. Of
    all edges that face one another the two count that are nearest in that plane, where they are farther apart; what
    they are out of it only where they should be `flush` (k,). Infinite where no edges face one another.
    """
    p, r = near[0][:, :, None], far[0][:, None]
    (along, size), (back, reach) = (_directions(*edges) for edges in (near, far))
    along, size, back, reach = along[:, :, None], size[:, :, None], back[:, None], reach[:, None]
    out = np.cross(along, normal[:, None, None])
    slope = (along * back).sum(axis=3)
    begin = ((r - p) * along).sum(axis=3)
    low, high = np.maximum(begin + slope * reach, 0.0), np.minimum(begin, size)
    facing = (slope < _OPPOSITE) & (high - low > _LEAST)
    at = np.stack((low, high), axis=3)
    steps = (at - begin[..., None]) / np.where(facing, slope, 1.0)[..., None]
    apart = r[..., None, :] + steps[..., None] * back[..., None, :] - p[..., None, :]
    ahead = (apart * out[..., None, :]).sum(axis=4)
    aside = np.where(flush[:, None, None, None], (apart * normal[:, None, None, None]).sum(axis=4), 0.0)
    rows = np.arange(len(flush))
    count = facing.shape[2]
    nearest = np.where(facing, np.abs(ahead).max(axis=3), np.inf).reshape(len(rows), -1).argmin(axis=1)
    i, j = nearest // count, nearest % count
    width = np.hypot(np.maximum(ahead[rows, i, j], 0.0), aside[rows, i, j])
    end = width.argmax(axis=1)
    place = near[0][rows, i] + at[rows, i, j, end][:, None] * along[rows, i, 0]
    return np.where(facing[rows, i, j], width[rows, end], np.inf), place


def _directions(start: Floats, end: Floats) -> tuple[Floats, Floats]:
    """Unit vectors (k, e, 3) along edges, 0 for those of no length, and their lengths (k, e)."""
    along = end - start
    size = np.linalg.norm(along, axis=2)
    return along / np.where(size > 0.0, size, 1.0)[..., None], size
