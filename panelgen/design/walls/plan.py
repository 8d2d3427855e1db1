"""The walls of each level in plan, as the spec draws them, before corners and junctions are resolved."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog
from panelgen.geometry.frames import Frame, Point2
from panelgen.model import Barrier, Layer, LayerKind
from panelgen.spec.assemblies import Assembly, FramingLayer, SheathingLayer
from panelgen.spec.house import HouseSpec
from panelgen.spec.walls import Corner, Level, Outline, WallLine

__all__ = ["PlanWall", "layer_stack", "plan_walls", "storeys_above"]


@dataclass(frozen=True, slots=True)
class PlanWall:
    """A wall as drawn. `origin` and `direction` are plan coordinates of its spec start, on the outer
    framing face, the interior to the left; `top` is (wall x, height) from the spec's start to its end.

    `rank` decides which of two walls runs through where they meet: the greater one does.
    """

    id: str
    level: Level
    assembly: Assembly
    layers: tuple[Layer, ...]
    origin: Point2
    direction: Point2
    length: float
    top: tuple[Point2, ...]
    exterior: bool
    bearing: bool
    rank: tuple[float, ...]

    @property
    def framing(self) -> Layer:
        """The framing layer."""
        return next(layer for layer in self.layers if layer.kind is LayerKind.FRAMING)

    @property
    def frame(self) -> Frame:
        """The wall's frame in the house: x along it, y up, z toward the weather, z = 0 at the inner framing face."""
        depth = self.framing.thickness
        dx, dy = self.direction
        return Frame(
            (self.origin[0] - dy * depth, self.origin[1] + dx * depth, self.level.base),
            (dx, dy, 0.0),
            (0.0, 0.0, 1.0),
        )


def layer_stack(assembly: Assembly, catalog: Catalog) -> tuple[Layer, ...]:
    """The assembly's layers as slabs in panel z (mm), outside to inside. Raises CatalogError for unknown products."""
    depth = catalog.stock(assembly.framing.stock).width
    layers = []
    inner = 0.0
    for spec in assembly.layers:
        if isinstance(spec, FramingLayer):
            layers.append(Layer("framing", LayerKind.FRAMING, spec.stock, 0.0, depth))
        elif isinstance(spec, SheathingLayer):
            thickness = catalog.sheet(spec.product).thickness
            barrier = Barrier(spec.barrier)
            if spec is assembly.outer_sheathing:
                layers.append(
                    Layer("outer sheathing", LayerKind.SHEATHING, spec.product, depth, depth + thickness, barrier)
                )
            else:
                layers.append(
                    Layer("inner sheathing", LayerKind.SHEATHING, spec.product, inner - thickness, inner, barrier)
                )
                inner -= thickness
        else:
            thickness = catalog.stock(spec.stock).thickness
            layers.append(Layer("strapping", LayerKind.STRAPPING, spec.stock, inner - thickness, inner))
            inner -= thickness
    return tuple(layers)


def storeys_above(spec: HouseSpec, level: Level) -> int:
    """How many floors stand on the walls of `level`."""
    return sum(1 for other in spec.levels if other.has_floor and other.base > level.base)


def plan_walls(
    spec: HouseSpec, level: Level, catalog: Catalog, tops: Mapping[str, tuple[Point2, ...]] | None = None
) -> tuple[PlanWall, ...]:
    """The walls of one level in spec order: outlines first, then wall lines.

    `tops` are the tops of walls whose height follows from the roof, as points (along the wall, height), mm.
    """
    walls: list[PlanWall] = []
    for outline in level.outlines:
        corners = outline.corners
        ends = (*corners[1:], corners[0]) if outline.closed else corners[1:]
        for number, (corner, following) in enumerate(zip(corners, ends, strict=False)):
            wall = _outline_wall(spec, level, catalog, outline, corner, following, number)
            walls.append(replace(wall, top=(tops or {}).get(wall.id, wall.top)))
    walls.extend(_line_wall(spec, level, catalog, line, len(walls) + n) for n, line in enumerate(level.walls))
    return tuple(walls)


def _outline_wall(
    spec: HouseSpec, level: Level, catalog: Catalog, outline: Outline, corner: Corner, following: Corner, number: int
) -> PlanWall:
    assembly = spec.assemblies[corner.assembly or outline.assembly]
    origin, direction, length = _segment(corner.at, following.at)
    # Every second wall of an outline runs through at both ends: opposite walls match.
    rank = _rank(corner, exterior=True, parity=1 - number % 2, length=length, order=number)
    return PlanWall(
        corner.wall,
        level,
        assembly,
        layer_stack(assembly, catalog),
        origin,
        direction,
        length,
        corner.top(level, length),
        True,
        True if corner.bearing is None else corner.bearing,
        rank,
    )


def _line_wall(spec: HouseSpec, level: Level, catalog: Catalog, line: WallLine, order: int) -> PlanWall:
    assembly = spec.assemblies[line.assembly]
    layers = layer_stack(assembly, catalog)
    origin, direction, length = _segment(line.start, line.end)
    if line.along == "center":
        half = catalog.stock(assembly.framing.stock).width / 2
        origin = (origin[0] + direction[1] * half, origin[1] - direction[0] * half)
    rank = _rank(line, exterior=line.exterior, parity=0, length=length, order=order)
    bearing = line.exterior if line.bearing is None else line.bearing
    return PlanWall(
        line.wall,
        level,
        assembly,
        layers,
        origin,
        direction,
        length,
        line.top(level, length),
        line.exterior,
        bearing,
        rank,
    )


def _rank(options: Corner | WallLine, *, exterior: bool, parity: int, length: float, order: int) -> tuple[float, ...]:
    wish = {"through": 1.0, "auto": 0.0, "butt": -1.0}[options.ends]
    return (wish, float(exterior), float(parity), round(length, 3), -float(order))


def _segment(start: Point2, end: Point2) -> tuple[Point2, Point2, float]:
    run, rise = end[0] - start[0], end[1] - start[1]
    length = math.hypot(run, rise)
    return start, (run / length, rise / length), length
