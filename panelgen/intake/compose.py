"""The house spec made of what was read, as plain data: levels with wall lines, assemblies, units, openings."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

from panelgen.geometry.frames import Point2
from panelgen.intake.assemblies import SHEATHING, STRAPS, Stack
from panelgen.intake.fittings import Fitting
from panelgen.intake.lengths import tenth
from panelgen.intake.names import house_name
from panelgen.intake.source import Model
from panelgen.intake.specwalls import SpecWall, bearing_is_doubted
from panelgen.intake.storeys import Floor, is_standing
from panelgen.spec import Shop

__all__ = ["compose"]

_SNOW = "30 psf"
"""Written as a placeholder that a person must confirm."""

_SPACING = "24 in"
_FAR = 1e6
_SHIFT = 1000.0
"""A model that lies farther than `_FAR` (mm) from its origin is moved by whole multiples of `_SHIFT`."""

_RUN = 1000.0


def compose(
    model: Model, levels: Sequence[Floor], walls: Sequence[SpecWall], fittings: Sequence[Fitting]
) -> tuple[dict[str, Any], Point2]:
    """The spec's data, lengths in mm, and the plan point of the model that is its origin, mm."""
    origin = _origin([point for wall in walls for point in wall.wood.ends])
    outline = [wall for wall in walls if wall.wood.exterior] or walls
    used = {wall.wood.fit.stack.name: wall.wood.fit.stack for wall in walls}
    return {
        "panelgen": 1,
        "house": house_name(*_names(model), model.path.stem),
        "unit": "mm",
        "design": {"ground_snow": _SNOW, "building_width": _width([p for wall in outline for p in wall.wood.ends])},
        "shop": {"line_length": Shop().line_length, "line_height": Shop().line_height},
        "assemblies": {name: {"layers": _layers(used[name])} for name in sorted(used)},
        "levels": [_level(floor, [walls[n] for n in floor.walls], origin) for floor in levels],
        "unit_types": {f.opening.type: f.unit.model_dump(exclude_defaults=True) for f in fittings},
        "openings": [f.opening.model_dump(exclude_none=True) for f in fittings],
    }, origin


def _names(model: Model) -> list[str]:
    """What the project and its buildings are called."""
    return [
        str(name)
        for element in (*model.file.by_type("IfcProject"), *model.file.by_type("IfcBuilding"))
        for name in (getattr(element, "LongName", None), element.Name)
        if name
    ]


def _origin(points: Iterable[Point2]) -> Point2:
    low = tuple(min(values) for values in zip(*points, strict=True))
    if max(map(abs, low)) < _FAR:
        return (0.0, 0.0)
    return (math.floor(low[0] / _SHIFT) * _SHIFT, math.floor(low[1] / _SHIFT) * _SHIFT)


def _width(points: Iterable[Point2]) -> float:
    """The shorter side of the house in plan, mm, and never nothing: one straight wall has none."""
    sides = sorted(max(values) - min(values) for values in zip(*points, strict=True))
    return tenth(next((side for side in sides if side >= _SHIFT), _SHIFT))


def _layers(stack: Stack) -> list[dict[str, Any]]:
    framing = {"layer": "framing", "stock": stack.stock, "spacing": _SPACING}
    if not stack.exterior:
        return [{**framing, "insulation": None}]
    outer = {"layer": "sheathing", "product": SHEATHING, "barrier": "weather"}
    inner = {"layer": "sheathing", "product": SHEATHING, "barrier": "air"}
    return [outer, framing, inner, {"layer": "strapping", "stock": STRAPS}]


def _level(floor: Floor, walls: Sequence[SpecWall], origin: Point2) -> dict[str, Any]:
    doubted = bearing_is_doubted(walls)
    lines = [_line(wall, floor, origin, doubted) for wall in walls]
    head = {"id": floor.id, "elevation": floor.elevation, "height": floor.height}
    return {**head, **({} if floor.has_floor else {"has_floor": False}), "walls": lines}


def _line(wall: SpecWall, floor: Floor, origin: Point2, doubted: bool) -> dict[str, Any]:
    wood = wall.wood
    start, end = ([tenth(at - by) for at, by in zip(point, origin, strict=True)] for point in wood.ends)
    data: dict[str, Any] = {"wall": wall.id, "assembly": wood.fit.stack.name, "start": start, "end": end}
    if wood.exterior:
        data |= {"exterior": True, "along": wood.along}
    stated = wood.model.bearing
    if stated is not None and stated != wood.exterior and not (doubted and wood.exterior and is_standing(wood.model)):
        data["bearing"] = stated
    if wall.top.slope:
        rise = {"eave": tenth(wall.top.eave), "rise": tenth(wall.top.slope * _RUN), "run": _RUN}
        data["gable"] = {**rise, "peak": min(tenth(wall.top.peak), math.floor(math.dist(start, end) * 10) / 10)}
    elif (height := tenth(wall.top.height + wood.model.solid.base - floor.elevation)) != floor.height:
        data["height"] = height
    return data
