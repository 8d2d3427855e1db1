"""Finds a route: draws what is in the way, searches, and says what was found or what bars the way."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.checks.codes import named
from panelgen.design.brief import Span
from panelgen.design.services.runs import house_run
from panelgen.geometry.frames import Vec3
from panelgen.model import House
from panelgen.routing.bodies import Slab
from panelgen.routing.couplings import couplings_along
from panelgen.routing.edges import sleeves_for
from panelgen.routing.ends import End, misplaced, placed
from panelgen.routing.grid import UNIT
from panelgen.routing.manner import Manner
from panelgen.routing.maps import RouteMap, Surroundings
from panelgen.routing.pipe import Pipe
from panelgen.routing.reasons import what_bars
from panelgen.routing.request import RouteRequest
from panelgen.routing.route import Route, RouteBore
from panelgen.routing.search import shortest
from panelgen.routing.site import Site
from panelgen.routing.whole_way import crossed, cut_once, self_crossing, too_many_doubled
from panelgen.routing.wood import Crossing

__all__ = ["find_route"]

_MARGIN = 600.0
"""How far beyond its ends a route is looked for at first, mm."""

_WIDER = 6.0
"""How many times farther it is looked for where there is none so near."""

_MOST = 0.75
"""Share of a wall from which on it is looked at whole."""

_UP, _DOWN = 2, 3
_TRIES = 8
"""How often the search is done again where a way is not right as a whole; see `whole_way`."""


def find_route(house: House, catalog: Catalog, request: RouteRequest) -> Route:
    """The shortest legal way for a run in one wall, or the reasons why there is none.

    Legs follow the wall: along it, plumb, or straight through its depth. Raises BadValueError for a wall or
    a system that is not known and for ends that are not two points of the wall; CatalogError for an
    unknown size.
    """
    site, start, end = placed(house, request)
    spec = request.spec(site.wall.id, (start.point, end.point))
    run = house_run(spec, {site.wall.id: site.wall.frame}, {site.wall.id: site.layers}, catalog)
    return _Router(site, Pipe.of(run, catalog), catalog, request, (start, end)).route()


@dataclass(frozen=True, slots=True, eq=False)
class _Router:
    """The search for one request in one wall."""

    site: Site
    pipe: Pipe
    catalog: Catalog
    request: RouteRequest
    ends: tuple[End, End]

    @property
    def rules(self) -> RuleSet:
        """The rule set of the house."""
        return self.catalog.rules(self.site.house.rules)

    def route(self) -> Route:
        """The route, or a route without points that says why.

        Only part of a long wall is looked at first. A way that leaves it is longer than its ends are apart
        by at least twice the distance from them to where it leaves.
        """
        has_sleeve = bool(sleeves_for(self.site, self.pipe, self.catalog))
        reasons = tuple(misplaced(self.site, self.ends, 2 * self.pipe.half[0][2], has_sleeve))
        if reasons:
            return self._none(reasons)
        apart = sum(abs(self.ends[0].point[k] - self.ends[1].point[k]) for k in range(2))
        whole, margin = self.site.along, _MARGIN
        while True:
            low, high = self._stretch(margin)
            around = Surroundings(self.site.between(low, high), self.pipe, self.catalog, self.ends)
            for end in self.ends:
                for held in around.holding(end):
                    return self._none((f"the {end.name} is inside {held.name}",), (held.part,) if held.part else ())
            route = self._between(around, low, high, is_last=(low, high) == whole)
            counted = route.length + route.bends * self.request.bend_cost if route.found else math.inf
            if (low, high) == whole or counted - apart <= 2 * margin:
                return route
            margin = (counted - apart) / 2 if route.found else _WIDER * margin

    def _manner(self) -> Manner:
        """How the pipe turns; a vent goes only up or only down, or it would hold water."""
        rises = self.ends[1].point[1] >= self.ends[0].point[1]
        closed = frozenset({_DOWN if rises else _UP} if self.pipe.system == "vent" else ())
        lengths = (self.pipe.turn_reach, self.pipe.end_reach, self.request.bend_cost)
        reach, end_reach, bend_cost = (round(length / UNIT) for length in lengths)
        return Manner(reach, end_reach, bend_cost, closed)

    def _stretch(self, margin: float) -> Span:
        whole, xs = self.site.along, [end.point[0] for end in self.ends]
        low, high = max(whole[0], min(xs) - margin), min(whole[1], max(xs) + margin)
        return whole if high - low > _MOST * (whole[1] - whole[0]) else (low, high)

    def _between(self, around: Surroundings, low: float, high: float, is_last: bool) -> Route:
        """The route that keeps between two places along the wall, mm; if there is none, why, where that `is_last`."""
        straps, doubled = around.straps, True
        closed: list[Slab] = []
        for _ in range(_TRIES):
            drawn = around.drawn(straps, doubled, low, high, closed)
            corners = shortest(drawn.grid, drawn.starts, drawn.goals, self._manner())
            if corners is None:
                return self._none(*what_bars(drawn, self.pipe)) if is_last else self._none(())
            points = tuple(map(drawn.grid.point, corners))
            bored = crossed(drawn.crossings, points)
            cut = cut_once(straps, points, self.pipe, self.site.house.limits.shortest_member)
            own = self_crossing(points, self.pipe)
            if cut != straps:
                straps = cut
            elif own is not None:
                closed.append(own)
            elif doubled and too_many_doubled(bored, self.rules):
                doubled = False
            else:
                return self._found(drawn, points, bored)
        return self._none(("every way found meets itself, or cuts one strap into pieces too short to make",))

    def _none(self, reasons: tuple[str, ...], parts: tuple[str, ...] = ()) -> Route:
        return Route(self.request, self.site.wall.id, reasons=reasons, in_the_way=parts)

    def _found(self, drawn: RouteMap, points: tuple[Vec3, ...], bored: tuple[Crossing, ...]) -> Route:
        wall, spec = self.site.wall, self.request.spec(self.site.wall.id, points)
        couplings = couplings_along(self.site, self.pipe, self.catalog, spec, drawn.obstacles)
        if couplings.spare > self.pipe.spare:
            return replace(self, pipe=replace(self.pipe, spare=couplings.spare)).route()
        if couplings.spare:
            return self._none(("nothing closes the way, but its couplings find no room along it",))
        return Route(
            self.request,
            wall.id,
            points,
            tuple(wall.frame.point(*point) for point in points),
            tuple((x, y, self.site.depth_word(z)) for x, y, z in points),
            tuple(map(self._bore, bored)),
            couplings.asked,
        )

    def _bore(self, crossing: Crossing) -> RouteBore:
        member, limit = crossing.member, crossing.limit
        assert self.pipe.bore is not None  # what goes through no bore crosses no stick
        return RouteBore(
            member.id, named(member), crossing.panel.label, self.pipe.bore, limit.size, limit.source, crossing.tied
        )
