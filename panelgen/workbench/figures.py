"""What a panel, or a house, comes to: the figures that a change is judged by."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.model import Panel
from panelgen.model.masses import panel_mass
from panelgen.plans import Offcut, offcuts

__all__ = ["Figures"]


@dataclass(frozen=True, slots=True)
class Figures:
    """Sums over some panels: `mass` of wood, sheets and insulation and `insulation` alone, kg; counts of parts;
    `stick_waste` and `sheet_waste` are the shares (0 to 1) of the stock taken that end up in no part.
    """

    mass: float
    members: int
    sheets: int
    nails: int
    insulation: float
    stick_waste: float
    sheet_waste: float

    @classmethod
    def of(cls, panels: Sequence[Panel], longest_stock: float) -> Figures:
        """The figures of some panels; `longest_stock` is the length of the sticks in the rack, mm."""
        left = offcuts(panels, longest_stock)
        return cls(
            mass=sum(map(panel_mass, panels)),
            members=sum(len(panel.members) for panel in panels),
            sheets=sum(len(panel.sheets) for panel in panels),
            nails=sum(len(row) for panel in panels for row in panel.fasteners),
            insulation=sum(bay.mass for panel in panels for bay in panel.bays),
            stick_waste=_waste([one for one in left if one.kind == "stick"]),
            sheet_waste=_waste([one for one in left if one.kind == "sheet"]),
        )


def _waste(left: Sequence[Offcut]) -> float:
    """The share left over of several stocks together."""
    taken = [one.pieces * math.prod(one.size) for one in left]
    return sum(one.share * size for one, size in zip(left, taken, strict=True)) / sum(taken) if taken else 0.0
