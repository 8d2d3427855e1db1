"""Openings that do not fit their wall, or stand in each other's way."""

from __future__ import annotations

from collections.abc import Iterator
from heapq import heappop, heappush

from panelgen.spec.crosscheck.survey import TOLERANCE, Survey, Wall
from panelgen.spec.faults import Fault

__all__ = ["bad_openings", "missing_sills", "overlapping_openings"]

_Box = tuple[float, float, float, float]


def missing_sills(survey: Survey) -> Iterator[Fault]:
    """A window says how high it sits."""
    for n, opening in enumerate(survey.house.openings):
        unit = survey.house.unit_types.get(opening.type)
        if unit is not None and unit.kind == "window" and opening.sill is None:
            remedy = "give the height of the rough opening's bottom above the bottom of the wall"
            yield Fault(("openings", n, "sill"), f"window {opening.id} has no sill height", remedy)


def bad_openings(survey: Survey) -> Iterator[Fault]:
    """Rough openings wider than their wall, beyond its ends or above its top."""
    for n, wall, box in _rough_openings(survey):
        left, _, right, top = box
        length = survey.text(wall.length)
        if right - left > wall.length + TOLERANCE:
            words = f"the rough opening is wider than wall {wall.id}, which is {length} long"
            yield Fault(
                ("openings", n, "type"), words, "choose a narrower unit, or a longer wall", survey.text(right - left)
            )
            continue
        if left < -TOLERANCE or right > wall.length + TOLERANCE:
            words = f"the rough opening goes beyond the ends of wall {wall.id}, which is {length} long"
            span = f"{survey.text(left)} to {survey.text(right)}"
            yield Fault(("openings", n, "center"), words, "move its center, measured from the start of the wall", span)
        room = min(wall.top_at(left), wall.top_at(right))
        if top > room + TOLERANCE:
            words = f"the rough opening goes above the top of wall {wall.id}, which is at {survey.text(room)} there"
            field = "type" if survey.house.openings[n].sill is None else "sill"
            yield Fault(("openings", n, field), words, "lower its sill, or choose a lower unit", survey.text(top))


def overlapping_openings(survey: Survey) -> Iterator[Fault]:
    """Two rough openings in the same place; each opening is named once, with one that it overlaps."""
    by_wall: dict[str, list[tuple[int, _Box]]] = {}
    for n, wall, box in _rough_openings(survey):
        by_wall.setdefault(wall.id, []).append((n, box))
    openings = survey.house.openings
    for numbered in by_wall.values():
        beside: list[tuple[float, int, _Box]] = []  # a heap by right end: what reaches past the left end of the next
        for n, box in sorted(numbered, key=lambda one: (one[1][0], one[0])):
            while beside and beside[0][0] <= box[0] + TOLERANCE:
                heappop(beside)
            hit = next((m for _, m, other in beside if _overlap(box, other)), None)
            if hit is not None:
                words = f"opening {openings[n].id} overlaps opening {openings[hit].id}, clearances included"
                yield Fault(("openings", n, "center"), words, "move one of the two", survey.text(openings[n].center))
            heappush(beside, (box[2], n, box))


def _rough_openings(survey: Survey) -> Iterator[tuple[int, Wall, _Box]]:
    """Number, wall and rough opening (left, bottom, right, top) of each opening that names a wall and a unit type."""
    for n, opening in enumerate(survey.house.openings):
        wall = survey.walls.get(opening.wall) or survey.fronts.get(opening.wall)
        unit = survey.house.unit_types.get(opening.type)
        if wall is not None and unit is not None:
            yield n, wall, opening.rough_opening(unit)


def _overlap(one: _Box, other: _Box) -> bool:
    return all(one[axis] < other[axis + 2] - TOLERANCE and other[axis] < one[axis + 2] - TOLERANCE for axis in (0, 1))
