"""Walls in the house: which wall panel a plan point stands over, and where a line runs over walls."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.structure.sticks import LEVEL, WALLS, Sticks
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model.layers import underside

__all__ = ["Walls"]

_BESIDE = 1.0
"""A point this far (mm) outside a wall's framing in plan is still on it; common practice, no source."""
_LIES = 5.0
"""A deck whose underside is this near (mm) to the top of a wall lies on it; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Walls:
    """The w wall panels of a scene: `panel` (w,) is the index of each.

    `origin` (w, 3) and `axes` (w, 3, 3) are their frames, `size` (w, 3) length, height and depth of the framing, mm.
    `carries` (w,) is True for bearing walls; `deck_top` (w,) is the house height of the joists that lie on each, or of
    its own top where none do.
    """

    panel: Ints
    origin: Floats
    axes: Floats
    size: Floats
    carries: Bools
    deck_top: Floats

    @classmethod
    def of(cls, sticks: Sticks) -> Walls:
        """The wall panels of a scene."""
        scene = sticks.scene
        origins, axes = scene.frames()
        panel = np.array([n for n, one in enumerate(scene.panels) if one.kind in WALLS], dtype=np.int64)
        rows = [(one.length, one.height, one.framing.thickness) for one in scene.panels if one.kind in WALLS]
        size = np.array(rows, dtype=float).reshape(-1, 3)
        carries = np.array([scene.panels[n].bearing for n in panel.tolist()], dtype=bool)
        top = _deck_tops(sticks, origins[panel], axes[panel], size)
        return cls(panel, origins[panel], axes[panel], size, carries, top)

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

    def under(self, points: Floats, beside: float = _BESIDE) -> tuple[Bools, Floats]:
        """Which walls n house points (n, 3) stand over in plan, (n, w), and the points seen from there, (n, w, 3).

        A wall that is no farther than `beside` (mm) counts.
        """
        local: Floats = np.einsum("nwj,wkj->nwk", points[:, None] - self.origin, self.axes)
        along, through = local[:, :, 0], local[:, :, 2]
        inside = (along >= -beside) & (along <= self.size[:, 0] + beside)
        return inside & (through >= -beside) & (through <= self.size[:, 2] + beside), local

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


def _deck_tops(sticks: Sticks, origin: Floats, axes: Floats, size: Floats) -> Floats:
    """(w,) the house height of the joists of the decks that lie on walls, of a wall's own top where none do."""
    top = origin[:, 2] + size[:, 1]
    result = top.copy()
    low, high = _plan_boxes(origin, axes[:, 0] * size[:, 0, None], axes[:, 2] * size[:, 2, None])
    for panel in sticks.scene.panels:
        if panel.kind not in LEVEL:
            continue
        frame = panel.frame
        sides = np.array([frame.x, frame.y]) * np.array([[panel.length], [panel.height]])
        own_low, own_high = _plan_boxes(np.array([frame.origin]), sides[None, 0], sides[None, 1])
        lies = np.abs(frame.origin[2] + underside(panel.layers) - top) <= _LIES
        lies &= ((low <= own_high) & (own_low <= high)).all(axis=1)
        result = np.where(lies, np.maximum(result, frame.origin[2] + panel.framing.z1), result)
    return result


def _plan_boxes(origin: Floats, one: Floats, other: Floats) -> tuple[Floats, Floats]:
    """Least and greatest plan x and y (n, 2) of parallelograms at `origin` with two sides, (n, 3) each."""
    low = origin + np.minimum(one, 0.0) + np.minimum(other, 0.0)
    high = origin + np.maximum(one, 0.0) + np.maximum(other, 0.0)
    return low[:, :2], high[:, :2]
