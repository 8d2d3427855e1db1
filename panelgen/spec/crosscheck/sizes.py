"""Levels and walls of a size that no house has, levels in each other's way, gables that do not fit."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from panelgen.spec.crosscheck.survey import LONGEST_WALL, SHORTEST_WALL, TOLERANCE, Survey
from panelgen.spec.faults import Fault

__all__ = ["bad_gables", "bad_heights", "bad_lengths", "overlapping_levels"]

_HIGHEST = 12_000.0  # a wall above it, mm, is a slip of the pen
_CHECK_UNIT = "check the unit, and give {limit} or less"


def overlapping_levels(survey: Survey) -> Iterator[Fault]:
    """Each level with a floor stands on or above the top of the one below; walls without one may stand anywhere."""
    floors = [(n, level) for n, level in enumerate(survey.house.levels) if level.has_floor]
    ordered = sorted(floors, key=lambda numbered: numbered[1].base)
    for (_, below), (n, above) in pairwise(ordered):
        top = below.base + below.height
        if above.base < top - TOLERANCE:
            words = f"level {above.id} starts below the top of level {below.id}, which is at {survey.text(top)}"
            remedy = f"raise its elevation to {survey.text(top)} or more, or lower the height of level {below.id}"
            yield Fault(("levels", n, "elevation"), words, remedy, survey.text(above.base))


def bad_heights(survey: Survey) -> Iterator[Fault]:
    """No level and no wall is higher than any house."""
    remedy = _CHECK_UNIT.format(limit=survey.text(_HIGHEST))
    for n, level in enumerate(survey.house.levels):
        if level.height > _HIGHEST:
            yield Fault(("levels", n, "height"), "this level is too high", remedy, survey.text(level.height))
    for wall in survey.drawn:
        height = max(y for _, y in wall.top)
        field = "gable" if wall.options.gable else "height"
        if height > _HIGHEST and (wall.options.gable or wall.options.height):
            yield Fault((*wall.path, field), "this wall is too high", remedy, survey.text(height))


def bad_lengths(survey: Survey) -> Iterator[Fault]:
    """No wall without length, none longer than any house."""
    for wall in survey.drawn:
        end = "start" if wall.path[-2] == "walls" else "at"
        if wall.length < SHORTEST_WALL:
            remedy = "take one of the two points out, or correct it" if end == "at" else "correct its start or end"
            yield Fault((*wall.path, end), f"wall {wall.id} has no length: its two ends are the same point", remedy)
        elif wall.length > LONGEST_WALL:
            remedy = _CHECK_UNIT.format(limit=survey.text(LONGEST_WALL))
            yield Fault((*wall.path, end), f"wall {wall.id} is too long", remedy, survey.text(wall.length))


def bad_gables(survey: Survey) -> Iterator[Fault]:
    """A gable replaces the wall's height, and its peak is over the wall."""
    for wall in survey.walls.values():
        gable = wall.options.gable
        if gable is None:
            continue
        if wall.options.height is not None:
            words = "a wall with a gable takes its height from the gable's eave"
            yield Fault((*wall.path, "height"), words, "leave the height out", survey.text(wall.options.height))
        if gable.peak is not None and gable.peak > wall.length + TOLERANCE:
            words = f"the peak is beyond the end of wall {wall.id}, which is {survey.text(wall.length)} long"
            remedy = "measure it from the start of the wall, or leave it out for a peak in the middle"
            yield Fault((*wall.path, "gable", "peak"), words, remedy, survey.text(gable.peak))
