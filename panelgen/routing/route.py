"""A route, or the reasons why there is none."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from panelgen.errors import BadValueError
from panelgen.geometry.frames import Vec3
from panelgen.routing.request import EndPoint, RouteRequest
from panelgen.spec.services import RunSpec
from panelgen.units import LENGTH_UNITS

__all__ = ["Route", "RouteBore"]

_DECIMALS = 5
"""Of lengths in a file: in any unit that is less than the rounding of the route itself."""


@dataclass(frozen=True, slots=True)
class RouteBore:
    """A hole that the route takes through a stick, mm: its `diameter` and the greatest that the rule allows.

    `limit` is infinite where only the width of the stick sets one; `is_tied` says that the rule allows more
    with the steel tie that the design puts there.
    """

    member: str
    name: str
    panel: str
    diameter: float
    limit: float
    source: str
    is_tied: bool = False


@dataclass(frozen=True, slots=True)
class Route:
    """What was found for a request: the corners of the way in wall coordinates and in the house, mm.

    `path` is the same way as a run of a spec has it, depth words and all. Without a way all three are
    empty, `reasons` say why, and `in_the_way` are the ids of parts that close it. `couplings` are distances
    along the way at which stock lengths must be joined where the usual places do not suit.
    """

    request: RouteRequest
    wall: str
    points: tuple[Vec3, ...] = ()
    house_points: tuple[Vec3, ...] = ()
    path: tuple[EndPoint, ...] = ()
    bores: tuple[RouteBore, ...] = ()
    couplings: tuple[float, ...] = ()
    reasons: tuple[str, ...] = ()
    in_the_way: tuple[str, ...] = ()

    @property
    def found(self) -> bool:
        """True where there is a way."""
        return bool(self.points)

    @property
    def length(self) -> float:
        """Along the centre line from end to end, mm."""
        return sum(math.dist(a, b) for a, b in pairwise(self.points))

    @property
    def bends(self) -> int:
        """How many times the way turns."""
        return max(0, len(self.points) - 2)

    def spec(self) -> RunSpec:
        """The run as a spec asks for it. Raises BadValueError where there is no way."""
        if not self.found:
            raise BadValueError("there is no route", self.reasons[0])
        return self.request.spec(self.wall, self.path, self.couplings)

    def entry(self, unit: str) -> dict[str, Any]:
        """The run as plain data for a spec file whose bare numbers are in `unit`. Raises as `spec` does."""
        run = self.spec()
        given = run.model_dump(exclude_defaults=True)
        data: dict[str, Any] = {key: given[key] for key in ("id", "system", "size", "diameter", "wall") if key in given}
        data["path"] = [[_in_unit(value, unit) for value in point] for point in run.path]
        if run.fittings:
            data["fittings"] = [{"kind": one.kind, "at": _in_unit(one.at, unit)} for one in run.fittings]
        data |= {key: _in_unit(given[key], unit) for key in ("diameter", "insulation", "flow") if key in given}
        return data


def _in_unit(value: Any, unit: str) -> Any:
    """A length as the bare number that a file has; words as they are."""
    if not isinstance(value, float):
        return value
    length = round(value / LENGTH_UNITS[unit], _DECIMALS) + 0.0
    return int(length) if length.is_integer() else length
