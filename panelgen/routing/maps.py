"""All that is in the way of a pipe in one wall, drawn as a grid to search."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog
from panelgen.geometry.frames import Floats, Vec3
from panelgen.model import LayerKind
from panelgen.routing.barred import Barred
from panelgen.routing.bodies import FAR, Body, Cause, Obstacle, Slab
from panelgen.routing.edges import edge_obstacles, sleeves_for
from panelgen.routing.ends import End
from panelgen.routing.grid import Grid, lines_through
from panelgen.routing.nails import nail_obstacles
from panelgen.routing.pipe import Pipe
from panelgen.routing.services import served_depths, service_obstacles
from panelgen.routing.site import Site
from panelgen.routing.straps import Strap, strap_obstacles, straps_of
from panelgen.routing.wood import Crossing, Wood

__all__ = ["RouteMap", "Surroundings"]


@dataclass(frozen=True, slots=True, eq=False)
class RouteMap:
    """A grid and what bars its steps, where on it a route may start and end, the best depth first, and what it
    was drawn from: obstacles, and the sticks that a route may bore."""

    grid: Grid
    barred: Barred
    starts: tuple[int, ...]
    goals: tuple[int, ...]
    obstacles: tuple[Obstacle, ...]
    crossings: tuple[Crossing, ...]


class Surroundings:
    """What a pipe meets between its ends in some panels. `straps` are those that it may have to cross."""

    def __init__(self, site: Site, pipe: Pipe, catalog: Catalog, ends: tuple[End, End]) -> None:
        self._site = site
        self._pipe = pipe
        self._rules = catalog.rules(site.house.rules)
        self._ends = tuple(_held(site, pipe, end) for end in ends)
        self._sleeves = sleeves_for(site, pipe, catalog)
        layers = [one for one in site.layers if self._sleeves or one in [end.layer for end in ends]]
        self._depth = min(one.z0 for one in layers), max(one.z1 for one in layers)
        in_cavity, self._in_framing = (self._searches(kind) for kind in (LayerKind.STRAPPING, LayerKind.FRAMING))
        self._woods: dict[bool, Wood] = {}
        self.straps: tuple[Strap, ...] = straps_of(site) if in_cavity else ()
        self._fixed = (
            *_level_legs(pipe),
            *edge_obstacles(site, pipe, catalog),
            *service_obstacles(site, pipe, catalog, [end.point for end in ends]),
            *nail_obstacles(site, pipe, in_cavity, self._in_framing),
        )

    def drawn(
        self, straps: Sequence[Strap], doubled: bool, low: float, high: float, more: Sequence[Obstacle] = ()
    ) -> RouteMap:
        """The map from `low` to `high` along the wall, mm, with these straps, and with `more` obstacles.

        `doubled` says whether the higher limit of doubled studs may be used.
        """
        wood = self._wood(doubled)
        box = (low, 0.0, self._depth[0]), (high, self._site.height, self._depth[1])
        met = (*self._fixed, *more, *wood.obstacles, *strap_obstacles(self._site, self._pipe, straps))
        obstacles = tuple(one for one in met if self._is_near(one, *box))
        barred = Barred.of(obstacles, self._pipe)
        points = [end.point for end in self._ends] + [(x, y, self._ends[0].point[2]) for x, y in self._sleeves]
        lines = lines_through(barred, points, self._pipe.turn_reach, *box)
        grid = Grid.of(lines, barred, self._pipe.turn_reach)
        starts, goals = (tuple(self._crossings(grid, end, lines[2])) for end in self._ends)
        return RouteMap(grid, barred, starts, goals, obstacles, wood.crossings)

    def holding(self, end: End) -> Iterator[Cause]:
        """What an end is inside of: not straps, which are cut free around it, nor a run that it is joined to."""
        for one in (*self._fixed, *self._wood(doubled=True).obstacles):
            if isinstance(one, Body) and sum(one.bars) > 1 and _is_inside(one, end.point):
                yield one.cause

    def _wood(self, doubled: bool) -> Wood:
        if not self._in_framing:
            return Wood((), ())
        if doubled not in self._woods:
            self._woods[doubled] = Wood.of(self._site, self._pipe, self._rules, doubled)
        return self._woods[doubled]

    def _searches(self, kind: LayerKind) -> bool:
        layer = self._site.layer(kind)
        return layer is not None and self._depth[0] <= layer.z0 and layer.z1 <= self._depth[1]

    def _is_near(self, obstacle: Obstacle, low: Vec3, high: Vec3) -> bool:
        """Whether an obstacle comes near a box."""
        near = 0.0
        if isinstance(obstacle, Body):
            near = obstacle.margin + max(map(max, self._pipe.turn_half))
        return all(
            a - near < most and b + near > least
            for a, b, least, most in zip(obstacle.low, obstacle.high, low, high, strict=True)
        )

    def _crossings(self, grid: Grid, end: End, depths: Floats) -> Iterator[int]:
        """The crossings of an end at each depth that is open to it, the one nearest to its own first."""
        x, y, z = end.point
        low, high = end.depths
        if end.layer is not None and high > low:
            half = max(self._pipe.half[0][2], self._pipe.half[1][2])
            low, high = max(low, end.layer.z0 + half), min(high, end.layer.z1 - half)
        open_depths = depths[(depths >= low - _EPS) & (depths <= high + _EPS)].tolist() or [z]
        for depth in sorted(open_depths, key=lambda at: (round(abs(at - z), 3), at)):
            yield grid.crossing((x, y, depth))


_EPS = 1e-3


def _held(site: Site, pipe: Pipe, end: End) -> End:
    """An end that is in a box, or on a run that it branches off, stays there whatever its depth."""
    served = served_depths(site, pipe, end.point)
    if served is None:
        return end
    return replace(end, depths=(max(end.depths[0], served[0]), min(end.depths[1], served[1])))


def _is_inside(body: Body, point: Vec3) -> bool:
    return all(a + _EPS < at < b - _EPS for a, at, b in zip(body.low, point, body.high, strict=True))


def _level_legs(pipe: Pipe) -> Iterator[Slab]:
    """Bars level legs to a drain, which must fall along its way."""
    if pipe.system == "drain":
        cause = Cause(
            "", "a drain must fall along its way", ", and routes are level or plumb: only a plumb one is found"
        )
        for axis in (0, 2):
            yield Slab(axis, (-FAR, -FAR, -FAR), (FAR, FAR, FAR), cause)
