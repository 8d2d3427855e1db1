"""Straight walls of the model: middle line, thickness, height and what the model says of them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely

from panelgen.geometry.frames import WORLD, Floats, Frame, Point2
from panelgen.intake.bodies import Body, read_body
from panelgen.intake.materials import Makeup, read_makeup
from panelgen.intake.records import NotTakenError
from panelgen.intake.source import Model, foreign_data

__all__ = ["ModelWall", "Solid", "read_solid", "read_wall", "turned"]

_FILL = 0.98
"""Least share of its rectangle that the middle half of a straight wall fills in plan."""

_FLARE = 2.0
"""The ends of a wall, where joins cut and widen them, are no thicker than its middle by this factor."""

_FOOTING = 0.6
"""Least share of its rectangle that the foot of a wall covers, ends cut by joins included."""

_FOOT = 1.0
"""Corners this near the lowest one (mm) are the wall's foot."""


@dataclass(frozen=True, slots=True, eq=False)
class Solid:
    """A wall element and its body.

    `plan` is its shadow on the ground (shapely); `base` and `top` its lowest and highest z, mm.
    """

    element: Any
    body: Body
    plan: Any
    base: float
    top: float


@dataclass(frozen=True, slots=True, eq=False)
class ModelWall:
    """A straight wall. `start` is the plan point where the middle of its body begins; lengths in mm.

    `external` and `bearing` are what the model states, None where it does not.
    """

    solid: Solid
    start: Point2
    direction: Point2
    length: float
    thickness: float
    makeup: Makeup
    external: bool | None
    bearing: bool | None

    @property
    def guid(self) -> str:
        """The element's GlobalId."""
        return str(self.solid.element.GlobalId)

    @property
    def name(self) -> str:
        """The element's name; the model's names are not unique."""
        return str(self.solid.element.Name or "")

    @property
    def height(self) -> float:
        """From foot to highest point, mm."""
        return self.solid.top - self.solid.base

    @property
    def frame(self) -> Frame:
        """The wall's own frame: x along it, y up, z to its right, from the middle of the body at its foot."""
        dx, dy = self.direction
        return Frame((self.start[0], self.start[1], self.solid.base), (dx, dy, 0.0), (0.0, 0.0, 1.0))


def read_solid(model: Model, element: Any) -> Solid:
    """The body of a wall element. Raises NotTakenError where it cannot be read."""
    with foreign_data():
        body = read_body(model, element)
        plan = body.shadow(WORLD)
    if plan.is_empty:
        raise NotTakenError("it covers no ground in plan")
    heights = body.points[:, 2]
    return Solid(element, body, plan, float(heights.min()), float(heights.max()))


def read_wall(model: Model, solid: Solid) -> ModelWall:
    """The straight wall that a body is. Raises NotTakenError where it is curved, bent, leaning or not one thickness."""
    from ifcopenshell.util.element import get_pset

    element = solid.element
    with foreign_data():
        placement = model.placement(element)
        axis = _axis(model, element, placement)
        common = get_pset(element, "Pset_WallCommon") or {}
    direction, (x0, x1, y0, y1) = _rectangle(solid, axis)
    middle = (y0 + y1) / 2
    start = (x0 * direction[0] - middle * direction[1], x0 * direction[1] + middle * direction[0])
    _refuse_leaning(solid, (x1 - x0) * (y1 - y0))
    on_reference = placement[:2, 3] if axis is None else axis[0]
    reference = (on_reference[0] - start[0]) * direction[1] - (on_reference[1] - start[1]) * direction[0]
    with foreign_data():
        makeup = read_makeup(model, element, placement, direction, reference, y1 - y0)
    return ModelWall(
        solid,
        start,
        direction,
        x1 - x0,
        y1 - y0,
        makeup,
        _flag(common.get("IsExternal")),
        _flag(common.get("LoadBearing")),
    )


