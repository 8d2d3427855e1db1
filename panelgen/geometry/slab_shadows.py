"""What a flat slab cuts out of rods, balls and blocks, seen square to the slab."""

from __future__ import annotations

import numpy as np

from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import EDGES
from panelgen.geometry.lines import in_planes, perpendiculars
from panelgen.geometry.rods import Rods

__all__ = ["ball_shadow", "block_shadow", "rod_shadow"]

_SIDES = 128
_ANGLES = np.arange(_SIDES) * (2 * np.pi / _SIDES)
_CIRCLE = np.stack((np.cos(_ANGLES), np.sin(_ANGLES)), axis=1)
_UP = np.array([(0.0, 0.0, -1.0), (0.0, 0.0, 1.0)])
_HAIR = 1e-9


def rod_shadow(rods: Rods, k: int, thickness: float) -> Floats:
    """(p, 2) points whose hull is the shadow of rod k's part in the slab 0 <= z <= `thickness`, seen along z.

    Both ends of the rod count as flat. The rod is drawn as lines on its surface, so that the hull lies
    inside the true shadow by up to 0.03 % of the radius. Empty where the rod misses the slab.
    """
    direction = rods.direction[k]
    first, second = perpendiculars(direction[None])
    surface = rods.start[k] + rods.radius[k] * (_CIRCLE[:, :1] * first + _CIRCLE[:, 1:] * second)
    low, high = in_planes(surface, np.broadcast_to(direction, surface.shape), _UP, np.array([0.0, thickness]))
    low, high = np.maximum(low, 0.0), np.minimum(high, rods.length[k])
    met = low <= high
    ends = [surface[met, :2] + at[met, None] * direction[:2] for at in (low, high)]
    return np.concatenate(ends)


def ball_shadow(center: Floats, radius: float, thickness: float) -> Floats:
    """(p, 2) points on the rim of the shadow that a ball's part in the slab 0 <= z <= `thickness` casts along z."""
    beyond = float(center[2] - np.clip(center[2], 0.0, thickness))
    if abs(beyond) >= radius:
        return np.empty((0, 2))
    result: Floats = center[:2] + np.sqrt(radius**2 - beyond**2) * _CIRCLE
    return result


def block_shadow(corners: Floats, thickness: float) -> Floats:
    """(p, 2) points whose hull is the shadow of a hexahedron's (8, 3) part in the slab 0 <= z <= `thickness`."""
    begin, along = corners[EDGES[:, 0]], corners[EDGES[:, 1]] - corners[EDGES[:, 0]]
    places = [corners]
    for z in (0.0, thickness):
        crosses = (begin[:, 2] - z) * (begin[:, 2] + along[:, 2] - z) < 0
        share = (z - begin[crosses, 2]) / along[crosses, 2]
        places.append(begin[crosses] + share[:, None] * along[crosses])
    points = np.concatenate(places)
    result: Floats = points[(points[:, 2] >= -_HAIR) & (points[:, 2] <= thickness + _HAIR), :2]
    return result
