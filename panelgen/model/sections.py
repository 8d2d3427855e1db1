"""The wide face of a stick as a plane area: at any depth, or endless before its ends are cut."""

from __future__ import annotations

from typing import Any

import shapely

from panelgen.geometry.lofts import Ring
from panelgen.model.sticks import Recess, Stick, plane_x

__all__ = ["blank_ring", "endless_face", "less_notches", "section_at"]

_PAD = 10.0


def blank_ring(stick: Stick, z: float) -> Ring:
    """Corners of the un-notched section at depth `z`, counter-clockwise from the start of the near edge."""
    w = stick.width
    return (
        (plane_x(stick.start, 0.0, z), 0.0),
        (plane_x(stick.end, 0.0, z), 0.0),
        (plane_x(stick.end, w, z), w),
        (plane_x(stick.start, w, z), w),
    )


def section_at(stick: Stick, z: float) -> Any:
    """The notched section at depth `z`, a shapely area; empty where the ends leave nothing."""
    ring = blank_ring(stick, z)
    return less_notches(_pointed(ring) if stick.is_pointed else shapely.Polygon(ring), stick)


def endless_face(stick: Stick) -> Any:
    """The notched wide face running on beyond both ends, a shapely area."""
    return less_notches(shapely.box(-_PAD, 0.0, stick.length + _PAD, stick.width), stick)


def less_notches(face: Any, stick: Stick) -> Any:
    """A face without the notches of `stick`."""
    if not stick.notches:
        return face
    return face.difference(shapely.union_all([_cut(notch, stick.width) for notch in stick.notches]))


def _cut(notch: Recess, width: float) -> Any:
    """The notch drawn past the edge it opens to, so that no sliver stays there."""
    x0, x1, y0, y1, from_far, apex = notch
    if apex is not None:
        edge, deep = (width, y0) if from_far else (0.0, y1)
        out = width + _PAD if from_far else -_PAD
        return shapely.Polygon([(x0, out), (x1, out), (x1, edge), (apex, deep), (x0, edge)])
    return shapely.box(x0, y0 - (_PAD if y0 == 0.0 else 0.0), x1, y1 + (_PAD if y1 == width else 0.0))


def _pointed(ring: Ring) -> Any:
    """Where the start line lies before the end line, for lines that cross between or near the edges."""
    (a, _), (b, _), (c, width), (d, _) = ring
    near, far = b - a, c - d
    if max(near, far) <= 0.0:
        return shapely.Polygon()
    if min(near, far) >= 0.0:
        return shapely.Polygon(ring)
    share = near / (near - far)
    tip = (a + share * (d - a), share * width)
    return shapely.Polygon([ring[0], ring[1], tip] if near > 0.0 else [tip, ring[2], ring[3]])
