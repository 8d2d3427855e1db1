"""Outlines of framing members seen square to the panel: what each one covers, and how deep."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from panelgen.design.extents import extent_of, is_sloping
from panelgen.geometry.frames import Point2
from panelgen.model import Member

__all__ = ["Edges", "Footprint", "box_footprint", "footprint_of"]

_EPS = 1e-6

Edges = tuple[float, float, float, float]
"""Of a shape between two plumb lines: its lower edge's y at each, its upper edge's y at each, mm."""


@dataclass(frozen=True, slots=True)
class Footprint:
    """A convex ring in panel (x, y), mm, that is filled from z0 to z1. `is_box` is True for a level rectangle."""

    ring: tuple[Point2, ...]
    z0: float
    z1: float
    is_box: bool

    def edges(self, x0: float, x1: float) -> Edges:
        """Heights of its lower edge at x0 and x1, and of its upper edge there; no corner lies between the two."""
        if self.is_box:
            low, high = self.ring[0][1], self.ring[2][1]
            return low, low, high, high
        crossed = []
        for (xa, ya), (xb, yb) in pairwise((*self.ring, self.ring[0])):
            if min(xa, xb) < x0 + _EPS and max(xa, xb) > x1 - _EPS:
                slope = (yb - ya) / (xb - xa)
                crossed.append((ya + slope * (x0 - xa), ya + slope * (x1 - xa)))
        (a, b), (c, d) = sorted(crossed, key=sum)
        return a, b, c, d


def box_footprint(x0: float, x1: float, y0: float, y1: float, z0: float, z1: float) -> Footprint:
    """The footprint of a box with its sides along the panel's axes."""
    return Footprint(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), z0, z1, True)


def footprint_of(member: Member) -> Footprint:
    """The footprint of a member whose length and one more of its axes lie in the panel's plane.

    End cuts that lean through the panel's depth are taken at mid depth, which keeps the volume.
    """
    box = extent_of(member)
    if member.has_square_ends and not is_sloping(member):
        return box_footprint(*box)
    wide_face_on = abs(member.frame.y[2]) < abs(member.frame.z[2])
    far, middle = (member.width, member.thickness / 2) if wide_face_on else (member.thickness, member.width / 2)
    corners = []
    for at_end, cut, side in (
        (False, member.start, 0.0),
        (False, member.start, far),
        (True, member.end, far),
        (True, member.end, 0.0),
    ):
        y, z = (side, middle) if wide_face_on else (middle, side)
        corners.append(member.frame.point(member.end_x(cut, at_end, y, z), y, z)[:2])
    return Footprint(tuple(corners), box.z0, box.z1, False)
