"""Where stock lengths of a route are joined, moved back from places where a coupling does not fit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.brief import Span
from panelgen.design.services.fittings import fittings_of
from panelgen.design.services.runs import house_run
from panelgen.geometry.polylines import Polyline
from panelgen.routing.barred import Barred
from panelgen.routing.bodies import ACROSS, Obstacle
from panelgen.routing.pipe import Pipe
from panelgen.routing.site import Site
from panelgen.spec.services import RunSpec

__all__ = ["Couplings", "couplings_along"]

_GAP = 0.1
"""mm. Left between a coupling and what it is moved back from."""


@dataclass(frozen=True, slots=True)
class Couplings:
    """Distances along a path, mm, at which couplings must be asked for: none where the usual places are free.

    `spare` is 0 where all have room, or else how much wider than the run they are, to either side.
    """

    asked: tuple[float, ...] = ()
    spare: float = 0.0


def couplings_along(
    site: Site, pipe: Pipe, catalog: Catalog, spec: RunSpec, obstacles: Sequence[Obstacle]
) -> Couplings:
    """The couplings of a run between these obstacles, each as near to the end of its stock length as it has room."""
    run = house_run(spec, {site.wall.id: site.wall.frame}, {site.wall.id: site.layers}, catalog)
    fittings, _ = fittings_of((spec,), (run,), catalog)
    couplings = [fitting for fitting in fittings if fitting.kind == "coupling"]
    if not couplings:
        return Couplings()
    half = couplings[0].length / 2
    outside = max(map(max, pipe.half))
    radius = max(couplings[0].diameter / 2, outside)
    wide = replace(pipe, turn_half=((radius, radius, radius),) * 3)
    way = Polyline.through([(x, y, z) for x, y, z in spec.path if not isinstance(z, str)])
    taken = sorted(_taken(way, Barred.of(obstacles, wide), half, pipe.turn_reach))
    in_house = Polyline.through(run.path)
    places = [in_house.nearest(fitting.point) for fitting in couplings]
    if all(_drawn_back(place, taken) == place for place in places):
        return Couplings()
    stock = catalog.services.series(catalog.service_size(run.product)).stock
    joints = sorted(in_house.nearest(fitting.point) for fitting in fittings if fitting.kind != "coupling")
    asked = []
    for low, high in pairwise([0.0, *joints, way.length]):
        at = low
        while at + stock < high:
            place = _drawn_back(at + stock, taken)
            if place <= at + 2 * half:
                return Couplings(spare=radius - outside)
            asked.append(place)
            at = place
    return Couplings(tuple(asked))


def _taken(way: Polyline, barred: Barred, half: float, turn_reach: float) -> Iterator[Span]:
    """The stretches along a way where the middle of a coupling, `half` mm to either end, does not fit."""
    for corner in way.bends:
        reach = turn_reach + half
        yield way.along[corner] - reach, way.along[corner] + reach
    for leg, (a, b) in enumerate(pairwise(way.points)):
        axis = max(range(3), key=lambda k: abs(b[k] - a[k]))
        boxes = barred.arms[axis]
        first, second = ACROSS[axis]
        beside = (boxes.low[:, first] < a[first]) & (a[first] < boxes.high[:, first])
        beside &= (boxes.low[:, second] < a[second]) & (a[second] < boxes.high[:, second])
        sense = 1.0 if b[axis] > a[axis] else -1.0
        sides = np.stack((boxes.low[beside, axis], boxes.high[beside, axis]))
        along = np.sort(way.along[leg] + sense * (sides - a[axis]), axis=0)
        for low, high in along.T.tolist():
            if high > way.along[leg] and low < way.along[leg + 1]:
                yield max(low, way.along[leg]) - half, min(high, way.along[leg + 1]) + half


def _drawn_back(place: float, taken: Sequence[Span]) -> float:
    """The place, or the nearest one before it that is free."""
    for low, high in reversed(taken):
        if low < place < high:
            place = low - _GAP
    return place
