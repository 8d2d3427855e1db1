"""A wall as the spec will have it: its id, its framing line, its top and what to confirm."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from panelgen.intake.elevations import Gap, Top
from panelgen.intake.lines import WoodWall
from panelgen.intake.storeys import is_standing

__all__ = ["SpecWall", "bearing_is_doubted"]


@dataclass(frozen=True, slots=True, eq=False)
class SpecWall:
    """A wall that comes through; `gaps` are holes already cut from its body, along the model wall, mm."""

    id: str
    wood: WoodWall
    top: Top
    gaps: tuple[Gap, ...]
    notes: tuple[str, ...]


def bearing_is_doubted(walls: Iterable[SpecWall]) -> bool:
    """True where the model calls no exterior wall of a storey bearing, and at least one not bearing.

    The flag then looks like a default that nobody set, and a house whose walls bear nothing is not
    believed: exterior walls are left to the rule that they bear.
    """
    flags = [wall.wood.model.bearing for wall in walls if wall.wood.exterior and is_standing(wall.wood.model)]
    return False in flags and True not in flags
