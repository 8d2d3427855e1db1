"""The sticks of a scene as the structural checks see them: their boxes, roles and the panels they are in."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Member, PanelKind, Role

__all__ = ["FULL", "LEVEL", "WALLS", "Sticks"]

WALLS = frozenset({PanelKind.EXTERIOR_WALL, PanelKind.INTERIOR_WALL})
LEVEL = frozenset({PanelKind.FLOOR, PanelKind.CEILING})
FULL = frozenset({Role.STUD, Role.POST, Role.KING})
"""Sticks that stand from plate to plate."""

_CODES = {role: code for code, role in enumerate(Role)}


@dataclass(frozen=True, slots=True, eq=False)
class Sticks:
    """The n members of a scene's timber, in its order.

    `low` and `high` (n, 3) are the boxes around the sticks before their ends are cut, panel coordinates, mm;
    `role` (n,) stands for the role, `in_wall` (n,) is True in a wall panel. `first` (p + 1,) says where the
    sticks of each panel begin. Loose sticks are not `built`.
    """

    scene: Scene
    low: Floats
    high: Floats
    role: Ints
    in_wall: Bools
    built: Bools
    first: Ints

    @classmethod
    def of(cls, scene: Scene) -> Sticks:
        """The sticks of a scene."""
        timber = scene.timber
        reach = timber.axes * timber.sizes[:, :, None]
        walls = np.array([panel.kind in WALLS for panel in scene.panels], dtype=bool)
        return cls(
            scene,
            timber.origins + np.minimum(reach, 0.0).sum(axis=1),
            timber.origins + np.maximum(reach, 0.0).sum(axis=1),
            np.array([_CODES[member.role] for member in timber.members], dtype=np.int64),
            walls[timber.panel],
            np.array([not member.loose for member in timber.members], dtype=bool),
            np.searchsorted(timber.panel, np.arange(len(scene.panels) + 1)),
        )

    def rows(self, *roles: Role, in_wall: bool | None = None) -> Ints:
        """The rows of sticks of these roles, loose ones left out; only those in walls, or in other panels, if asked."""
        chosen = np.isin(self.role, [_CODES[role] for role in roles]) & self.built
        if in_wall is not None:
            chosen &= self.in_wall == in_wall
        return np.flatnonzero(chosen)

    def member(self, row: int) -> Member:
        """The member of a row."""
        return self.scene.timber.members[row]

    def span(self, panel: int) -> range:
        """The rows of one panel."""
        return range(int(self.first[panel]), int(self.first[panel + 1]))

    def layout(self, panel: int) -> float:
        """The commonest distance between the middles of neighbouring full-height sticks of a panel, mm; 0 for none."""
        rows = [row for row in self.span(panel) if self.member(row).role in FULL]
        apart = np.diff(np.sort(self.low[rows, 0] + self.high[rows, 0]) / 2).round(1)
        values, counts = np.unique(apart, return_counts=True)
        return float(values[np.argmax(counts)]) if len(values) else 0.0
