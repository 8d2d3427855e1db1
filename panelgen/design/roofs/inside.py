"""The room inside the boards around a panel, in plan: how far sticks may run up, down and along."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from panelgen.design.roofs.boards import Line
from panelgen.design.roofs.brief import Side

__all__ = ["Inside", "Limit", "inner_line", "run_at"]

_FLAT = 1e-9


@dataclass(frozen=True, slots=True)
class Limit:
    """Where sticks end on a side: the line in plan that passes through it, and the side's number."""

    line: Line
    side: int


def inner_line(side: Side, thickness: float) -> Line:
    """The line of a side moved `thickness` into the panel."""
    (xa, ra), (xb, rb) = side.start, side.end
    size = math.dist(side.start, side.end)
    left = (-(rb - ra) / size * thickness, (xb - xa) / size * thickness)
    return (xa + left[0], ra + left[1]), (xb + left[0], rb + left[1])


@dataclass(frozen=True, slots=True)
class Inside:
    """The convex room within the inner faces of a panel's boards; `lines` are those faces, by side."""

    lines: tuple[Line, ...]

    @classmethod
    def of(cls, sides: Sequence[Side], set_in: Sequence[float]) -> Inside:
        """The room of a panel, given how far each side's board or slant reaches into it, level."""
        return cls(tuple(inner_line(side, inward) for side, inward in zip(sides, set_in, strict=True)))

    def top(self, x0: float, x1: float) -> Limit:
        """Where sticks that stand from x0 to x1 end at the top: on one straight line that passes no side."""
        return self._chord(min, lambda line: line[1][0] < line[0][0] - _FLAT, run_at, (x0, x1), False)

    def foot(self, x0: float, x1: float) -> Limit:
        """Where they end at the bottom."""
        return self._chord(max, lambda line: line[1][0] > line[0][0] + _FLAT, run_at, (x0, x1), False)

    def left(self, run0: float, run1: float) -> Limit:
        """Where level sticks that lie from run0 to run1 end at the left."""
        return self._chord(max, lambda line: line[1][1] < line[0][1] - _FLAT, _x_at, (run0, run1), True)

    def right(self, run0: float, run1: float) -> Limit:
        """Where they end at the right."""
        return self._chord(min, lambda line: line[1][1] > line[0][1] + _FLAT, _x_at, (run0, run1), True)

    def _chord(
        self,
        pick: Callable[..., tuple[float, int]],
        faces: Callable[[Line], bool],
        value: Callable[[Line, float], float],
        span: tuple[float, float],
        swapped: bool,
    ) -> Limit:
        """The innermost value at both ends of a span. Since the room is convex the chord between them is inside it."""
        numbers = [n for n, line in enumerate(self.lines) if faces(line)]
        ends = [pick((value(self.lines[n], at), n) for n in numbers) for at in span]
        middle = pick((value(self.lines[n], sum(span) / 2), n) for n in numbers)
        a, b = ((at, end[0]) for at, end in zip(span, ends, strict=True))
        return Limit(((a[1], a[0]), (b[1], b[0])) if swapped else (a, b), middle[1])


def run_at(line: Line, x: float) -> float:
    """The run at which a line passes x."""
    (xa, ra), (xb, rb) = line
    return ra + (rb - ra) * (x - xa) / (xb - xa)


def _x_at(line: Line, run: float) -> float:
    (xa, ra), (xb, rb) = line
    return xa + (xb - xa) * (run - ra) / (rb - ra)
