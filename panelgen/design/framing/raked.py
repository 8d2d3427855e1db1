"""Rows of wood along a wall, level or rising as the backing of a stair and its handrail do: where they run."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot, inf

from panelgen.design.brief import Span
from panelgen.geometry.frames import Point2
from panelgen.spec.services import BackingSpec

__all__ = ["Row"]

_EPS = 1e-6
_NOWHERE = (-inf, -inf)


@dataclass(frozen=True, slots=True)
class Row:
    """A row whose middle runs from `start` to `end` in panel (x, y), `width` deep square to that, mm."""

    start: Point2
    end: Point2
    width: float

    @classmethod
    def of(cls, request: BackingSpec, wall_start: float, width: float) -> Row:
        """The row of a request, in a panel that begins at `wall_start` along its wall."""
        first, last = request.start - wall_start, request.end - wall_start
        return cls((first, request.height), (last, request.last_height), width)

    @property
    def tangent(self) -> float:
        """Its rise over its run, 0 for a level row."""
        return (self.end[1] - self.start[1]) / (self.end[0] - self.start[0])

    @property
    def half(self) -> float:
        """Half of its depth, measured plumb."""
        return self.width / 2 * hypot(1.0, self.tangent)

    def middle(self, x: float) -> float:
        """Its middle at panel x."""
        return self.start[1] + self.tangent * (x - self.start[0])

    def heights(self, across: Span) -> Span:
        """The heights it takes up over a stretch of x."""
        ends = [self.middle(x) for x in across]
        return min(ends) - self.half, max(ends) + self.half

    def stretch(self, band: Span, across: Span) -> Span:
        """Where over a stretch of x it takes up any of a `band` of heights; left of everything where it does not."""
        low, high = band[0] - self.half + _EPS, band[1] + self.half - _EPS
        if not self.tangent:
            return across if low < self.start[1] < high else _NOWHERE
        ends = sorted(self.start[0] + (y - self.start[1]) / self.tangent for y in (low, high))
        first, last = max(across[0], ends[0]), min(across[1], ends[1])
        return (first, last) if first < last else _NOWHERE

    def beyond(self, height: float, across: Span) -> tuple[Span, Span]:
        """Where over a stretch of x it reaches below the floor, and over a `height`."""
        return self.stretch((-inf, 0.0), across), self.stretch((height, inf), across)
