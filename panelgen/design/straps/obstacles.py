"""What the straps make way for: runs and boxes that lie in the service cavity."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from panelgen.design.brief import Span
from panelgen.geometry.frames import Vec3
from panelgen.model import Box, Layer, RunPart
from panelgen.model.pieces import half_extents

__all__ = ["STRAP_CLEARANCE", "Obstacle", "obstacles_in"]

STRAP_CLEARANCE = 3.0
"""Left free each side of a run or box where a strap is cut (mm); common practice, no source."""

_ALONG = 0.5
"""A run rising less than this share of its way runs along a horizontal strap: that clash is not cut away."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """A line from `start` to `end` in panel (x, y), and how far to its sides nothing else may be, mm.

    `cuts_rows` says that it crosses horizontal straps, `cuts_columns` upright ones.
    """

    start: tuple[float, float]
    end: tuple[float, float]
    reach: tuple[float, float]
    cuts_rows: bool
    cuts_columns: bool

    def stretch(self, axis: int, band: Span) -> Span | None:
        """What it takes of `axis` (0 for x, 1 for y) within `band` of the other axis; None where it misses."""
        other = 1 - axis
        a, b = self.start[other], self.end[other]
        lo, hi = band[0] - self.reach[other], band[1] + self.reach[other]
        if max(a, b) <= lo or min(a, b) >= hi:
            return None
        begin, step = self.start[axis], self.end[axis] - self.start[axis]
        near, far = (min(max((y - a) / (b - a), 0.0), 1.0) if a != b else float(y == hi) for y in (lo, hi))
        ends = (begin + step * near, begin + step * far)
        return (min(ends) - self.reach[axis], max(ends) + self.reach[axis])


def obstacles_in(layer: Layer, runs: Sequence[RunPart], boxes: Iterable[Box]) -> tuple[Obstacle, ...]:
    """The runs and boxes that come into a layer's depth."""
    found = []
    for run in runs:
        for a, b in zip(run.path, run.path[1:], strict=False):
            obstacle = _of_segment(layer, a, b, half_extents(run, a, b))
            if obstacle is not None:
                found.append(obstacle)
    for box in boxes:
        corners = (box.frame.origin, box.frame.point(*box.size))
        (x0, x1), (y0, y1), (z0, z1) = (sorted(pair) for pair in zip(*corners, strict=True))
        if z1 > layer.z0 and z0 < layer.z1:
            middle = (x0 + x1) / 2
            reach = ((x1 - x0) / 2 + STRAP_CLEARANCE, STRAP_CLEARANCE)
            found.append(Obstacle((middle, y0), (middle, y1), reach, True, True))
    return tuple(found)


def _of_segment(layer: Layer, a: Vec3, b: Vec3, half: Vec3) -> Obstacle | None:
    lo, hi = layer.z0 - half[2], layer.z1 + half[2]
    if max(a[2], b[2]) <= lo or min(a[2], b[2]) >= hi:
        return None
    shares = (0.0, 1.0)
    if a[2] != b[2]:
        near, far = sorted(((lo - a[2]) / (b[2] - a[2]), (hi - a[2]) / (b[2] - a[2])))
        shares = (max(near, 0.0), min(far, 1.0))
    start, end = ((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share) for share in shares)
    dx, dy = abs(b[0] - a[0]), abs(b[1] - a[1])
    reach = (half[0] + STRAP_CLEARANCE, half[1] + STRAP_CLEARANCE)
    return Obstacle(start, end, reach, dy >= _ALONG * dx, dx >= _ALONG * dy)
