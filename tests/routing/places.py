"""Small houses and requests for tests of routes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from panelgen.catalog import Catalog
from panelgen.design import design
from panelgen.geometry.frames import WORLD
from panelgen.model import House, Panel, WallRun
from panelgen.routing import EndPoint, Route, RouteRequest, find_route
from tests.checks.builders import DEPTH, house
from tests.design.houses import one_wall

CATALOG = Catalog.default()

CAVITY = -30.1625
"""Depth of the middle of a 2x3 service cavity behind 7/16 in. sheathing, mm."""

FRAMING = 69.85
"""Depth of the middle of 2x6 framing, mm."""


def wall_house(length: str = "16 ft", openings: Sequence[dict[str, Any]] = (), **more: Any) -> House:
    """A house of one exterior wall N1 of 2x6 studs at 24 in. with a service cavity, designed."""
    return design(one_wall(length, list(openings), **more))


def bare_house(*panels: Panel) -> House:
    """A house whose one wall, ``south``, is made of these panels by hand."""
    length = sum(panel.length for panel in panels)
    wall = WallRun("south", "1", WORLD, 0.0, length, DEPTH, True, True)
    made = house(*panels)
    return House(made.name, made.rules, made.limits, (wall,), made.panels)


def routed(
    at: House, start: EndPoint, end: EndPoint, *, system: str = "power", size: str | None = "nm-12/2", **more: Any
) -> Route:
    """The route between two points, along the only wall unless `more` names one."""
    asked = {"wall": at.walls[0].id} | more
    return find_route(at, CATALOG, RouteRequest(system, start, end, size=None if "diameter" in more else size, **asked))
