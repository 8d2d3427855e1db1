"""What the clash checks look at: some panels, and their members, sheets and runs as arrays.

A scene of one panel answers an edit in milliseconds; a scene of a whole house costs little more than
its largest panel, since every check works on the arrays of all panels at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.checks.runs.lines import RunLines
from panelgen.checks.sheeting import Sheeting
from panelgen.checks.timber import Timber
from panelgen.geometry.frames import Floats
from panelgen.geometry.vectors import triads
from panelgen.model import Panel

__all__ = ["Scene"]


@dataclass(frozen=True, slots=True, eq=False)
class Scene:
    """Panels with their timber, sheets and run lines; indices of panels are places in `panels`."""

    panels: tuple[Panel, ...]
    timber: Timber
    sheeting: Sheeting
    lines: RunLines

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> Scene:
        """The scene of panels, each in its own coordinates."""
        return cls(tuple(panels), Timber.of(panels), Sheeting.of(panels), RunLines.of(panels))

    def frames(self) -> tuple[Floats, Floats]:
        """Origins (p, 3) and axes (p, 3, 3) of the panels in the house: a point x of one is ``x @ axes + origin``."""
        rows = [(*panel.frame.origin, *panel.frame.x, *panel.frame.y) for panel in self.panels]
        table = np.array(rows, dtype=float).reshape(-1, 9)
        x, y = table[:, 3:6], table[:, 6:9]
        return table[:, :3], triads(x, y)
