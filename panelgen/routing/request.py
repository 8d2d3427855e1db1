"""What is asked of a route: which run, from where to where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from panelgen.errors import BadValueError
from panelgen.spec.services import RunSpec

__all__ = ["EndPoint", "RouteRequest"]

EndPoint = tuple[float, float, float | str]
"""Along the wall, above its bottom, and the depth: a panel z or ``cavity`` or ``framing``; mm."""

_UNNAMED = "unnamed-route"


@dataclass(frozen=True, slots=True)
class RouteRequest:
    """A run of a `system` that is to lead from `start` to `end`, of a catalog `size` or an outside `diameter`, mm.

    With `wall` the ends are in wall coordinates, as the points of a run in a spec are; without it they are
    house coordinates. A depth word leaves the router free to choose the depth in that layer. `run` is
    the id it will have: sleeves declared for it are open to it, and a run of that id is taken to be
    replaced. Each bend counts as `bend_cost` more length, mm; at 0 the shortest route is taken and of
    several the one with the fewest bends.
    """

    system: str
    start: EndPoint
    end: EndPoint
    size: str | None = None
    diameter: float | None = None
    wall: str | None = None
    insulation: float = 0.0
    run: str = ""
    bend_cost: float = 0.0

    def spec(self, wall: str, path: Sequence[EndPoint], couplings: Sequence[float] = ()) -> RunSpec:
        """The run along a path in a wall as a spec asks for it, with couplings at these distances along it, mm.

        A drain flows to its lower end.
        Raises BadValueError where the request names no system, or not just one of size and diameter.
        """
        fields: dict[str, Any] = {
            "id": self.run or _UNNAMED,
            "system": self.system,
            "size": self.size,
            "diameter": self.diameter,
            "wall": wall,
            "path": tuple(path),
            "insulation": self.insulation,
            "flow": "backward" if self.system == "drain" and path[-1][1] > path[0][1] else "forward",
            "fittings": tuple({"kind": "coupling", "at": at} for at in couplings),
        }
        try:
            return RunSpec.model_validate(fields)
        except ValidationError as error:
            first = error.errors(include_url=False)[0]
            field = ".".join(map(str, first["loc"])) or "route"
            raise BadValueError(f"{field}: {first['msg']}", "ask for a run as a spec does") from error
