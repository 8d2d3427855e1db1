"""The bores of panels as arrays: what shields and supports ask of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from panelgen.design.tables import columns
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.turned_boxes import TurnedBoxes
from panelgen.model import Bore, Member

__all__ = ["Holes"]


@dataclass(frozen=True, slots=True, eq=False)
class Holes:
    """h bores, panel after panel and stick after stick.

    `panel` (h,) numbers the panel, `stick` and `bore` are what is bored and how. `middle` (h, 3) is the middle
    of the hole in panel coordinates, `along` (h,) how far along the stick that is, and `wood` (h, 2) the least
    wood between the hole and the near and the far edge of the stick, mm.
    """

    panel: Ints
    stick: tuple[Member, ...]
    bore: tuple[Bore, ...]
    middle: Floats
    along: Floats
    wood: Floats

    @classmethod
    def of(cls, panels: Sequence[Sequence[Member]]) -> Holes:
        """The bores of the members of each panel."""
        bored = [(number, member) for number, members in enumerate(panels) for member in members if member.bores]
        rows = ((k, *bore.point, *bore.axis, bore.diameter) for k, (_, one) in enumerate(bored) for bore in one.bores)
        table = np.fromiter(chain.from_iterable(rows), dtype=float).reshape(-1, 8)
        owner, point, axis = table[:, 0].astype(np.int64), table[:, 1:4], table[:, 4:7]
        sizes = np.array([(one.length, one.width, one.thickness) for _, one in bored]).reshape(-1, 3)
        _, width, thickness = sizes[owner].T
        slope = axis[:, :2] / axis[:, 2:]
        start = point[:, :2] - slope * point[:, 2:]
        middle = np.column_stack((start + slope * thickness[:, None] / 2, thickness / 2))
        heights = start[:, 1], start[:, 1] + slope[:, 1] * thickness
        reach = table[:, 7] / 2 * np.hypot(1.0, slope[:, 1])
        return cls(
            np.array([number for number, _ in bored], dtype=np.int64)[owner],
            tuple(bored[k][1] for k in owner.tolist()),
            tuple(bore for _, one in bored for bore in one.bores),
            TurnedBoxes.of([one.frame for _, one in bored], 0.0, sizes).to_parent(owner, middle),
            middle[:, 0],
            columns(np.minimum(*heights) - reach, width - np.maximum(*heights) - reach),
        )
