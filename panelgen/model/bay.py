"""Insulated bays: the voids left between framing members."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.geometry.frames import Point2
from panelgen.model.why import Why

__all__ = ["Bay"]


@dataclass(frozen=True, slots=True)
class Bay:
    """A void of constant depth. `outline` and `holes` are rings in panel (x, y), mm.

    Volumes are m3, `density` kg/m3; `net_volume` leaves out runs and boxes in the void.
    """

    id: str
    outline: tuple[Point2, ...]
    holes: tuple[tuple[Point2, ...], ...]
    z0: float
    z1: float
    gross_volume: float
    net_volume: float
    product: str
    density: float
    why: Why
    mark: str = ""

    @property
    def mass(self) -> float:
        """Target mass of insulation, kg."""
        return self.net_volume * self.density
