"""A wall seen from its side: the line of its top, and the holes that are already cut from its body."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
import shapely

from panelgen.geometry.frames import Floats, Point2
from panelgen.intake.records import NotTakenError
from panelgen.intake.walls import ModelWall

__all__ = ["Elevation", "Gap", "Top", "see", "top_over"]

_LEVEL = 1.0
"""A top that varies by no more than this (mm) is level; breaks in it of less are not seen."""

_SAME_SLOPE = 0.005
"""The two slopes of a gable may differ by this (rise per run): 0.3 degrees."""

_LEAST_HEIGHT = 300.0
"""A wall that is lower than this (mm) somewhere along its top is not made level there."""

_HOLE_AREA = 0.02e6
_HOLE_FILL = 0.95
"""A hole of at least this area (mm2) that fills this share of its rectangle is an opening."""


@dataclass(frozen=True, slots=True)
class Gap:
    """A rectangular hole in the body: extents along the wall and above its foot, mm."""

    x0: float
    x1: float
    y0: float
    y1: float


@dataclass(frozen=True, slots=True)
class Elevation:
    """`top` runs along the wall from its start to its end, as (along, above the foot), mm."""

    top: tuple[Point2, ...]
    gaps: tuple[Gap, ...]


@dataclass(frozen=True, slots=True)
class Top:
    """The top of a line: `height`, or a peak `peak` from its start with `slope` on both sides of it, mm.

    `eave` is the lower of the two ends.
    """

    height: float
    slope: float = 0.0
    peak: float = 0.0
    eave: float = 0.0
    note: str = ""

    def at(self, x: float) -> float:
        """Height above the foot at `x` along the line, mm."""
        return self.height - self.slope * abs(x - self.peak)


def see(wall: ModelWall) -> Elevation:
    """Look at the wall from its side. Raises NotTakenError where nothing is seen."""
    shape = wall.solid.body.shadow(wall.frame)
    if shape.is_empty:
        raise NotTakenError("it has no face to be seen from its side")
    parts = sorted(shapely.get_parts(shape), key=lambda part: part.bounds[0])
    top = np.concatenate([_upper_edge(part) for part in parts])
    line = shapely.simplify(shapely.linestrings(top), _LEVEL / 2)
    below = shapely.polygons([(top[0, 0], 0.0), *top, (top[-1, 0], 0.0)])
    holes = shapely.get_parts(shapely.difference(below, shape, grid_size=_LEVEL / 10))
    return Elevation(tuple(map(_point, shapely.get_coordinates(line))), tuple(_gaps(holes, wall.length)))


def top_over(top: Sequence[Point2], x0: float, x1: float) -> Top:
    """The top of a line from `x0` to `x1` along the wall, where it may run beyond the body.

    A level top, a single slope and a gable of one slope are kept; any other is cut level at its lowest
    point, with a note. Raises NotTakenError where that leaves no wall.
    """
    heights = [y for _, y in top]
    if max(heights) - min(heights) <= _LEVEL:
        return Top(max(heights))
    slopes = [(yb - ya) / (xb - xa) for (xa, ya), (xb, yb) in pairwise(top) if xb - xa > _LEVEL]
    if len(slopes) == len(top) - 1:
        if len(slopes) == 1:
            peak_x, peak_y = max(top, key=lambda point: point[1])
            rising = slopes[0] > 0
            end = x1 if rising else x0
            return _ridge(end, peak_y + slopes[0] * (end - peak_x), abs(slopes[0]), x0, x1)
        if len(slopes) == 2 and slopes[0] > 0 and abs(slopes[0] + slopes[1]) < _SAME_SLOPE and x0 < top[1][0] < x1:
            return _ridge(*top[1], (slopes[0] - slopes[1]) / 2, x0, x1)
    low = min(heights)
    if low < _LEAST_HEIGHT:
        raise NotTakenError("its top is neither level, nor one slope, nor a gable")
    return Top(low, note="its top is neither level, nor one slope, nor a gable: cut level at its lowest point; confirm")


def _ridge(x: float, height: float, slope: float, x0: float, x1: float) -> Top:
    peak, length = x - x0, x1 - x0
    return Top(height, slope, peak, height - slope * max(peak, length - peak))


def _upper_edge(part: Any) -> Floats:
    """(n, 2) float: the boundary of a polygon from its upper left to its upper right corner."""
    ring = shapely.get_coordinates(part.exterior)[:-1]
    if shapely.is_ccw(part.exterior):
        ring = ring[::-1]
    left = _upper_corner(ring, ring[:, 0].min())
    ring = np.roll(ring, -left, axis=0)
    right = _upper_corner(ring, ring[:, 0].max())
    upper: Floats = ring[: right + 1]
    return upper


def _upper_corner(ring: Floats, x: float) -> int:
    """Index of the highest corner at `x`."""
    return int(np.argmax(np.where(np.abs(ring[:, 0] - x) < _LEVEL, ring[:, 1], -np.inf)))


def _gaps(holes: Any, length: float) -> list[Gap]:
    """Rectangular holes, left to right; what is missing at the ends of the wall is no hole."""
    found = []
    for hole in holes:
        x0, y0, x1, y1 = hole.bounds
        if hole.area >= max(_HOLE_AREA, _HOLE_FILL * (x1 - x0) * (y1 - y0)) and x0 > _LEVEL and x1 < length - _LEVEL:
            found.append(Gap(x0, x1, max(y0, 0.0), y1))
    return sorted(found, key=lambda gap: (gap.x0, gap.y0))


def _point(row: Floats) -> Point2:
    return (float(row[0]), float(row[1]))
