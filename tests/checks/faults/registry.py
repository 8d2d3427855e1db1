"""The kinds of faults: each a function that plants one in a wall and says which finding must come."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from panelgen.model import House, Panel
from tests.checks.faults.walls import Wall

__all__ = ["JOINED", "KINDS", "Case", "Plant", "changed", "fault"]


@dataclass(frozen=True)
class Case:
    """A house with one fault: a finding of `code` about `part` must come."""

    house: House
    code: str
    part: str


Plant = Callable[[np.random.Generator, Wall], Case | None]
"""None where the wall has no place for that fault."""

KINDS: dict[str, Plant] = {}
"""Every kind by name, in the order in which they are planted."""

JOINED: dict[str, None] = {}
"""The kinds that want a wall of several panels."""


def fault(name: str, *, joined: bool = False) -> Callable[[Plant], Plant]:
    """Registers a kind."""

    def add(plant: Plant) -> Plant:
        KINDS[name] = plant
        if joined:
            JOINED[name] = None
        return plant

    return add


def changed(house: House, panel: Panel | None = None, **parts: Any) -> House:
    """The house with other parts in one of its panels: the first, if left out."""
    panel = panel or house.panels[0]
    other = replace(panel, **parts)
    return replace(house, panels=tuple(other if one is panel else one for one in house.panels))
