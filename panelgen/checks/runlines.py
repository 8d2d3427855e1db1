"""Runs as arrays: every straight stretch and every arm of a fitting as a leg, every bend as a ball."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats, Vec3, add, dot, scaled
from panelgen.geometry.legs import Legs
from panelgen.geometry.mitres import corner_points
from panelgen.geometry.rods import Bools, Rods
from panelgen.model import Fitting, Panel, RunPart
from panelgen.model.pieces import DuctPiece, ducts_along, fitting_pieces

__all__ = ["Bends", "RunLines", "Visit"]

_SAME = 1e-9
_NO_FITTING = -1


@dataclass(frozen=True, slots=True, eq=False)
class Visit:
    """A run part with its fittings, and the panel, by index, in whose coordinates `path` and fittings are; mm."""

    part: RunPart
    panel: int
    path: Sequence[Vec3]
    fittings: tuple[Fitting, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Bends:
    """The balls at the bends of round runs: `leg` (m,) is one that ends there; `center` (m, 3), `radius` (m,)."""

    leg: Ints
    center: Floats
    radius: Floats

    def boxes(self) -> Boxes:
        """The box around each ball."""
        return Boxes(self.center - self.radius[:, None], self.center + self.radius[:, None])


@dataclass(frozen=True, slots=True, eq=False)
class RunLines:
    """n legs of run parts. Those of one part are together: first its stretches in order, then its fittings' arms.

    `run` (n,) is the index in `runs`, `panel` (n,) that of the panel, `fitting` (n,) that in `fittings`, or
    -1 for a stretch. `begin` and `end` (n,) are where along the part a stretch begins and ends; for an arm
    both are where its fitting sits, mm. `stops_at_start` and `stops_at_end` (n,) are True where the run
    itself ends there, for good.
    """

    runs: tuple[RunPart, ...]
    fittings: tuple[Fitting, ...]
    run: Ints
    panel: Ints
    fitting: Ints
    legs: Legs
    begin: Floats
    end: Floats
    stops_at_start: Bools
    stops_at_end: Bools

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> RunLines:
        """The runs of panels, in order, each in its own panel's coordinates."""
        return cls.along(_visits(panels))

    @classmethod
    def along(cls, visits: Iterable[Visit]) -> RunLines:
        """The legs of run parts; repeated points of a path are passed over, and so is a path without length."""
        rows: list[_Row] = []
        corners: dict[int, Floats] = {}
        kept: list[Visit] = []
        fittings: list[Fitting] = []
        for visit in visits:
            path = _distinct(visit.path) if visit.part.section is None else corner_points(visit.path)
            if len(path) > 1:
                _add_stretches(rows, corners, len(kept), visit.part, path)
                for fitting in visit.fittings:
                    _add_arms(rows, corners, len(kept), fitting, len(fittings), path)
                    fittings.append(fitting)
                kept.append(visit)
        table = np.array(rows, dtype=float).reshape(-1, 15)
        run = table[:, 0].astype(np.int64)
        flags = table[:, 11:].astype(bool)
        blocks = np.zeros((len(rows), 8, 3))
        square = np.zeros(len(rows), dtype=bool)
        if corners:
            square[list(corners)] = True
            blocks[list(corners)] = list(corners.values())
        return cls(
            tuple(visit.part for visit in kept),
            tuple(fittings),
            run,
            np.array([visit.panel for visit in kept], dtype=np.int64)[run],
            table[:, 1].astype(np.int64),
            Legs(Rods.between(table[:, 2:5], table[:, 5:8], table[:, 8], flags[:, 0], flags[:, 1]), square, blocks),
            table[:, 9],
            table[:, 10],
            flags[:, 2],
            flags[:, 3],
        )

    def __len__(self) -> int:
        return len(self.run)

    def seen_from(self, rows: Ints, panel: Ints, rotation: Floats, shift: Floats) -> RunLines:
        """The legs of these rows in the coordinates of other panels, by index; see `Legs.moved`."""
        return replace(
            self,
            run=self.run[rows],
            panel=panel,
            fitting=self.fitting[rows],
            legs=self.legs.take(rows).moved(rotation, shift),
            begin=self.begin[rows],
            end=self.end[rows],
            stops_at_start=self.stops_at_start[rows],
            stops_at_end=self.stops_at_end[rows],
        )

    def bends(self, shaved: float) -> Bends:
        """The balls at the bends of round runs, `shaved` mm smaller than the run."""
        rods = self.legs.rods
        leg = np.flatnonzero(rods.bend_end & ~self.legs.square)
        return Bends(leg, rods.end[leg], np.maximum(rods.radius[leg] - shaved, 0.0))


_Row = tuple[float, ...]
"""run, fitting, start (3), end (3), radius, begin, end along the part, bends (2), stops (2)."""


def _visits(panels: Sequence[Panel]) -> Iterator[Visit]:
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
            nearest = min(own, key=lambda number: _place_on(panel.runs[number].path, fitting.point)[1])
            found.setdefault(nearest, []).append(fitting)
    return found


def _add_stretches(rows: list[_Row], corners: dict[int, Floats], run: int, part: RunPart, path: list[Vec3]) -> None:
    radius, last = part.outside_diameter / 2, len(path) - 2
    section = part.outside_section
    if section is not None:
        corners.update(enumerate((piece.corners() for piece in ducts_along(path, section)), len(rows)))
    begin = 0.0
    for k, (a, b) in enumerate(pairwise(path)):
        end = begin + math.dist(a, b)
        stops = (k == 0 and not part.enters, k == last and not part.leaves)
        rows.append((run, _NO_FITTING, *a, *b, radius, begin, end, k > 0, k < last, *stops))
        begin = end


def _add_arms(
    rows: list[_Row], corners: dict[int, Floats], run: int, fitting: Fitting, number: int, path: list[Vec3]
) -> None:
    place, _ = _place_on(path, fitting.point)
    ends = [add(fitting.point, arm) for arm in fitting.arms]
    if fitting.section is not None:
        pieces = [piece for piece in fitting_pieces(fitting) if isinstance(piece, DuctPiece)]
        corners.update(enumerate((piece.corners() for piece in pieces), len(rows)))
        lines = [(piece.frame.origin, piece.frame.point(piece.stick.length, 0.0, 0.0)) for piece in pieces]
        bends = [False] * len(pieces)
    elif fitting.angle:
        lines, bends = [(ends[0], fitting.point), (fitting.point, ends[1])], [True, False]
    else:
        lines, bends = [(ends[0], ends[1]), *((fitting.point, end) for end in ends[2:])], [False] * (len(ends) - 1)
    for (a, b), bend in zip(lines, bends, strict=True):
        rows.append((run, number, *a, *b, fitting.diameter / 2, place, place, False, bend, False, False))


def _place_on(path: Sequence[Vec3], point: Vec3) -> tuple[float, float]:
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
