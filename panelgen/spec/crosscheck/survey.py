"""What the cross-checks look at: the house, its catalog, and each wall where the spec draws it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from panelgen.catalog import Catalog
from panelgen.spec.assemblies import Assembly
from panelgen.spec.house import HouseSpec
from panelgen.spec.lines import Path
from panelgen.spec.walls import Corner, Gable, Level, Outline, PlanPoint, WallLine
from panelgen.units import format_length

__all__ = ["LONGEST_WALL", "SHORTEST_WALL", "TOLERANCE", "Depths", "Place", "Survey", "Wall", "edges", "survey"]

Place = tuple[float, float, float]
"""A point of the house, mm."""

TOLERANCE = 1e-3
"""Lengths that differ by less, mm, are equal: far below what a shop can cut, far above rounding."""

SHORTEST_WALL = 1.0
LONGEST_WALL = 100_000.0
"""A wall beyond these, mm, is a slip of the pen; so the other checks leave it alone."""


@dataclass(frozen=True)
class Wall:
    """One wall, mm. `path` leads to its corner or line in the file."""

    id: str
    path: Path
    options: Corner | WallLine
    assembly: str
    start: PlanPoint
    end: PlanPoint
    level: Level

    @cached_property
    def length(self) -> float:
        """From corner to corner, or from start to end."""
        return math.dist(self.start, self.end)

    def place(self, x: float, y: float, z: float, framing: float) -> Place:
        """A point of the wall in the house: `x` along it, `y` up, `z` toward the weather as in a panel.

        z = 0 is the inner face of the framing, which is `framing` deep.
        """
        dx, dy = ((b - a) / self.length for a, b in zip(self.start, self.end, strict=True))
        centred = isinstance(self.options, WallLine) and self.options.along == "center"
        outward = z - (framing / 2 if centred else framing)
        return (
            self.start[0] + dx * x + dy * outward,
            self.start[1] + dy * x - dx * outward,
            self.level.base + y,
        )

    @cached_property
    def top(self) -> tuple[PlanPoint, ...]:
        """The top as points (along the wall, height)."""
        return self.options.top(self.level, self.length)

    def top_at(self, x: float) -> float:
        """Height of the top at `x` along the wall, held at the end values beyond the ends."""
        if x <= 0:
            return self.top[0][1]
        for (xa, ya), (xb, yb) in zip(self.top, self.top[1:], strict=False):
            if x <= xb:
                return ya + (yb - ya) * (x - xa) / (xb - xa)
        return self.top[-1][1]


@dataclass(frozen=True, slots=True)
class Depths:
    """Where an assembly lies in panel z, mm: from the room side `low` to the weather side `high`."""

    low: float
    high: float
    framing: float
    cavity: float | None

    @property
    def total(self) -> float:
        """Depth of the whole assembly."""
        return self.high - self.low

    def of(self, depth: float | str) -> float | None:
        """A depth of the spec as z: a length, or the middle of the layer it names; None without that layer."""
        if not isinstance(depth, str):
            return depth
        return self.framing / 2 if depth == "framing" else self.cavity


@dataclass(frozen=True)
class Survey:
    """A house spec with what can be looked up in it. `walls` are those of a sane length, by id."""

    house: HouseSpec
    catalog: Catalog
    drawn: tuple[Wall, ...]
    walls: Mapping[str, Wall]

    def text(self, mm: float) -> str:
        """A length for a person, in the unit of the file."""
        return format_length(mm, self.house.unit)

    @cached_property
    def depths(self) -> Mapping[str, Depths]:
        """Depths of the assemblies whose products are all known, by name."""
        found = {name: _depths(assembly, self.catalog) for name, assembly in self.house.assemblies.items()}
        return {name: depths for name, depths in found.items() if depths is not None}

    @cached_property
    def fronts(self) -> Mapping[str, Wall]:
        """The front walls of dormers whose assemblies are known, by id, each as a wall along x."""
        return {wall.id: wall for wall in _fronts(self)}


def survey(house: HouseSpec, catalog: Catalog) -> Survey:
    """Draw the walls of a house; `catalog` already holds the shop's own products."""
    drawn = tuple(_drawn(house))
    sane = [wall for wall in drawn if SHORTEST_WALL <= wall.length <= LONGEST_WALL]
    return Survey(house, catalog, drawn, {wall.id: wall for wall in reversed(sane)})


def edges(outline: Outline) -> list[tuple[Corner, Corner]]:
    """The walls of an outline: the corner each starts at and the next one."""
    corners = outline.corners
    return list(zip(corners, corners[1:] + corners[:1] if outline.closed else corners[1:], strict=False))


def _drawn(house: HouseSpec) -> Iterator[Wall]:
    for n, level in enumerate(house.levels):
        for m, outline in enumerate(level.outlines):
            for k, (corner, following) in enumerate(edges(outline)):
                path = ("levels", n, "outlines", m, "corners", k)
                assembly = corner.assembly or outline.assembly
                yield Wall(corner.wall, path, corner, assembly, corner.at, following.at, level)
        for m, line in enumerate(level.walls):
            yield Wall(line.wall, ("levels", n, "walls", m), line, line.assembly, line.start, line.end, level)


def _fronts(survey: Survey) -> Iterator[Wall]:
    levels = {level.id: level for level in survey.house.levels}
    for n, roof in enumerate(survey.house.roofs):
        for k, opening in enumerate(roof.openings):
            dormer = opening.dormer
            if dormer is None or dormer.walls not in survey.depths or roof.level not in levels:
                continue
            gable = Gable(eave=dormer.height, rise=dormer.rise, run=dormer.run) if dormer.form == "gable" else None
            end = (opening.size[0] + 2 * survey.depths[dormer.walls].framing, 0.0)
            line = WallLine(
                wall=opening.front, assembly=dormer.walls, start=(0.0, 0.0), end=end, height=dormer.height, gable=gable
            )
            path = ("roofs", n, "openings", k, "dormer")
            yield Wall(opening.front, path, line, dormer.walls, line.start, line.end, levels[roof.level])


def _depths(assembly: Assembly, catalog: Catalog) -> Depths | None:
    outer, inner, strapping = assembly.outer_sheathing, assembly.inner_sheathing, assembly.strapping
    framing = catalog.lumber.get(assembly.framing.stock)
    straps = catalog.lumber.get(strapping.stock) if strapping else None
    sheets = [catalog.sheets.get(sheet.product) for sheet in (outer, inner) if sheet]
    if framing is None or None in sheets or (strapping and straps is None):
        return None
    outside = catalog.sheets[outer.product].thickness if outer else 0.0
    inside = catalog.sheets[inner.product].thickness if inner else 0.0
    space = straps.thickness if straps else 0.0
    cavity = -inside - space / 2 if straps else None
    return Depths(-inside - space, framing.width + outside, framing.width, cavity)
