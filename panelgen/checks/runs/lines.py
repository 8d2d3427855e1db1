"""Runs as arrays: every straight stretch and every arm of a fitting as a leg, every bend as a ball."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from operator import attrgetter
from typing import Any

import numpy as np
from numpy.typing import NDArray

from panelgen.checks.runs.fitting_arms import arms_and_blocks
from panelgen.checks.runs.visits import joined, paths_of, visits_of
from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.legs import Legs
from panelgen.geometry.rods import Bools, Rods
from panelgen.geometry.vectors import lengths
from panelgen.model import Fitting, Panel, RunPart

__all__ = ["Bends", "RunLines"]

_Array = NDArray[Any]

_NO_FITTING = -1


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
        """The runs of panels, in order, each in its own panel's coordinates.

        Repeated points of a path are passed over, and so is a path without length.
        """
        given = tuple(visits_of(panels))
        walked = [(visit, path) for visit, path in zip(given, paths_of(given), strict=True) if len(path) > 1]
        kept, paths = tuple(visit for visit, _ in walked), [path for _, path in walked]
        parts = tuple(visit.part for visit in kept)
        points, owner = joined(paths)
        leg = np.flatnonzero(owner[1:] == owner[:-1])
        run, start, end = owner[leg], points[leg], points[leg + 1]
        begin, finish = _places(lengths(end - start), run)
        is_first, is_last = np.diff(run, prepend=-1) > 0, np.diff(run, append=len(kept)) > 0
        radius = np.fromiter((part.outside_diameter / 2 for part in parts), float, len(parts))
        enters, leaves = (np.fromiter(map(attrgetter(f), parts), bool, len(parts)) for f in ("enters", "leaves"))
        arms, blocks = arms_and_blocks(kept, paths, np.flatnonzero(is_first))
        lone = np.zeros(len(arms.run), dtype=bool)
        order = np.argsort(np.concatenate((run, arms.run)), kind="stable")

        def table(stretches: _Array, own: _Array) -> _Array:
            both: _Array = np.concatenate((stretches, own))[order] if len(own) else stretches
            return both

        return cls(
            parts,
            tuple(fitting for visit in kept for fitting in visit.fittings),
            table(run, arms.run),
            np.fromiter((visit.panel for visit in kept), np.int64, len(kept))[table(run, arms.run)],
            table(np.full(len(run), _NO_FITTING), arms.fitting),
            Legs(
                Rods.between(
                    table(start, arms.start),
                    table(end, arms.end),
                    table(radius[run], arms.radius),
                    table(~is_first, lone),
                    table(~is_last, arms.bends),
                ),
                *_squares(blocks, order),
            ),
            table(begin, arms.place),
            table(finish, arms.place),
            table(is_first & ~enters[run], lone),
            table(is_last & ~leaves[run], lone),
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


def _places(size: Floats, run: Ints) -> tuple[Floats, Floats]:
    """Where along its own part each stretch begins and ends."""
    begin, end, last = [], [], -1
    at = 0.0
    for length, own in zip(size.tolist(), run.tolist(), strict=True):
        if own != last:
            at, last = 0.0, own
        begin.append(at)
        at += length
        end.append(at)
    return np.array(begin), np.array(end)


def _squares(blocks: dict[int, Floats], order: Ints) -> tuple[Bools, Floats]:
    """Which legs, taken in this order, are rectangular, and the corners of those."""
    square, corners = np.zeros(len(order), dtype=bool), np.zeros((len(order), 8, 3))
    if blocks:
        rows = list(blocks)
        square[rows], corners[rows] = True, list(blocks.values())
        square, corners = square[order], corners[order]
    return square, corners
