"""What lifts a panel into its place, and what carries it there."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.frames import Floats, Point2

__all__ = ["NO_TRUCK", "Crane", "Truck"]

_EPS = 1e-6


@dataclass(frozen=True, slots=True)
class Crane:
    """A crane at the plan point `at`, and the rows (radius, mass) of its load chart, nearest first: mm and kg."""

    at: Point2
    table: tuple[tuple[float, float], ...]

    def allowed(self, points: Floats) -> Floats:
        """(...,) kg that it lifts at plan points (..., 2), mm: by the row of the next greater radius, 0 beyond all."""
        radii, masses = zip(*self.table, strict=True)
        away = np.hypot(points[..., 0] - self.at[0], points[..., 1] - self.at[1])
        result: Floats = np.array((*masses, 0.0))[np.searchsorted(radii, away - _EPS)]
        return result


@dataclass(frozen=True, slots=True)
class Truck:
    """The longest, highest (mm) and heaviest (kg) panel that a truck takes."""

    length: float = math.inf
    height: float = math.inf
    mass: float = math.inf


NO_TRUCK = Truck()
"""Any panel goes on it."""
