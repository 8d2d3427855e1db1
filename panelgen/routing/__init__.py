"""Finds the shortest legal way for a run through a wall: in the service cavity, or in the framing through bores.

The room lies above design and checks: it draws what the rules and the design let a run do, and searches that.
"""

from panelgen.routing.finder import find_route
from panelgen.routing.request import EndPoint, RouteRequest
from panelgen.routing.route import Route, RouteBore

__all__ = ["EndPoint", "Route", "RouteBore", "RouteRequest", "find_route"]
