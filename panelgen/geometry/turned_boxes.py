"""Boxes turned any way, as arrays: each between two corners in a frame of its own."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np
from numpy.typing import ArrayLike

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats, Frame

__all__ = ["TurnedBoxes"]

_NEXT, _LAST = [1, 2, 0], [2, 0, 1]


@dataclass(frozen=True, slots=True, eq=False)
class TurnedBoxes:
    """n boxes, mm: `origin` (n, 3) and `axes` (n, 3, 3), rows x, y and z, are their frames in the parent's
    coordinates, and `low` and `high` (n, 3) their least and greatest corners in those frames."""

    origin: Floats
    axes: Floats
    low: Floats
    high: Floats

    @classmethod
    def of(cls, frames: Sequence[Frame], low: ArrayLike, high: ArrayLike) -> TurnedBoxes:
        """Boxes from corners `low` to `high`, (n, 3) or one for all (3,), of n frames."""
        rows = chain.from_iterable((*frame.origin, *frame.x, *frame.y) for frame in frames)
        table = np.fromiter(rows, dtype=float).reshape(-1, 3, 3)
        axes = np.empty((len(frames), 3, 3))
        axes[:, :2] = table[:, 1:]
        x, y = table[:, 1], table[:, 2]
        axes[:, 2] = x[:, _NEXT] * y[:, _LAST] - x[:, _LAST] * y[:, _NEXT]
        shape = (len(frames), 3)
        return cls(table[:, 0], axes, np.broadcast_to(low, shape), np.broadcast_to(high, shape))

    def limits(self) -> Boxes:
        """The upright boxes around them, in the parent's coordinates."""
        ends = self.axes * self.low[:, :, None], self.axes * self.high[:, :, None]
        low, high = np.minimum(*ends).sum(axis=1), np.maximum(*ends).sum(axis=1)
        return Boxes(self.origin + low, self.origin + high)

    def to_local(self, rows: Ints, points: Floats) -> Floats:
        """Points (k, 3) of the parent in the frames of the boxes with these numbers (k,)."""
        local: Floats = np.einsum("kij,kj->ki", self.axes[rows], points - self.origin[rows])
        return local

    def to_parent(self, rows: Ints, points: Floats) -> Floats:
        """Points (k, 3) in the frames of the boxes with these numbers (k,) in the parent's coordinates."""
        parent: Floats = np.einsum("kij,ki->kj", self.axes[rows], points) + self.origin[rows]
        return parent
