"""The line of each wall's framing, with ends drawn to the framing of the walls they touch.

In the model a wall ends at its neighbour's face. Its framing is thinner than its body, so the line goes
on, or stops short, at the middle of the neighbour's framing: the designer then cuts the corner or tee.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any, Literal

import shapely

from panelgen.geometry.frames import Point2
from panelgen.intake.assemblies import Fit
from panelgen.intake.walls import ModelWall

__all__ = ["WoodWall", "join"]

_TOUCH = 30.0
"""How far apart (mm) an end and a neighbour's body may be and still touch: joints are drawn with gaps."""

_LEAST_SINE = 0.2
"""Walls that meet at less than this sine run side by side rather than into each other."""


@dataclass(frozen=True, slots=True, eq=False)
class WoodWall:
    """A wall of the model with its assembly: the framing runs from `x0` to `x1` along the model wall, mm.

    `notes` are what a person should confirm.
    """

    model: ModelWall
    fit: Fit
    exterior: bool
    x0: float
    x1: float
    notes: tuple[str, ...] = ()

    @property
    def length(self) -> float:
        """Length of the line, mm."""
        return self.x1 - self.x0

    @property
    def along(self) -> Literal["center", "outer face"]:
        """What the line is: exterior walls are drawn at the outer face of their framing."""
        return "outer face" if self.exterior else "center"

    def plan_point(self, x: float, right: float) -> Point2:
        """The plan point `x` along the model wall and `right` of the middle of its body, mm."""
        (sx, sy), (dx, dy) = self.model.start, self.model.direction
        return (sx + dx * x + dy * right, sy + dy * x - dx * right)

    @property
    def ends(self) -> tuple[Point2, Point2]:
        """Start and end of the line in plan, mm."""
        right = self.fit.offset + (self.fit.stack.framing / 2 if self.exterior else 0.0)
        return self.plan_point(self.x0, right), self.plan_point(self.x1, right)


def join(walls: Sequence[WoodWall]) -> tuple[WoodWall, ...]:
    """Draw the ends of the walls of one level to each other; an end that touches no wall stays as modelled."""
    tree = shapely.STRtree([wall.model.solid.plan for wall in walls])
    return tuple(_drawn(n, walls, tree) for n in range(len(walls)))


def _drawn(n: int, walls: Sequence[WoodWall], tree: Any) -> WoodWall:
    wall = walls[n]
    ends = []
    for at in (wall.x0, wall.x1):
        half = wall.model.thickness / 2
        face = shapely.linestrings([wall.plan_point(at, -half), wall.plan_point(at, half)])
        near = sorted(int(m) for m in tree.query(face, predicate="dwithin", distance=_TOUCH) if m != n)
        crossings = [x for m in near if (x := _crossing(wall, walls[m], at)) is not None]
        ends.append(min(crossings, key=lambda x: abs(x - at), default=at))
    return replace(wall, x0=ends[0], x1=ends[1])


def _crossing(wall: WoodWall, other: WoodWall, at: float) -> float | None:
    """Where the framing middles of two walls cross, along `wall`; None where that is not at its end `at`."""
    (dx, dy), (ox, oy) = wall.model.direction, other.model.direction
    sine = dx * oy - dy * ox
    if abs(sine) < _LEAST_SINE:
        return None
    px, py = wall.plan_point(0.0, wall.fit.offset)
    qx, qy = other.plan_point(0.0, other.fit.offset)
    x = ((qx - px) * oy - (qy - py) * ox) / sine
    reach = (wall.model.thickness + other.model.thickness) / abs(sine) + _TOUCH
    return x if abs(x - at) <= reach else None
