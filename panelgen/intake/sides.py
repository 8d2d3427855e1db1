"""Which walls are exterior and which of their faces looks outside, from flags and from the plan itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from panelgen.intake.walls import ModelWall, Solid

__all__ = ["Facing", "face"]

_CLOSING = 150.0
"""Half the widest gap in plan (mm) that still counts as closed: a post or a joint stands there."""

_LOOK = 75.0
"""How far in front of a face (mm) it is asked whether that is outside."""

_SAMPLES = np.linspace(0.1, 0.9, 9)


@dataclass(frozen=True, slots=True)
class Facing:
    """Whether a wall is exterior, whether its outside is on the left, and what a person should confirm."""

    exterior: bool
    outside_left: bool = False
    note: str = ""


def face(walls: Sequence[ModelWall], solids: Sequence[Solid]) -> tuple[Facing, ...]:
    """Judge every wall against the plan of all `solids`, cut at the middle of the wall's height.

    The model's own flag decides whether a wall is exterior, unless both its faces look into the
    building. Without a flag the plan decides.
    """
    plans: dict[tuple[int, ...], shapely.Geometry] = {}
    facings = []
    for wall in walls:
        cut = (wall.solid.base + wall.solid.top) / 2
        key = tuple(n for n, solid in enumerate(solids) if solid.base <= cut <= solid.top)
        if key not in plans:
            plans[key] = _enclosed([solids[n] for n in key])
        facings.append(_judge(wall, plans[key]))
    return tuple(facings)


def _enclosed(solids: Sequence[Solid]) -> shapely.Geometry:
    """The ground inside the outermost walls, walls included."""
    closed = shapely.union_all([solid.plan for solid in solids]).buffer(_CLOSING, join_style="mitre")
    rings = shapely.get_exterior_ring(shapely.get_parts(closed))
    inside = shapely.union_all(shapely.polygons(rings)).buffer(-_CLOSING, join_style="mitre")
    shapely.prepare(inside)
    return inside


def _judge(wall: ModelWall, enclosed: shapely.Geometry) -> Facing:
    left, right = (_looks_outside(wall, enclosed, side) for side in (-1.0, 1.0))
    if left != right:
        if wall.external is False:
            return Facing(False, note="IsExternal is FALSE in the model though one face looks outside; confirm")
        return Facing(True, left)
    if not left:
        doubt = "IsExternal is TRUE in the model though both faces look into the building; confirm"
        return Facing(False, note=doubt if wall.external else "")
    if not wall.external:
        return Facing(False, note="stands free: both faces look outside; confirm")
    first = wall.makeup.plies[0].middle if wall.makeup.plies else None
    guess = "stands free: which face is the weather side is a guess; confirm"
    return Facing(True, first is not None and first < 0, guess)


def _looks_outside(wall: ModelWall, enclosed: shapely.Geometry, side: float) -> bool:
    """True where most of the face on that side (1 right, -1 left) has open ground before it."""
    depth = side * (wall.thickness / 2 + _LOOK)
    along = _SAMPLES * wall.length
    ahead = wall.frame.to_parent(np.column_stack([along, np.zeros_like(along), np.full_like(along, depth)]))
    return bool(np.mean(shapely.contains_xy(enclosed, ahead[:, 0], ahead[:, 1])) < 0.5)
