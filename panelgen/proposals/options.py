"""One thing to try, and how it is said."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.geometry.frames import Vec3
from panelgen.model import Change
from panelgen.units import format_length

__all__ = ["Option", "ways"]

_LEAST = 1e-6
_SENSES = (
    ("toward the start of the wall", "toward the end of the wall"),
    ("down", "up"),
    ("toward the room", "toward the weather side"),
)


@dataclass(frozen=True, slots=True)
class Option:
    """Changes of the spec with the words for them.

    `distance` is how far anything moves, mm, going into another layer counted as farther; `points` how many
    points change.
    """

    distance: float
    points: int
    changes: tuple[Change, ...]
    words: str

    @property
    def parts(self) -> int:
        """How many runs, boxes and sleeves move."""
        return len({change.path[:2] for change in self.changes})


def ways(step: Vec3, unit: str) -> str:
    """A step in panel coordinates in words: ``12.7 mm up``, in the unit of the spec."""
    parts = (
        f"{format_length(abs(length), unit)} {senses[length > 0]}"
        for length, senses in zip(step, _SENSES, strict=True)
        if abs(length) > _LEAST
    )
    return " and ".join(parts)
