"""Beams and foundation walls under decks, seen in the house: which of them a point stands over."""

from __future__ import annotations

from typing import NamedTuple

from panelgen.checks.structure.sticks import LEVEL, Sticks
from panelgen.geometry.frames import Frame, Vec3, add, dot, scaled
from panelgen.model import Bearing
from panelgen.model.layers import underside

__all__ = ["Beam", "beams_of"]

_BESIDE = 1.0
"""A point this far (mm) outside a beam in plan is still on it; common practice, no source."""


class Beam(NamedTuple):
    """What one panel takes up of a beam: its place in the panel's frame, and the house height of its top, mm."""

    place: Bearing
    frame: Frame
    top: float

    def is_under(self, point: Vec3) -> bool:
        """Whether a house point stands over the beam in plan."""
        away = add(point, scaled(self.frame.origin, -1.0))
        x, y = dot(away, self.frame.x), dot(away, self.frame.y)
        place = self.place
        return place.x0 - _BESIDE <= x <= place.x1 + _BESIDE and place.y0 - _BESIDE <= y <= place.y1 + _BESIDE


def beams_of(sticks: Sticks) -> tuple[Beam, ...]:
    """The beams under the level panels of a scene."""
    return tuple(
        Beam(place, panel.frame, panel.frame.origin[2] + underside(panel.layers))
        for panel in sticks.scene.panels
        if panel.kind in LEVEL
        for place in panel.bearings
    )
