"""Beams and foundation walls that carry floor panels, which no panel of the house is."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Bearing"]


@dataclass(frozen=True, slots=True)
class Bearing:
    """What the top of a beam takes up under a panel, panel coordinates, mm; `beam` is its id in the spec."""

    beam: str
    x0: float
    x1: float
    y0: float
    y1: float
