"""Shapes on a page. One drawing, made once, is what every writer renders.

Page coordinates are pixels at 96 to the inch, x to the right and y down from the upper left corner.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from panelgen.drawing.looks import Look
from panelgen.geometry.frames import Point2

__all__ = ["Anchor", "Area", "Disc", "Drawing", "Line", "Rectangle", "Shape", "Text", "beside"]

Anchor = Literal["start", "middle", "end"]

Rectangle = tuple[float, float, float, float]
"""Left, top, right and bottom."""


@dataclass(frozen=True, slots=True)
class Area:
    """An outline and the cut-outs in it, closed without a repeated first point; cut-outs turn the other way."""

    rings: tuple[tuple[Point2, ...], ...]
    look: Look


@dataclass(frozen=True, slots=True)
class Line:
    """An open line through `points`."""

    points: tuple[Point2, ...]
    look: Look


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle, filled or not as its look says."""

    centre: Point2
    radius: float
    look: Look


@dataclass(frozen=True, slots=True)
class Text:
    """One line of words with the middle of its height at `at`; `anchor` says which part of it stands there."""

    at: Point2
    words: str
    look: Look
    anchor: Anchor = "start"


Shape = Area | Line | Disc | Text


@dataclass(frozen=True, slots=True)
class Drawing:
    """A page of shapes, the first at the back. `title` names it, `alt` says in words what it shows."""

    width: float
    height: float
    shapes: tuple[Shape, ...]
    title: str
    alt: str


def beside(left: Drawing, right: Drawing, gap: float) -> Drawing:
    """Both drawings on one page, the title and words of the left one first."""
    moved = tuple(_moved(shape, left.width + gap) for shape in right.shapes)
    return Drawing(
        left.width + gap + right.width,
        max(left.height, right.height),
        left.shapes + moved,
        left.title,
        f"{left.alt} {right.alt}",
    )


def _moved(shape: Shape, dx: float) -> Shape:
    match shape:
        case Area(rings):
            return replace(shape, rings=tuple(_shifted(ring, dx) for ring in rings))
        case Line(points):
            return replace(shape, points=_shifted(points, dx))
        case Disc((x, y)):
            return replace(shape, centre=(x + dx, y))
        case Text((x, y)):
            return replace(shape, at=(x + dx, y))


def _shifted(points: Iterable[Point2], dx: float) -> tuple[Point2, ...]:
    return tuple((x + dx, y) for x, y in points)
