"""Sheathing pieces: a flat outline with cut-outs, cut from one stock sheet."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.geometry.frames import Frame, Point2
from panelgen.model.why import Why

__all__ = ["RoundHole", "Sheet"]


@dataclass(frozen=True, slots=True)
class RoundHole:
    """A round cut-out in sheet coordinates, mm, for the sleeve `sleeve`."""

    x: float
    y: float
    diameter: float
    sleeve: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """One piece of sheathing: `outline` less `cutouts` and `round_holes`, extruded by `thickness`.

    Outline and cut-outs are closed rings of (x, y) in the sheet's frame, mm, without the repeated
    first point; outlines run counter-clockwise. The frame's z axis points through the sheet toward
    the weather side. `density` is kg/m3.
    """

    id: str
    layer: str
    product: str
    stock_size: tuple[float, float]
    thickness: float
    density: float
    outline: tuple[Point2, ...]
    frame: Frame
    why: Why
    cutouts: tuple[tuple[Point2, ...], ...] = ()
    round_holes: tuple[RoundHole, ...] = ()
    mark: str = ""
    loose: bool = False
