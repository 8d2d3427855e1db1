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
    (ax, ay, az), (bx, by, bz) = frame.x, frame.y
    return Extent(
        *_span(frame.origin[0], ax * length, bx * width, (ay * bz - az * by) * thickness),
        *_span(frame.origin[1], ay * length, by * width, (az * bx - ax * bz) * thickness),
        *_span(frame.origin[2], az * length, bz * width, (ax * by - ay * bx) * thickness),
    )


def _span(start: float, a: float, b: float, c: float) -> Span:
    """The least and the greatest sum of a start and any of three steps."""
    low, high = (start + a, start) if a < 0.0 else (start, start + a)
    if b < 0.0:
        low += b
    else:
        high += b
    if c < 0.0:
        return low + c, high
    return low, high + c


def is_upright(member: Member) -> bool:
    """True for a stick that stands plumb: stud, king, jack, cripple, post."""
    return abs(member.frame.x[1]) > _AXIS


def is_sloping(member: Member) -> bool:
    """True for a stick neither plumb nor level, such as a plate on a rake."""
    return 1e-9 < abs(member.frame.x[1]) < _AXIS
