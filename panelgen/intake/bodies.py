"""The solid shape of an element as flat faces in house coordinates, mm.

An extrusion of a straight-edged profile is read from its numbers; anything else goes through the mesher.
Openings are not subtracted, so a body is what the wall is made of before its windows.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from panelgen.geometry.frames import Floats, Frame
from panelgen.intake.records import NotTakenError
from panelgen.intake.source import Model

__all__ = ["Body", "read_body"]

_GRID = 0.01
"""Shadows are snapped to this grid (mm), so that faces that touch unite without slivers."""

_SMALLEST_FACE = 1.0
"""Faces seen edge-on: a shadow of less than this area, mm2, is none."""

_CIRCLE_SIDES = 48

_FARTHEST = 1e11
"""No map grid has coordinates as large as this, mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Body:
    """Flat faces, grouped by corner count: each group is (faces, corners, 3) float, mm."""

    faces: tuple[Floats, ...]

    @property
    def points(self) -> Floats:
        """(n, 3) float: every corner of every face, mm."""
        return np.concatenate([group.reshape(-1, 3) for group in self.faces])

    def shadow(self, frame: Frame) -> Any:
        """What is seen looking along the frame's z: a shapely polygon or multipolygon in its x and y, mm."""
        polygons = []
        for group in self.faces:
            flat = frame.to_local(group.reshape(-1, 3)).reshape(group.shape)[..., :2]
            seen = shapely.polygons(flat)
            polygons.append(shapely.buffer(seen[shapely.area(seen) > _SMALLEST_FACE], 0.0))
        return shapely.union_all(np.concatenate(polygons), grid_size=_GRID)


def read_body(model: Model, element: Any) -> Body:
    """The body of a wall, opening, window or door. Raises NotTakenError where it has none that can be read."""
    if element.ObjectPlacement is None or element.Representation is None:
        raise NotTakenError("it has no shape in the model")
    items = [
        item
        for shape in element.Representation.Representations
        if shape.RepresentationIdentifier == "Body"
        for item in shape.Items
    ]
    placement = model.placement(element)
    prisms = [_prism(model, item, placement) for item in items]
    plain = [prism for prism in prisms if prism is not None]
    whole = bool(plain) and len(plain) == len(items)
    body = Body(tuple(group for prism in plain for group in prism)) if whole else _meshed(model, element)
    if not np.all(np.abs(body.points) < _FARTHEST):
        raise NotTakenError("its shape has coordinates that no site has")
    return body


def _prism(model: Model, item: Any, placement: Floats) -> tuple[Floats, Floats] | None:
    """The two ends and the sides of a plain extrusion; None for any other kind of solid."""
    if item.is_a() != "IfcExtrudedAreaSolid":
        return None
    ring = _profile(model, item.SweptArea)
    if ring is None:
        return None
    if item.Position is not None:
        placement = placement @ _axis_placement(model, item.Position)
    direction = np.array(item.ExtrudedDirection.DirectionRatios, dtype=float)
    sweep = placement[:3, :3] @ (direction / np.linalg.norm(direction)) * (item.Depth * model.scale)
    near = np.column_stack([ring, np.zeros(len(ring))]) @ placement[:3, :3].T + placement[:3, 3]
    far = near + sweep
    sides = np.stack([near, np.roll(near, -1, axis=0), np.roll(far, -1, axis=0), far], axis=1)
    return np.stack([near, far]), sides


def _profile(model: Model, profile: Any) -> Floats | None:
    """(n, 2) float: the corners of a profile, mm; None where it has curved edges or holes."""
    kind = profile.is_a()
    if kind == "IfcArbitraryClosedProfileDef":
        return _straight_ring(model, profile.OuterCurve)
    if kind == "IfcRectangleProfileDef":
        half: Floats = np.array([profile.XDim, profile.YDim], dtype=float) * (model.scale / 2)
        ring = half * np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    elif kind == "IfcCircleProfileDef":
        angles = np.linspace(0.0, 2 * math.pi, _CIRCLE_SIDES, endpoint=False)
        ring = (profile.Radius * model.scale) * np.column_stack([np.cos(angles), np.sin(angles)])
    else:
        return None
    place = np.eye(4) if profile.Position is None else _axis_placement(model, profile.Position)
    turned: Floats = ring @ place[:2, :2].T + place[:2, 3]
    return turned


def _straight_ring(model: Model, curve: Any) -> Floats | None:
    """(n, 2) float: the corners of a closed line, mm, without the repeated first point."""
    if curve.is_a("IfcPolyline"):
        ring = np.array([point.Coordinates[:2] for point in curve.Points], dtype=float) * model.scale
    elif curve.is_a("IfcIndexedPolyCurve") and not curve.Segments:
        ring = np.array([point[:2] for point in curve.Points.CoordList], dtype=float) * model.scale
    else:
        return None
    if np.allclose(ring[0], ring[-1], atol=_GRID):
        ring = ring[:-1]
    return ring if len(ring) >= 3 else None


def _axis_placement(model: Model, position: Any) -> Floats:
    from ifcopenshell.util.placement import get_axis2placement

    return model.in_millimetres(get_axis2placement(position))


def _meshed(model: Model, element: Any) -> Body:
    import ifcopenshell.geom

    try:
        mesh = ifcopenshell.geom.create_shape(model.kernel, element).geometry
    except RuntimeError as error:
        raise NotTakenError("its shape in the model cannot be read") from error
    corners = np.array(mesh.verts, dtype=float).reshape(-1, 3) * 1000.0  # the mesher answers in metres
    triangles = np.array(mesh.faces, dtype=int).reshape(-1, 3)
    if not len(triangles):
        raise NotTakenError("its shape in the model is empty")
    return Body((corners[triangles],))
