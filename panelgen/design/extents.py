"""Where a stick lies: its box in panel coordinates, and whether it stands, lies or slopes."""

from __future__ import annotations

from typing import NamedTuple

from panelgen.design.brief import Span
from panelgen.model import Member

__all__ = ["Extent", "extent_of", "is_sloping", "is_upright"]

_AXIS = 1.0 - 1e-9


class Extent(NamedTuple):
    """Least and greatest panel x, y and z, mm."""

    x0: float
    x1: float
    y0: float
    y1: float
    z0: float
    z1: float

    @property
    def x(self) -> Span:
        """The stretch along the panel."""
        return (self.x0, self.x1)

    @property
    def y(self) -> Span:
        """The stretch up the panel."""
        return (self.y0, self.y1)


def extent_of(member: Member) -> Extent:
    """The box around the stick before its ends are cut (up to the long points)."""
    frame, length, width, thickness = member.frame, member.length, member.width, member.thickness
    limits: list[float] = []
    for origin, x, y, z in zip(frame.origin, frame.x, frame.y, frame.z, strict=True):
        low = high = origin
        for side in (x * length, y * width, z * thickness):
            if side < 0.0:
                low += side
            else:
                high += side
        limits += (low, high)
    return Extent(*limits)


def is_upright(member: Member) -> bool:
    """True for a stick that stands plumb: stud, king, jack, cripple, post."""
    return abs(member.frame.x[1]) > _AXIS


def is_sloping(member: Member) -> bool:
    """True for a stick neither plumb nor level, such as a plate on a rake."""
    return 1e-9 < abs(member.frame.x[1]) < _AXIS
