"""Windows, doors and bare openings of the model, measured in the wall they stand in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import shapely

from panelgen.geometry.frames import Floats
from panelgen.intake.bodies import read_body
from panelgen.intake.elevations import Gap
from panelgen.intake.lengths import written
from panelgen.intake.records import Left, NotTakenError
from panelgen.intake.source import Model
from panelgen.intake.specwalls import SpecWall
from panelgen.intake.walls import ModelWall

__all__ = ["Void", "find_openings"]

_RECTANGLE = 0.97
"""Least share of its rectangle that a rectangular opening fills."""

_THROUGH = 0.75
"""Least share of the wall's thickness that an opening goes through; less is a recess."""

_HOLE = 200.0
"""A bare opening under this width or height (mm) is a hole for services. Common practice, no source."""

_KINDS = {"IfcWindow": "window", "IfcDoor": "door"}


@dataclass(frozen=True, slots=True)
class Void:
    """An opening in a wall: extents along the model wall and above its foot, mm.

    `unit` is the (width, height) that the model gives the window or door in it, 0 where it gives none.
    """

    kind: str
    name: str
    guid: str
    wall: int
    x0: float
    x1: float
    y0: float
    y1: float
    unit: tuple[float, float]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Asked:
    """An opening as the model names it: the element with its shape, what fills it, and its host if that is a wall."""

    kind: str
    name: str
    guid: str
    shape: Any
    unit: tuple[float, float]
    host: Any


def find_openings(model: Model, walls: Sequence[SpecWall], refused: Mapping[int, str]) -> tuple[list[Void], list[Left]]:
    """Every opening that stands in one of `walls` (`wall` is its index), and every other with the reason.

    `refused` gives, by element id, why a wall was not taken.
    """
    voids: list[Void] = []
    left: list[Left] = []
    models = [wall.wood.model for wall in walls]
    hosts = {wall.solid.element.id(): n for n, wall in enumerate(models)}
    free = {n: list(wall.gaps) for n, wall in enumerate(walls) if wall.gaps}
    for asked in _asked(model):
        try:
            void = _measured(model, asked, models, hosts, free, refused)
        except NotTakenError as reason:
            left.append(Left(asked.kind, asked.name, asked.guid, str(reason)))
            continue
        bare = None if asked.host is not None else _bare_around(void, voids)
        if bare is None:
            voids.append(void)
        else:
            voids[bare] = replace(void, x0=voids[bare].x0, x1=voids[bare].x1, y0=voids[bare].y0, y1=voids[bare].y1)
    for n, gaps in sorted(free.items()):
        wide = (gap for gap in gaps if gap.x1 - gap.x0 >= _HOLE and gap.y1 - gap.y0 >= _HOLE)
        voids.extend(_bare_gap(models[n], n, gap) for gap in wide)
    return voids, left


def _asked(model: Model) -> Iterator[_Asked]:
    """Openings of walls in file order, then windows and doors that fill no opening."""
    for relation in model.file.by_type("IfcRelVoidsElement"):
        host, void = relation.RelatingBuildingElement, relation.RelatedOpeningElement
        filling = next((r.RelatedBuildingElement for r in void.HasFillings), None)
        unit = filling if filling is not None and _kind(filling) != "opening" else None
        if host.is_a("IfcWall") or unit is not None:
            named = void if unit is None else unit
            yield _Asked(_kind(named), str(named.Name or ""), void.GlobalId, void, _size(model, unit), host)
    for unit in (*model.file.by_type("IfcWindow"), *model.file.by_type("IfcDoor")):
        if not unit.FillsVoids:
            yield _Asked(_kind(unit), str(unit.Name or ""), unit.GlobalId, unit, _size(model, unit), None)


def _kind(element: Any) -> str:
    return next((kind for entity, kind in _KINDS.items() if element.is_a(entity)), "opening")


def _size(model: Model, unit: Any) -> tuple[float, float]:
    if unit is None:
        return (0.0, 0.0)
    return ((unit.OverallWidth or 0.0) * model.scale, (unit.OverallHeight or 0.0) * model.scale)


