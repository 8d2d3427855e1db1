"""Roof trusses that a supplier makes: items with a place and a mass, whose design stays with their engineer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from panelgen.geometry.frames import Frame, Point2
from panelgen.model.why import Why

__all__ = ["Truss", "truss_rows"]


@dataclass(frozen=True, slots=True)
class Truss:
    """One truss, mm and kg. `row` is the id of the equal ones beside it, `bearings` the walls it stands on.

    `frame` is in the house: x along the span from the outer framing face of the first wall, y up from the
    plates, z along the row, z = 0 in the middle of the truss. `outline` is its outside in (x, y),
    counter-clockwise; `bracing_rows` are the rows of lateral bracing that its engineer asks for. It is shown
    with chords `chord` deep and `thickness` thick: webs and true sizes are its supplier's. One of several `plies` is a
    girder, on which other trusses hang.
    """

    id: str
    row: str
    level: str
    frame: Frame
    outline: tuple[Point2, ...]
    span: float
    mass: float
    bearings: tuple[str, str]
    bracing_rows: int
    chord: float
    thickness: float
    why: Why
    plies: int = 1


def truss_rows(trusses: tuple[Truss, ...]) -> Iterator[tuple[Truss, ...]]:
    """The trusses of each row, as they stand one after another."""
    for _, row in groupby(trusses, key=lambda truss: truss.row):
        yield tuple(row)
