"""Outlines of a roof panel seen square to it: of its framing, and of a layer between two depths.

The sides of the panel are plumb, so its section moves up the slope from the inner to the outer face.
"""

from __future__ import annotations

from typing import Any

import shapely

from panelgen.design.roofs.brief import RoofBrief
from panelgen.geometry.frames import Point2
from panelgen.geometry.rings import bends

__all__ = ["profile_of", "section", "within"]


def section(brief: RoofBrief, z: float) -> Any:
    """The panel at one depth, a shapely area in panel (x, y)."""
    return shapely.Polygon([brief.pitch.point(side.start, z)[:2] for side in brief.sides])


def within(brief: RoofBrief, z0: float, z1: float) -> Any:
    """What lies in the panel at every depth from z0 to z1: the room of a sheet with square edges."""
    return section(brief, z0).intersection(section(brief, z1))


def profile_of(brief: RoofBrief) -> tuple[Point2, ...]:
    """The outline of the framing at all its depths, counter-clockwise from its lowest, then leftmost corner."""
    hull = shapely.union(section(brief, 0.0), section(brief, brief.pitch.depth)).convex_hull
    ring = bends([(x, y) for x, y in shapely.geometry.polygon.orient(hull).exterior.coords[:-1]])
    start = min(range(len(ring)), key=lambda k: (round(ring[k][1], 6), ring[k][0]))
    return (*ring[start:], *ring[:start])
