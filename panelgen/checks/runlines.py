"""Runs as arrays: every straight stretch as a rod, every bend as a ball, in the coordinates of a panel."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools, Rods
from panelgen.model import Panel, RunPart

__all__ = ["Bends", "RunLines", "RunPath"]

_SAME = 1e-9

RunPath = tuple[RunPart, int, ArrayLike]
"""A run part, the index of a panel, and its path (n, 3) in that panel's coordinates, mm."""


@dataclass(frozen=True, slots=True, eq=False)
class Bends:
    """The points between two stretches: `stretch` (m,) is the one that ends there; `center` (m, 3), `radius` (m,)."""

    stretch: Ints
    center: Floats
    radius: Floats

    def boxes(self) -> Boxes:
        """The box around each ball."""
        return Boxes(self.center - self.radius[:, None], self.center + self.radius[:, None])


@dataclass(frozen=True, slots=True, eq=False)
class RunLines:
    """n stretches of run parts: `run` (n,) is the index in `runs`, `panel` (n,) that of the panel.

    `stops_at_start` and `stops_at_end` (n,) are True where the run itself ends there, for good.
    """

    runs: tuple[RunPart, ...]
    run: Ints
    panel: Ints
    rods: Rods
    stops_at_start: Bools
    stops_at_end: Bools

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> RunLines:
        """The runs of panels, in order, each in its own panel's coordinates."""
        return cls.along((run, index, run.path) for index, panel in enumerate(panels) for run in panel.runs)

    @classmethod
    def along(cls, paths: Iterable[RunPath]) -> RunLines:
        """Stretches of run parts along paths; repeated points are passed over."""
        listed = list(paths)
        clean = [_distinct(np.asarray(path, dtype=float).reshape(-1, 3)) for _, _, path in listed]
        kept = [(part, panel, path) for (part, panel, _), path in zip(listed, clean, strict=True) if len(path) > 1]
        stretches = np.array([len(path) - 1 for *_, path in kept], dtype=np.int64)
        run = np.repeat(np.arange(len(kept)), stretches)
        first = np.zeros(len(run), dtype=bool)
        last = first.copy()
        ends = np.cumsum(stretches)
        first[ends - stretches] = True
        last[ends - 1] = True
        return cls(
            tuple(part for part, *_ in kept),
            run,
            np.array([panel for _, panel, _ in kept], dtype=np.int64)[run],
            Rods.between(
                np.concatenate([np.empty((0, 3)), *(path[:-1] for *_, path in kept)]),
                np.concatenate([np.empty((0, 3)), *(path[1:] for *_, path in kept)]),
                np.array([part.outside_diameter / 2 for part, *_ in kept])[run],
                ~first,
                ~last,
            ),
            first & ~np.array([part.enters for part, *_ in kept], dtype=bool)[run],
            last & ~np.array([part.leaves for part, *_ in kept], dtype=bool)[run],
        )

    def __len__(self) -> int:
        return len(self.run)

    def bends(self, shaved: float) -> Bends:
        """The balls at the bends, `shaved` mm smaller than the run."""
        stretch = np.flatnonzero(self.rods.bend_end)
        radius = np.maximum(self.rods.radius[stretch] - shaved, 0.0)
        return Bends(stretch, self.rods.end[stretch], radius)


def _distinct(path: Floats) -> Floats:
    """The path without points that repeat the one before."""
    keep = np.ones(len(path), dtype=bool)
    keep[1:] = np.abs(np.diff(path, axis=0)).max(axis=1) > _SAME
    return path[keep]
