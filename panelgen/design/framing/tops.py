"""The sloping or level line under the top plates, and where it bends."""

from __future__ import annotations

import math
from dataclasses import dataclass

from panelgen.design.brief import PanelBrief

__all__ = ["Slope", "slopes", "under_plates"]


@dataclass(frozen=True, slots=True)
class Slope:
    """One straight stretch of a panel's top, from (x0, y0) to (x1, y1), mm."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def tangent(self) -> float:
        """Rise per mm of x."""
        return (self.y1 - self.y0) / (self.x1 - self.x0)

    def below(self, x: float, depth: float) -> float:
        """Height at x of a line parallel to the top, `depth` under it measured square to it."""
        tangent = self.tangent
        return self.y0 + tangent * (x - self.x0) - depth * math.sqrt(1 + tangent * tangent)


def slopes(brief: PanelBrief) -> tuple[Slope, ...]:
    """The straight stretches of the panel's top, left to right."""
    pairs = zip(brief.top, brief.top[1:], strict=False)
    return tuple(Slope(xa, ya, xb, yb) for (xa, ya), (xb, yb) in pairs if xb > xa)


def under_plates(stretches: tuple[Slope, ...], x0: float, x1: float, depth: float) -> float:
    """Least height over x0 to x1 of the line `depth` under the top."""
    values = [
        stretch.below(min(max(x, stretch.x0), stretch.x1), depth)
        for stretch in stretches
        if stretch.x0 < x1 and stretch.x1 > x0
        for x in (x0, x1)
    ]
    return min(values)