def _measured(
    model: Model,
    asked: _Asked,
    walls: Sequence[ModelWall],
    hosts: Mapping[int, int],
    free: dict[int, list[Gap]],
    refused: Mapping[int, str],
) -> Void:
    if asked.host is not None and not asked.host.is_a("IfcWall"):
        raise NotTakenError(f"it is in a {_plain(asked.host.is_a())}, not in a wall")
    points = read_body(model, asked.shape).points
    named = None if asked.host is None else hosts.get(asked.host.id())
    place = named if named is not None and _inside(walls[named], points) else None
    notes: list[str] = []
    if place is None:
        place = next((n for n, wall in enumerate(walls) if _inside(wall, points)), None)
        if place is None and asked.host is not None and asked.host.id() in refused:
            raise NotTakenError(f"its wall was not taken: {refused[asked.host.id()]}")
        if place is None:
            raise NotTakenError("it is in no wall that was taken")
        told = "links it to no opening" if asked.host is None else "names another wall for it"
        notes.append(f"the model {told}: found by its place; confirm")
    wall = walls[place]
    local = wall.frame.to_local(points)
    (x0, y0), (x1, y1) = local.min(axis=0)[:2], local.max(axis=0)[:2]
    if asked.shape.is_a("IfcOpeningElement"):
        notes.extend(_form(asked.kind, wall, local))
    gap = _matching(free.get(place, ()), Gap(x0, x1, y0, y1))
    if gap is not None:
        free[place].remove(gap)
        x0, x1, y0, y1 = gap.x0, gap.x1, gap.y0, gap.y1
    box = (float(x0), float(x1), float(y0), float(y1))
    return Void(asked.kind, asked.name, asked.guid, place, *box, asked.unit, tuple(notes))


def _plain(entity: str) -> str:
    """``IfcRoof`` as a word: ``roof``."""
    return entity.removeprefix("Ifc").removesuffix("StandardCase").lower()


def _inside(wall: ModelWall, points: Floats) -> bool:
    """True where the middle of the points lies in the wall's body."""
    local = wall.frame.to_local(points)
    x, y, z = (local.min(axis=0) + local.max(axis=0)) / 2
    return bool(0 < x < wall.length and 0 < y < wall.height and abs(z) < wall.thickness / 2 + 1.0)


def _form(kind: str, wall: ModelWall, local: Floats) -> Iterator[str]:
    """Refuse recesses and service holes; note what is not rectangular."""
    low, high = local.min(axis=0), local.max(axis=0)
    half = wall.thickness / 2
    through = min(high[2], half) - max(low[2], -half)
    if through < _THROUGH * wall.thickness:
        raise NotTakenError(f"it does not go through the wall: {written(through)} of {written(wall.thickness)} mm")
    width, height = high[:2] - low[:2]
    seen = shapely.convex_hull(shapely.multipoints(local[:, :2]))
    if kind == "opening" and min(width, height) < _HOLE:
        raise NotTakenError(
            f"a hole for services, {written(width)} × {written(height)} mm: write it as a run with a sleeve"
        )
    if seen.area < _RECTANGLE * width * height:
        if kind == "opening":
            raise NotTakenError("it is not rectangular and has no window or door: write it as a run with a sleeve")
        yield "not rectangular in the model: taken as the rectangle around it"


def _matching(gaps: Sequence[Gap], box: Gap) -> Gap | None:
    """The hole cut from the body that lies mostly in `box`."""
    for gap in gaps:
        width = min(gap.x1, box.x1) - max(gap.x0, box.x0)
        height = min(gap.y1, box.y1) - max(gap.y0, box.y0)
        if width > 0 and height > 0 and 2 * width * height > (gap.x1 - gap.x0) * (gap.y1 - gap.y0):
            return gap
    return None


def _bare_around(unit: Void, voids: Sequence[Void]) -> int | None:
    """The index of the bare opening that a window or door stands in, though the model does not link the two."""
    box = Gap(unit.x0, unit.x1, unit.y0, unit.y1)
    for n, void in enumerate(voids):
        is_bare = void.kind == "opening" and void.wall == unit.wall
        if is_bare and _matching([Gap(void.x0, void.x1, void.y0, void.y1)], box) is not None:
            return n
    return None


def _bare_gap(wall: ModelWall, n: int, gap: Gap) -> Void:
    note = "cut from the wall's body, with no window or door in the model; confirm"
    name = f"hole in {wall.name}"
    return Void("opening", name, wall.guid, n, gap.x0, gap.x1, gap.y0, gap.y1, (0.0, 0.0), (note,))
