"""What a supplied truss is shown as: a frame of chords and heels in its outline, without its webs."""

from __future__ import annotations

from functools import lru_cache

import shapely

from panelgen.geometry.frames import Frame, Point2
from panelgen.geometry.lofts import Body, Loft, Ring
from panelgen.model.trusses import Truss

__all__ = ["truss_body", "truss_frame", "truss_volume"]

_DECIMALS = 6


def truss_body(truss: Truss) -> Body:
    """The body in the coordinates of `truss_frame`. Equal trusses give the same object."""
    return _body(truss.outline, truss.span, truss.chord, truss.thickness)


def truss_frame(truss: Truss) -> Frame:
    """Where the body stands in the house: the frame of the truss on its rear face."""
    return Frame(truss.frame.point(0.0, 0.0, -truss.thickness / 2), truss.frame.x, truss.frame.y)


def truss_volume(truss: Truss) -> float:
    """Volume of the body, mm3. Its mass is given and does not follow from this."""
    return sum(loft.volume for loft in truss_body(truss).lofts)


@lru_cache(maxsize=256)
def _body(outline: Ring, span: float, chord: float, thickness: float) -> Body:
    rings = (outline, *_hollow(outline, span, chord))
    return Body((Loft(rings, rings, thickness),))


def _hollow(outline: Ring, span: float, chord: float) -> tuple[Ring, ...]:
    """What lies between the bearings a chord's depth inside the outline, clockwise; nothing in a low truss."""
    peak = max(y for _, y in outline)
    inside = shapely.box(0.0, 0.0, span, peak).intersection(shapely.Polygon(outline))
    hollow = inside.buffer(-chord, join_style="mitre")
    if hollow.is_empty:
        return ()
    ring = shapely.geometry.polygon.orient(hollow, -1.0).exterior.coords[:-1]
    return (tuple(_rounded(x, y) for x, y in ring),)


def _rounded(x: float, y: float) -> Point2:
    return (round(x, _DECIMALS) + 0.0, round(y, _DECIMALS) + 0.0)
