"""The ways in which the panels of a joint leave one another, square to the faces that meet there."""

from __future__ import annotations

import math
from dataclasses import replace

import shapely

from panelgen.geometry.frames import Frame, Vec3, add, cross, dot, scaled
from panelgen.model import House, Joint, JointKind, Panel, PanelKind

__all__ = ["BEARING", "LEANING", "UP", "away", "placed", "shifted"]

UP = (0.0, 0.0, 1.0)
BEARING = (
    JointKind.STACKED,
    JointKind.WALL_FLOOR,
    JointKind.WALL_CEILING,
    JointKind.WALL_ROOF,
    JointKind.WALL_ON_ROOF,
    JointKind.ROOF_CEILING,
    JointKind.LAY_OVER,
    JointKind.FOUNDATION,
)
LEANING = (JointKind.RIDGE, JointKind.HIP, JointKind.VALLEY)


def placed(house: House, panel: Panel, frame: Frame) -> House:
    """The house with a panel set down elsewhere."""
    return replace(house, panels=tuple(replace(one, frame=frame) if one is panel else one for one in house.panels))


def shifted(house: House, panel: Panel, by: Vec3) -> House:
    """The house with a panel moved by so much, house coordinates, mm."""
    return placed(house, panel, Frame(add(panel.frame.origin, by), panel.frame.x, panel.frame.y))


def _middle(panel: Panel) -> Vec3:
    centre = shapely.Polygon(panel.profile).centroid
    return panel.frame.point(centre.x, centre.y, 0.0)


def away(house: House, joint: Joint) -> tuple[Panel, Vec3]:
    """A panel of a joint, and the unit vector in which it leaves the other, square to the faces that meet."""
    one = house.panel(joint.panels[0])
    if joint.kind is JointKind.FOUNDATION:
        return one, UP
    other = house.panel(joint.panels[1])
    if joint.kind in BEARING:
        lower, upper = sorted((one, other), key=lambda panel: _middle(panel)[2])
        return upper, lower.frame.z if lower.kind is PanelKind.ROOF else UP
    if joint.kind in (JointKind.CORNER, JointKind.TEE):
        way = other.frame.x
    elif joint.kind in LEANING:
        line = cross(one.frame.z, other.frame.z)
        flat = cross(line, UP)
        way = scaled(flat, dot(flat, flat) ** -0.5)
    else:
        way = cross(joint.along, one.frame.z)
    ahead = dot(add(_middle(other), scaled(_middle(one), -1.0)), way)
    return other, scaled(way, math.copysign(1.0, ahead))
