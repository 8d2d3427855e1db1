"""The straight stretches of many paths as arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats, Vec3

__all__ = ["Stretches"]


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """s stretches, path after path, each from one point of its path to the next, mm.

    `path` (s,) is the number of the path; `start` and `end` (s, 3) are the two points.
    """

    path: Ints
    start: Floats
    end: Floats

    @classmethod
    def of(cls, paths: Sequence[Sequence[Vec3]]) -> Stretches:
        """Every stretch of each path."""
        points = np.array(list(chain.from_iterable(paths))).reshape(-1, 3)
        path = np.arange(len(paths)).repeat([len(path) for path in paths])
        first = np.flatnonzero(path[:-1] == path[1:])
        return cls(path[first], points[first], points[first + 1])

    def limits(self) -> Boxes:
        """The boxes around them."""
        return Boxes(np.minimum(self.start, self.end), np.maximum(self.start, self.end))
