"""What an import brings back: the spec text, what was taken, and what was left with the reason."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.errors import IntakeError

__all__ = ["Counts", "Intake", "Left", "NotTakenError", "Taken"]


class NotTakenError(IntakeError):
    """One element of the model cannot come through; the message is the reason a person reads."""


@dataclass(frozen=True, slots=True)
class Left:
    """An element that did not come through.

    `kind` is ``wall``, ``curtain wall``, ``window``, ``door`` or ``opening``.
    """

    kind: str
    name: str
    guid: str
    reason: str


@dataclass(frozen=True, slots=True)
class Taken:
    """An element that came through as `id` in the spec; `notes` are what a person should confirm."""

    id: str
    name: str
    guid: str
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Counts:
    """How many walls and openings the model has, and how many came through."""

    walls: int
    walls_taken: int
    openings: int
    openings_taken: int


@dataclass(frozen=True, slots=True)
class Intake:
    """A house spec made from a model: `spec_text` is the YAML to save, edit and load."""

    spec_text: str
    taken_walls: tuple[Taken, ...]
    taken_openings: tuple[Taken, ...]
    left: tuple[Left, ...]

    @property
    def counts(self) -> Counts:
        """Totals over what was taken and what was left; curtain walls are not counted as walls."""
        left_walls = sum(1 for item in self.left if item.kind == "wall")
        left_openings = sum(1 for item in self.left if item.kind in ("window", "door", "opening"))
        walls, openings = len(self.taken_walls), len(self.taken_openings)
        return Counts(walls + left_walls, walls, openings + left_openings, openings)
