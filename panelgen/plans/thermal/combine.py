"""Thermal resistance of a component of several sections, m2 K/W: upper and lower limit, combined, and U.

A component is layers, surfaces among them, each the same resistance everywhere or different from section to section.
Source: ISO 6946, combined method. Its upper limit is what the parallel-path method takes for the whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum

from panelgen.errors import BadValueError

__all__ = ["Limits", "Section", "limits"]

_WHOLE = 1e-9


@dataclass(frozen=True, slots=True)
class Section:
    """A share of the area, and the resistance of every layer there, from one surface to the other."""

    share: float
    resistances: tuple[float, ...]

    @property
    def total(self) -> float:
        """The resistance through this section alone."""
        return fsum(self.resistances)


@dataclass(frozen=True, slots=True)
class Limits:
    """`upper`: heat keeps to its section. `lower`: every layer is at one temperature over the whole area."""

    upper: float
    lower: float

    @property
    def resistance(self) -> float:
        """The mean of both limits, by the combined method."""
        return (self.upper + self.lower) / 2

    @property
    def transmittance(self) -> float:
        """U by the combined method, W/(m2 K)."""
        return 1 / self.resistance

    @property
    def parallel_transmittance(self) -> float:
        """U by parallel paths, W/(m2 K)."""
        return 1 / self.upper


def limits(sections: Sequence[Section]) -> Limits:
    """Both limits of a component.

    Two sections of 0.905 and 0.095 with 3.971 and 1.715 m2 K/W give an upper limit of 3.530. Raises BadValueError
    unless the shares add up to 1 and all sections have the same layers.
    """
    if not sections or abs(fsum(section.share for section in sections) - 1.0) > _WHOLE:
        raise BadValueError("the shares of the sections do not add up to 1", "give every part of the area a section")
    if len({len(section.resistances) for section in sections}) != 1:
        raise BadValueError("the sections differ in their layers", "give every section a resistance for every layer")
    upper = 1 / fsum(section.share / section.total for section in sections)
    layers = zip(*(section.resistances for section in sections), strict=True)
    lower = fsum(
        1 / fsum(section.share / resistance for section, resistance in zip(sections, layer, strict=True))
        if min(layer) > 0.0
        else 0.0
        for layer in layers
    )
    return Limits(upper, lower)
