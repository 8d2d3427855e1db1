"""Outlines of a roof panel seen square to it: of its framing, and of a layer between two depths.

The sides of the panel are plumb, so its section moves up the slope from the inner to the outer face; where it lies
over another roof it ends in the plane of that.
"""

from __future__ import annotations

from typing import Any

import shapely

from panelgen.design.roofs.brief import RoofBrief
from panelgen.geometry.frames import Point2
from panelgen.geometry.rings import bends

__all__ = ["indoors", "profile_of", "section", "within"]

_FAR = 1e5


def section(brief: RoofBrief, z: float) -> Any:
    """The panel at one depth, a shapely area in panel (x, y)."""
    area = shapely.Polygon([brief.pitch.point(side.start, z)[:2] for side in brief.sides])
    if brief.over is not None:
        (nx, ny, nz), offset = brief.over
        area &= _beyond((nx, ny), offset - nz * z)
    return area


def indoors(brief: RoofBrief, z: float) -> Any:
    """What of the panel is over the room of its plane at one depth; all of it where that is not told."""
    area = section(brief, z)
    if brief.plane.room:
        area &= shapely.Polygon([brief.pitch.point((x - brief.start, run), z)[:2] for x, run in brief.plane.room])
    return area


def _beyond(normal: Point2, offset: float) -> Any:
    """A large square on the side of a line to which its normal points: normal · p ≥ offset."""
    nx, ny = normal
    size = nx * nx + ny * ny
    x, y = nx * offset / size, ny * offset / size
    far = _FAR / size**0.5
    along, ahead = (-ny * far, nx * far), (nx * far, ny * far)
    near = [(x - along[0], y - along[1]), (x + along[0], y + along[1])]
    return shapely.Polygon([*near, *((px + 2 * ahead[0], py + 2 * ahead[1]) for px, py in reversed(near))])


def within(brief: RoofBrief, z0: float, z1: float) -> Any:
    """What lies in the panel at every depth from z0 to z1: the room of a sheet with square edges."""
    return section(brief, z0).intersection(section(brief, z1))


def profile_of(brief: RoofBrief) -> tuple[Point2, ...]:
    """The outline of the framing at all its depths, counter-clockwise from its lowest, then leftmost corner."""
    hull = shapely.union(section(brief, 0.0), section(brief, brief.pitch.depth)).convex_hull
    ring = bends([(x, y) for x, y in shapely.geometry.polygon.orient(hull).exterior.coords[:-1]])
    start = min(range(len(ring)), key=lambda k: (round(ring[k][1], 6), ring[k][0]))
    return (*ring[start:], *ring[:start])
