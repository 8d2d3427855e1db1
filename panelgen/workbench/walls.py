"""Where the wall of a panel stands in the spec."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.spec import HouseSpec
from panelgen.spec.lines import Path
from panelgen.spec.walls import Corner, Level, WallLine

__all__ = ["WallPlace", "wall_place"]


@dataclass(frozen=True, slots=True)
class WallPlace:
    """A wall as the spec has it, at `path`, in its level at `level_path`; `assembly` is the one in force."""

    wall: Corner | WallLine
    path: Path
    level: Level
    level_path: Path
    assembly: str


def wall_place(spec: HouseSpec, wall: str) -> WallPlace | None:
    """The place of the wall with that id; None where there is none, as for a panel of a floor."""
    for i, level in enumerate(spec.levels):
        here: Path = ("levels", i)
        for j, outline in enumerate(level.outlines):
            for k, corner in enumerate(outline.corners):
                if corner.wall == wall:
                    path = (*here, "outlines", j, "corners", k)
                    return WallPlace(corner, path, level, here, corner.assembly or outline.assembly)
        for j, line in enumerate(level.walls):
            if line.wall == wall:
                return WallPlace(line, (*here, "walls", j), level, here, line.assembly)
    return None
