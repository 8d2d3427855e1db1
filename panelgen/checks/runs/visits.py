"""Run parts as they lie in panels, each with the fittings on it, and their paths as points."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, pairwise

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, Vec3, add, dot, scaled
from panelgen.geometry.mitres import corner_points
from panelgen.geometry.vectors import lengths
from panelgen.model import Fitting, Panel, RunPart

__all__ = ["Visit", "joined", "paths_of", "place_on", "visits_of"]

_SAME = 1e-9


@dataclass(frozen=True, slots=True, eq=False)
class Visit:
    """A run part with its fittings, and the panel, by index, in whose coordinates `path` and fittings are; mm."""

    part: RunPart
    panel: int
    path: Sequence[Vec3]
    fittings: tuple[Fitting, ...] = ()


def visits_of(panels: Sequence[Panel]) -> Iterator[Visit]:
    """The run parts of panels, in order."""
    for index, panel in enumerate(panels):
        fittings = _sorted_fittings(panel)
        for number, part in enumerate(panel.runs):
            yield Visit(part, index, part.path, tuple(fittings.get(number, ())))


def _sorted_fittings(panel: Panel) -> dict[int, list[Fitting]]:
    """The fittings of a panel by the number of the run part that each sits on."""
    found: dict[int, list[Fitting]] = {}
    for fitting in panel.fittings:
        own = [number for number, part in enumerate(panel.runs) if part.run == fitting.run]
        if own:
            nearest = min(own, key=lambda number: place_on(panel.runs[number].path, fitting.point)[1])
            found.setdefault(nearest, []).append(fitting)
    return found


def paths_of(visits: Sequence[Visit]) -> list[Sequence[Vec3]]:
    """The path of each visit without points that repeat the one before; of a duct, where its pieces end."""
    paths = [visit.path for visit in visits]
    points, owner = joined(paths)
    still = (owner[1:] == owner[:-1]) & ~(lengths(points[1:] - points[:-1]) > _SAME)
    for k in np.unique(owner[1:][still]).tolist():
        paths[k] = _distinct(paths[k])
    for k, visit in enumerate(visits):
        if visit.part.section is not None:
            paths[k] = corner_points(visit.path)
    return paths


def joined(paths: Sequence[Sequence[Vec3]]) -> tuple[Floats, Ints]:
    """The points of all paths one after the other, (k, 3), and the index of the path of each, (k,)."""
    owner = np.repeat(np.arange(len(paths)), np.fromiter(map(len, paths), np.int64, len(paths)))
    return np.fromiter(chain.from_iterable(chain.from_iterable(paths)), float, 3 * len(owner)).reshape(-1, 3), owner


def place_on(path: Sequence[Vec3], point: Vec3) -> tuple[float, float]:
    """How far along a path it comes nearest to a point, and their distance there, mm."""
    best, begin = (0.0, math.inf), 0.0
    for a, b in pairwise(path):
        along = add(b, scaled(a, -1.0))
        size = math.sqrt(dot(along, along))
        at = min(max(dot(add(point, scaled(a, -1.0)), along) / size, 0.0), size) if size else 0.0
        apart = math.dist(point, add(a, scaled(along, at / size))) if size else math.dist(point, a)
        if apart < best[1]:
            best = (begin + at, apart)
        begin += size
    return best


def _distinct(path: Iterable[Vec3]) -> list[Vec3]:
    """The path without points that repeat the one before."""
    points: list[Vec3] = []
    for point in path:
        if not points or math.dist(points[-1], point) > _SAME:
            points.append(point)
    return points