def turned(wall: ModelWall) -> ModelWall:
    """The same wall walked from its other end."""
    (dx, dy), (x, y) = wall.direction, wall.start
    end = (x + dx * wall.length, y + dy * wall.length)
    return replace(wall, start=end, direction=(-dx, -dy), makeup=wall.makeup.mirrored())


def _flag(value: Any) -> bool | None:
    return value if isinstance(value, bool) else None


def _axis(model: Model, element: Any, placement: Floats) -> Floats | None:
    """(2, 2) float: the ends of the wall's axis curve in plan, mm; None where the model draws none.

    Raises NotTakenError for a curved or bent axis.
    """
    for shape in element.Representation.Representations:
        if shape.RepresentationIdentifier != "Axis" or len(shape.Items) != 1:
            continue
        curve = shape.Items[0]
        if curve.is_a("IfcTrimmedCurve") and not curve.BasisCurve.is_a("IfcLine"):
            raise NotTakenError("it is curved in plan")
        if not curve.is_a("IfcPolyline"):
            return None
        local = np.array([(*point.Coordinates[:2], 0.0) for point in curve.Points], dtype=float) * model.scale
        points = (local @ placement[:3, :3].T + placement[:3, 3])[:, :2]
        chord = points[-1] - points[0]
        length = float(np.hypot(*chord))
        if length == 0.0:
            return None
        off = np.abs((points[:, 0] - points[0, 0]) * chord[1] - (points[:, 1] - points[0, 1]) * chord[0]) / length
        if off.max() > _FOOT:
            raise NotTakenError("its axis is bent: draw each straight stretch as a wall of its own")
        return np.array([points[0], points[-1]])
    return None


def _rectangle(solid: Solid, axis: Floats | None) -> tuple[Point2, tuple[float, float, float, float]]:
    """The wall's direction and its extents (x0, x1, y0, y1) along it and to its left, from the house origin."""
    for direction in _directions(solid, axis):
        bounds = _extents(solid.plan, direction)
        if bounds is not None:
            return direction, bounds
    raise NotTakenError("it is not a straight wall of one thickness in plan")


def _directions(solid: Solid, axis: Floats | None) -> Iterator[Point2]:
    """Along the axis first, then along the longer side of the smallest rectangle around the plan."""
    if axis is not None:
        yield _unit(axis[1] - axis[0])
    ring = shapely.get_coordinates(solid.plan.minimum_rotated_rectangle)
    if len(ring) >= 4:
        sides = ring[1:3] - ring[:2]
        yield _unit(max(sides, key=lambda side: float(np.hypot(*side))))


def _unit(vector: Floats) -> Point2:
    length = math.hypot(*vector)
    return (float(vector[0] / length), float(vector[1] / length))


def _extents(plan: Any, direction: Point2) -> tuple[float, float, float, float] | None:
    """Extents of the plan along `direction` and to its left; None where its parts are not straight bands.

    The middle half of each part gives the thickness, since joins cut and widen the ends.
    """
    turn = np.array([(direction[0], -direction[1]), (direction[1], direction[0])])
    bounds = []
    for part in shapely.get_parts(shapely.transform(plan, lambda points: points @ turn)):
        x0, low, x1, high = part.bounds
        quarter = (x1 - x0) / 4
        middle = shapely.intersection(part, shapely.box(x0 + quarter, low, x1 - quarter, high))
        _, y0, _, y1 = middle.bounds
        if middle.area < _FILL * (x1 - x0) / 2 * (y1 - y0) or high - low > _FLARE * (y1 - y0):
            return None
        bounds.append((x0, x1, y0, y1))
    x0, x1, y0, y1 = np.array(bounds).T
    if np.ptp(y0) > _FOOT or np.ptp(y1) > _FOOT:
        return None
    return float(x0.min()), float(x1.max()), float(y0.min()), float(y1.max())


def _refuse_leaning(solid: Solid, area: float) -> None:
    points = solid.body.points
    foot = shapely.convex_hull(shapely.multipoints(points[points[:, 2] < solid.base + _FOOT][:, :2]))
    if foot.area < _FOOTING * area:
        raise NotTakenError("it does not stand upright on a level foot")
