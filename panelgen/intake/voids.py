"""Openings measured in the walls they stand in, wherever the model says they belong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely

from panelgen.geometry.frames import Floats
from panelgen.intake.elevations import Gap
from panelgen.intake.lengths import written
from panelgen.intake.openings import ModelOpening
from panelgen.intake.records import Left, NotTakenError
from panelgen.intake.specwalls import SpecWall
from panelgen.intake.walls import ModelWall

__all__ = ["Void", "find_voids"]

_RECTANGLE = 0.97
"""Least share of its rectangle that a rectangular opening fills."""

_THROUGH = 0.75
"""Least share of the wall's thickness that an opening goes through; less is a recess."""

_HOLE = 200.0
"""A bare opening under this width or height (mm) is a hole for services. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Void:
    """An opening in a wall: its index, and the extents along the model wall and above its foot, mm.

    `unit` is the (width, height) that the model gives the window or door in it, 0 where it gives none.
    """

    kind: str
    name: str
    guid: str
    unit: tuple[float, float]
    wall: int
    place: Gap
    notes: tuple[str, ...] = ()


def find_voids(
    openings: Iterable[ModelOpening], walls: Sequence[SpecWall], refused: Mapping[int, str]
) -> tuple[list[Void], list[Left]]:
    """Every opening that stands in one of `walls`, and every other with the reason.

    A window or door that fills no opening takes the bare opening, or the hole in a wall's body, that it
    stands in; a hole without one is a bare opening. `refused` gives, by element id, why a wall was not taken.
    """
    models = [wall.wood.model for wall in walls]
    hosts = {wall.solid.element.id(): n for n, wall in enumerate(models)}
    gaps = [(n, gap) for n, wall in enumerate(walls) for gap in wall.gaps]
    voids: list[Void] = []
    left: list[Left] = []
    for opening in openings:
        try:
            void = _measured(opening, models, hosts, refused)
        except NotTakenError as reason:
            left.append(Left(opening.kind, opening.name, opening.guid, str(reason)))
            continue
        gap = next((gap for n, gap in gaps if n == void.wall and _stands_in(void.place, gap)), None)
        if gap is not None:
            gaps.remove((void.wall, gap))
            void = replace(void, place=gap)
        if opening.is_void or (bare := _bare_around(void, voids)) is None:
            voids.append(void)
        else:
            voids[bare] = replace(void, place=voids[bare].place)
    wide = ((n, gap) for n, gap in gaps if min(gap.x1 - gap.x0, gap.y1 - gap.y0) >= _HOLE)
    voids.extend(_bare(models[n], n, gap) for n, gap in wide)
    return voids, left


def _measured(
    opening: ModelOpening, walls: Sequence[ModelWall], hosts: Mapping[int, int], refused: Mapping[int, str]
) -> Void:
    """The opening in its wall. Raises NotTakenError where it is in none, or is not an opening to frame."""
    named = None if opening.host is None else hosts.get(opening.host)
    notes: list[str] = []
    if named is not None and _inside(walls[named], opening.points):
        place = named
    else:
        found = next((n for n, wall in enumerate(walls) if _inside(wall, opening.points)), None)
        if found is None:
            reason = None if opening.host is None else refused.get(opening.host)
            raise NotTakenError(f"its wall was not taken: {reason}" if reason else "it is in no wall that was taken")
        place = found
        told = "links it to no opening" if opening.host is None else "names another wall for it"
        notes.append(f"the model {told}: found by its place; confirm")
    local = walls[place].frame.to_local(opening.points)
    if opening.is_void:
        notes.extend(_form(opening.kind, walls[place], local))
    (x0, y0), (x1, y1) = local.min(axis=0)[:2].tolist(), local.max(axis=0)[:2].tolist()
    box = Gap(x0, x1, y0, y1)
    return Void(opening.kind, opening.name, opening.guid, opening.unit, place, box, tuple(notes))


def _inside(wall: ModelWall, points: Floats) -> bool:
    """True where the middle of the points lies in the wall's body."""
    local = wall.frame.to_local(points)
    x, y, z = (local.min(axis=0) + local.max(axis=0)) / 2
    return bool(0 < x < wall.length and 0 < y < wall.height and abs(z) < wall.thickness / 2 + 1.0)


def _form(kind: str, wall: ModelWall, local: Floats) -> Iterator[str]:
    """Refuse recesses and service holes; remark on what is not rectangular. `local` is (n, 3) in the wall's frame."""
    low, high = local.min(axis=0), local.max(axis=0)
    half = wall.thickness / 2
    through = min(high[2], half) - max(low[2], -half)
    if through < _THROUGH * wall.thickness:
        raise NotTakenError(f"it does not go through the wall: {written(through)} of {written(wall.thickness)} mm")
    width, height = high[:2] - low[:2]
    if kind == "opening" and min(width, height) < _HOLE:
        size = f"{written(width)} × {written(height)} mm"
        raise NotTakenError(f"a hole for services, {size}: write it as a run with a sleeve")
    seen = shapely.convex_hull(shapely.multipoints(local[:, :2]))
    if seen.area < _RECTANGLE * width * height:
        if kind == "opening":
            raise NotTakenError("it is not rectangular and has no window or door: write it as a run with a sleeve")
        yield "not rectangular in the model: taken as the rectangle around it"


def _stands_in(unit: Gap, gap: Gap) -> bool:
    """True where `unit` covers more than half of `gap`."""
    width = min(gap.x1, unit.x1) - max(gap.x0, unit.x0)
    height = min(gap.y1, unit.y1) - max(gap.y0, unit.y0)
    return width > 0 and height > 0 and 2 * width * height > (gap.x1 - gap.x0) * (gap.y1 - gap.y0)


def _bare_around(unit: Void, voids: Sequence[Void]) -> int | None:
    """The index of the bare opening that a window or door stands in, though the model does not link the two."""
    for n, void in enumerate(voids):
        if void.kind == "opening" and void.wall == unit.wall and _stands_in(unit.place, void.place):
            return n
    return None


def _bare(wall: ModelWall, n: int, gap: Gap) -> Void:
    note = "cut from the wall's body, with no window or door in the model; confirm"
    return Void("opening", f"hole in {wall.name}", wall.guid, (0.0, 0.0), n, gap, (note,))
