"""Every nail and screw of some panels in one table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.legs import Legs
from panelgen.geometry.rods import Bools, Rods
from panelgen.model import Fasteners, Panel

__all__ = ["Shanks"]


@dataclass(frozen=True, slots=True, eq=False)
class Shanks:
    """n shanks as rods from the head to the point, in panel coordinates, mm.

    `panel` and `batch` (n,) are the index of the panel and of the batch in `batches`. `into` (n,) is the
    index, among all members of the panels, of the stick that should hold the point; `sheet` (n,) that of
    the sheet under the head among all sheets, -1 for nails that fasten sticks.
    """

    batches: tuple[Fasteners, ...]
    batch: Ints
    panel: Ints
    rods: Rods
    into: Ints
    sheet: Ints

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> Shanks:
        """The fasteners of panels, in order."""
        batches = tuple(batch for panel in panels for batch in panel.fasteners)
        counts = np.array([len(batch) for batch in batches], dtype=np.int64)
        home = np.repeat(np.arange(len(panels)), [len(panel.fasteners) for panel in panels])
        members = np.cumsum([0, *(len(panel.members) for panel in panels)])
        sheets = np.cumsum([0, *(len(panel.sheets) for panel in panels)])
        batch = np.repeat(np.arange(len(batches)), counts)
        panel = home[batch]
        none = np.empty(0, dtype=np.int64)
        of_sheets = np.array([one.fastens_sheets for one in batches], dtype=bool)[batch]
        flat: Bools = np.zeros(len(batch), dtype=bool)
        table = np.array([(*one.direction, one.length, one.shank / 2) for one in batches]).reshape(-1, 5)[batch]
        return cls(
            batches,
            batch,
            panel,
            Rods(
                np.concatenate([np.empty((0, 3)), *(one.points for one in batches)]),
                table[:, :3],
                table[:, 3],
                table[:, 4],
                flat,
                flat,
            ),
            np.concatenate([none, *(one.into for one in batches)]) + members[panel],
            np.where(of_sheets, np.concatenate([none, *(one.fastened for one in batches)]) + sheets[panel], -1),
        )

    def legs(self, rows: Ints) -> Legs:
        """These shanks as round legs."""
        return Legs(self.rods.take(rows), np.zeros(len(rows), dtype=bool), np.zeros((len(rows), 8, 3)))
