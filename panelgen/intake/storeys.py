"""Levels of the spec: the model's storeys, each divided by the height at which its walls really stand."""

from __future__ import annotations

import math
import re
import string
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any

from panelgen.intake.lengths import tenth
from panelgen.intake.records import NotTakenError
from panelgen.intake.source import Model, foreign_data
from panelgen.intake.walls import ModelWall

__all__ = ["Floor", "Storey", "floors", "is_standing", "storeys_of"]

_SAME = 1.0
"""Elevations within this (mm) are one."""

_STANDING = 1800.0
"""Walls lower than this (mm) are parapets, bulkheads or spandrels: no floor rests on walls below for their sake."""

_LONGEST_ID = 3


@dataclass(frozen=True, slots=True)
class Storey:
    """A storey of the model: its name and the elevation of its placement, mm."""

    name: str
    elevation: float


@dataclass(frozen=True, slots=True)
class Floor:
    """One level of the spec, mm, and the walls (indices) that stand on it."""

    id: str
    storey: Storey
    elevation: float
    height: float
    has_floor: bool
    walls: tuple[int, ...]

    @property
    def above(self) -> float:
        """How far the walls stand above the storey's own elevation, mm."""
        return self.elevation - self.storey.elevation


def storeys_of(model: Model, walls: Sequence[ModelWall]) -> tuple[Storey, ...]:
    """The storey of each wall: the one that contains it, else the highest that is not above its foot."""
    by_id = {}
    for element in model.file.by_type("IfcBuildingStorey"):
        with suppress(NotTakenError):
            by_id[element.id()] = _storey(model, element)
    rising = sorted(set(by_id.values()), key=lambda storey: (storey.elevation, storey.name))
    return tuple(_storey_of(wall, by_id, rising) for wall in walls)


def floors(walls: Sequence[ModelWall], storeys: Sequence[Storey]) -> tuple[Floor, ...]:
    """Group walls by storey elevation and foot, lowest first.

    The feet that most walls of a storey share are its level; the others become levels of their own
    that carry no floor, because every wall of a level stands on the level's elevation.
    """
    order = sorted(range(len(walls)), key=lambda n: storeys[n].elevation)
    result: list[Floor] = []
    ids: set[str] = set()
    for of_storey in _runs(order, lambda n: storeys[n].elevation):
        storey = storeys[of_storey[0]]
        of_storey.sort(key=lambda n: walls[n].solid.base)
        by_foot = sorted(_runs(of_storey, lambda n: walls[n].solid.base), key=len, reverse=True)
        for rank, group in enumerate(by_foot):
            elevation = tenth(walls[group[0]].solid.base)
            heights = [tenth(walls[n].solid.top - elevation) for n in group]
            height = max(Counter(heights).items(), key=lambda item: (item[1], item[0]))[0]
            name = _level_id(storey.name, rank, ids)
            has_floor = rank == 0 and any(is_standing(walls[n]) for n in group)
            result.append(Floor(name, storey, elevation, height, has_floor, tuple(sorted(group))))
    return _apart(sorted(result, key=lambda floor: floor.elevation))


def is_standing(wall: ModelWall) -> bool:
    """True for a wall of storey height, False for a parapet, bulkhead or spandrel."""
    return wall.height >= _STANDING


def _apart(rising: Sequence[Floor]) -> tuple[Floor, ...]:
    """The levels, none with a floor higher than the next with a floor: its taller walls give their own height."""
    with_floor = [floor.elevation for floor in rising if floor.has_floor]
    return tuple(
        replace(floor, height=min([floor.height, *(at - floor.elevation for at in with_floor if at > floor.elevation)]))
        if floor.has_floor
        else floor
        for floor in rising
    )


def _storey(model: Model, element: Any) -> Storey:
    with foreign_data():
        placed = element.ObjectPlacement is not None
        elevation = model.placement(element)[2, 3] if placed else (element.Elevation or 0.0) * model.scale
        if not math.isfinite(elevation):
            raise NotTakenError("its elevation is not finite")
        return Storey(str(element.Name or ""), tenth(elevation))


def _storey_of(wall: ModelWall, by_id: dict[int, Storey], rising: Sequence[Storey]) -> Storey:
    from ifcopenshell.util.element import get_container

    with suppress(NotTakenError), foreign_data():
        container = get_container(wall.solid.element, ifc_class="IfcBuildingStorey")
        if container is not None and container.id() in by_id:
            return by_id[container.id()]
    below = [storey for storey in rising if storey.elevation <= wall.solid.base + _SAME]
    if below:
        return below[-1]
    return rising[0] if rising else Storey("", tenth(wall.solid.base))


def _runs(order: Sequence[int], value: Callable[[int], float]) -> Iterator[list[int]]:
    """Stretches of `order`, which is sorted by `value`, in which neighbours differ by no more than `_SAME`."""
    run: list[int] = []
    for n in order:
        if run and value(n) - value(run[-1]) > _SAME:
            yield run
            run = []
        run.append(n)
    if run:
        yield run


def _level_id(name: str, rank: int, taken: set[str]) -> str:
    """A level id such as ``1``, ``RF`` or, for walls that stand elsewhere in the storey, ``1A``; unique."""
    words = re.findall(r"[A-Z]+|[0-9]+", name.upper())
    number = next((word.lstrip("0") or "0" for word in words if word.isdigit()), "")
    stem = (number or "".join(word[0] for word in words) or "L")[: _LONGEST_ID - 1]
    candidates = [stem] if rank == 0 else []
    candidates += [stem + letter for letter in string.ascii_uppercase]
    candidates += [f"{count:0{_LONGEST_ID}d}" for count in range(10**_LONGEST_ID)]
    found = next(candidate for candidate in candidates if candidate not in taken)
    taken.add(found)
    return found
