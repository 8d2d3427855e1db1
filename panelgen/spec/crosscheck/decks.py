"""Floors and ceilings whose names point to nothing, whose outline is none, or whose openings are not in it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from panelgen.spec.crosscheck.survey import SHORTEST_WALL, TOLERANCE, Survey
from panelgen.spec.faults import Fault, unknown
from panelgen.spec.floors import DeckOpening, DeckSpec
from panelgen.spec.lines import Path
from panelgen.spec.walls import PlanPoint

__all__ = ["bad_decks"]

_Box = tuple[float, float, float, float]
"""Least x and y, greatest x and y."""


def bad_decks(survey: Survey) -> Iterator[Fault]:
    """Every floor and ceiling of the house."""
    for section, decks in (("floors", survey.house.floors), ("ceilings", survey.house.ceilings)):
        for n, deck in enumerate(decks):
            yield from _names(survey, (section, n), deck)
            yield from _beams(survey, (section, n), deck)
            yield from _shape(survey, (section, n), deck)


def _names(survey: Survey, path: Path, deck: DeckSpec) -> Iterator[Fault]:
    """Assemblies, walls and stock that there are not."""
    if deck.assembly not in survey.house.assemblies:
        yield unknown((*path, "assembly"), "assembly", deck.assembly, survey.house.assemblies)
    walls = dict.fromkeys(wall.id for wall in survey.drawn)
    for k, wall in enumerate(deck.bears_on):
        if wall not in walls:
            yield unknown((*path, "bears_on", k), "wall", wall, walls)
    for field, stock in (("rim", deck.rim), ("header", deck.header)):
        if stock is not None and stock not in survey.catalog.lumber:
            yield unknown((*path, field), "stock size", stock, survey.catalog.lumber)


def _beams(survey: Survey, path: Path, deck: DeckSpec) -> Iterator[Fault]:
    """Beams that have no length or run aslant, and ids that something else has."""
    taken = {wall.id for wall in survey.drawn}
    for k, beam in enumerate(deck.beams):
        wide, high = (abs(b - a) for a, b in zip(beam.start, beam.end, strict=True))
        if max(wide, high) < SHORTEST_WALL or min(wide, high) > TOLERANCE:
            words = f"beam {beam.id} runs neither along x nor along y"
            yield Fault((*path, "beams", k, "end"), words, "correct its start or end")
        if beam.id in taken:
            words = f"another beam of {deck.id}, or a wall, has this id"
            yield Fault((*path, "beams", k, "id"), words, "give each an id of its own", repr(beam.id))
        taken.add(beam.id)


def _shape(survey: Survey, path: Path, deck: DeckSpec) -> Iterator[Fault]:
    levels = {level.id: level for level in survey.house.levels}
    if deck.level not in levels:
        yield unknown((*path, "level"), "level", deck.level, levels)
        return
    ring = deck.ring(levels[deck.level])
    where = (*path, "outline") if deck.outline else (*path, "level")
    if not ring:
        words = f"level {deck.level} has not one closed outline to take the outline from"
        yield Fault(where, words, f"give {deck.id} an outline of its own")
        return
    faults = list(_ring_faults(where, ring))
    yield from faults
    if not faults:
        yield from _openings(survey, path, deck, ring)


def _ring_faults(path: Path, ring: Sequence[PlanPoint]) -> Iterator[Fault]:
    """An outline has four corners or more, all square, its sides along x and y, and does not meet itself."""
    if len(ring) < 4:
        yield Fault(path, f"an outline has at least 4 corners, and this one has {len(ring)}", "add the missing corners")
        return
    boxes: list[_Box] = []
    turned: list[int] = []
    for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], ring[0]), strict=True):
        wide, high = abs(xb - xa), abs(yb - ya)
        if max(wide, high) < SHORTEST_WALL:
            yield Fault(path, "two corners of the outline are the same point", "take one of the two out")
            return
        if min(wide, high) > TOLERANCE:
            yield Fault(path, "a side of the outline runs neither along x nor along y", "correct its corners")
            return
        boxes.append((min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)))
        turned.append(int(high > wide))
    if any(a == b for a, b in pairwise((*turned, turned[0]))):
        yield Fault(path, "a corner of the outline is not square", "take out corners in the middle of a side")
        return
    count = len(boxes)
    for i in range(count):
        for j in range(i + 2, count - (i == 0)):
            if _meet(boxes[i], boxes[j]):
                yield Fault(path, "the outline crosses or touches itself", "list the corners in their order around it")
                return


def _openings(survey: Survey, path: Path, deck: DeckSpec, ring: Sequence[PlanPoint]) -> Iterator[Fault]:
    """Openings that leave the outline or overlap."""
    boxes = [_box(opening) for opening in deck.openings]
    for k, (opening, box) in enumerate(zip(deck.openings, boxes, strict=True)):
        if not _holds(ring, box):
            words = f"opening {opening.id} is not wholly inside the outline of {deck.id}"
            yield Fault((*path, "openings", k, "at"), words, "move it, or make it smaller", survey.text(opening.at[0]))
        for other, there in zip(deck.openings[:k], boxes[:k], strict=True):
            if _meet(_shrunk(box), _shrunk(there)):
                words = f"opening {opening.id} overlaps opening {other.id}"
                yield Fault((*path, "openings", k, "at"), words, "move one of the two", survey.text(opening.at[0]))
                break


def _box(opening: DeckOpening) -> _Box:
    (x, y), (wide, long) = opening.at, opening.size
    return (x, y, x + wide, y + long)


def _shrunk(box: _Box) -> _Box:
    return (box[0] + TOLERANCE, box[1] + TOLERANCE, box[2] - TOLERANCE, box[3] - TOLERANCE)


def _meet(one: _Box, other: _Box) -> bool:
    return all(one[axis] <= other[axis + 2] and other[axis] <= one[axis + 2] for axis in (0, 1))


def _holds(ring: Sequence[PlanPoint], box: _Box) -> bool:
    """True where no side of the outline comes into the box, and its middle is inside."""
    inner = _shrunk(box)
    sides = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    for (xa, ya), (xb, yb) in sides:
        if _meet((min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)), inner):
            return False
    x, y = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    to_the_left = sum(xa < x and min(ya, yb) < y < max(ya, yb) for (xa, ya), (_, yb) in sides)
    return to_the_left % 2 == 1
