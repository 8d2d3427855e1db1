"""Roof trusses that a supplier makes: items with a place and a mass, whose design stays with their engineer."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.geometry.frames import Frame, Point2
from panelgen.model.why import Why

__all__ = ["Truss"]


@dataclass(frozen=True, slots=True)
class Truss:
    """One truss, mm and kg. `row` is the id of the equal ones beside it, `bearings` the walls it stands on.

    `frame` is in the house: x along the span from the outer framing face of the first wall, y up from the
    plates, z along the row. `outline` is its outside in (x, y), counter-clockwise; `bracing_rows` are the
    rows of lateral bracing that its engineer asks for.
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
    why: Why
