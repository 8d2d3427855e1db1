"""How far a panel reaches: the half-spaces that hold its parts and runs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

import numpy as np

from panelgen.geometry.frames import Floats, Vec3
from panelgen.model import Panel

__all__ = ["SIDES", "Bounds", "slopes_of"]

SIDES = (
    "at its left end",
    "at its right end",
    "on the room side",
    "on the weather side",
    "at its bottom",
    "at its top",
)
"""What to call the sides of a panel, seen from the weather side."""


@dataclass(frozen=True, slots=True, eq=False)
class Bounds:
    """b half-spaces ``normal · x <= offset``: indices of `SIDES` (b,), unit `normals` (b, 3), `offsets` (b,) in mm."""

    side: tuple[int, ...]
    normals: Floats
    offsets: Floats

    @classmethod
    def of(cls, panel: Panel, along: tuple[float, float], through: tuple[float, float]) -> Bounds:
        """`along` and `through` are the least and greatest x and z; the outline bounds the bottom and the top."""
        rows: list[tuple[int, Vec3, float]] = [
            (0, (-1.0, 0.0, 0.0), -along[0]),
            (1, (1.0, 0.0, 0.0), along[1]),
            (2, (0.0, 0.0, -1.0), -through[0]),
            (3, (0.0, 0.0, 1.0), through[1]),
        ]
        rows += [(4 + (ny > 0), (nx, ny, 0.0), offset) for nx, ny, offset in slopes_of(panel)]
        return cls(
            tuple(row[0] for row in rows), np.array([row[1] for row in rows]), np.array([row[2] for row in rows])
        )


def slopes_of(panel: Panel) -> Iterator[tuple[float, float, float]]:
    """Outward normal (x, y) and offset of every edge of the framing's outline that is not plumb.

    The outline runs counter-clockwise and is convex, as the tops of walls are.
    """
    ring = panel.profile
    for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1], strict=True):
        size = hypot(xb - xa, yb - ya)
        if size > 0.0 and abs(xb - xa) > 1e-9 * size:
            nx, ny = (yb - ya) / size, (xa - xb) / size
            yield nx, ny, nx * xa + ny * ya
