"""Walls in the house: which wall panel a plan point stands over, and where a line runs over walls."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.structure.sticks import WALLS, Sticks
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools

__all__ = ["Walls"]

_BESIDE = 1.0
"""A point this far (mm) outside a wall's framing in plan is still on it; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """The w wall panels of a scene: `panel` (w,) is the index of each.

    `origin` (w, 3) and `axes` (w, 3, 3) are their frames, `size` (w, 3) length, height and depth of the framing, mm.
    """

    panel: Ints
    origin: Floats
    axes: Floats
    size: Floats

    @classmethod
    def of(cls, sticks: Sticks) -> Walls:
        """The wall panels of a scene."""
        scene = sticks.scene
        origins, axes = scene.frames()
        panel = np.array([n for n, one in enumerate(scene.panels) if one.kind in WALLS], dtype=np.int64)
        rows = [(one.length, one.height, one.framing.thickness) for one in scene.panels if one.kind in WALLS]
        return cls(panel, origins[panel], axes[panel], np.array(rows, dtype=float).reshape(-1, 3))

    @property
    def bottom(self) -> Floats:
        """(w,) house heights of the undersides of the walls, mm."""
        result: Floats = self.origin[:, 2]
        return result

    @property
    def top(self) -> Floats:
        """(w,) house heights of the tops of the walls, mm."""
        result: Floats = self.origin[:, 2] + self.size[:, 1]
        return result

    def under(self, points: Floats) -> tuple[Bools, Floats]:
        """Which walls n house points (n, 3) stand over in plan, (n, w), and the points seen from there, (n, w, 3)."""
        local: Floats = np.einsum("nwj,wkj->nwk", points[:, None] - self.origin, self.axes)
        along, through = local[:, :, 0], local[:, :, 2]
        inside = (along >= -_BESIDE) & (along <= self.size[:, 0] + _BESIDE)
        return inside & (through >= -_BESIDE) & (through <= self.size[:, 2] + _BESIDE), local

    def crossings(self, start: Floats, end: Floats) -> tuple[Floats, Floats]:
        """Where n lines (n, 3) run over the framing of each wall in plan, as shares of their length.

        First and last share, (n, w) each; the first is greater where a line misses a wall.
        """
        a = np.einsum("nwj,wkj->nwk", start[:, None] - self.origin, self.axes)[:, :, [0, 2]]
        step = np.einsum("nj,wkj->nwk", end - start, self.axes)[:, :, [0, 2]]
        room = self.size[:, [0, 2]]
        with np.errstate(divide="ignore", invalid="ignore"):
            one, other = -a / step, (room - a) / step
        level = np.abs(step) < 1e-9
        outside = level & ((a < 0.0) | (a > room))
        first = np.where(level, np.where(outside, np.inf, -np.inf), np.minimum(one, other)).max(axis=2)
        last = np.where(level, np.where(outside, -np.inf, np.inf), np.maximum(one, other)).min(axis=2)
        return np.maximum(first, 0.0), np.minimum(last, 1.0)
