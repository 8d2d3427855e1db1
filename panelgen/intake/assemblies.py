"""Which wood assembly stands for a wall of the model, and where its framing lies in the model's body."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.intake.lengths import tenth, written
from panelgen.intake.records import NotTakenError
from panelgen.intake.walls import ModelWall

__all__ = ["BOARD", "SHEATHING", "STRAPS", "Fit", "Stack", "fit", "stacks"]

SHEATHING = "osb-7/16"
STRAPS = "2x3"
BOARD = "gypsum-1/2"
"""Products of the assemblies written: both sheathings, strapping, and the board a wall may wear in the model."""

_EXTERIOR = ("2x4", "2x6", "2x8")
_INTERIOR = ("2x3", "2x4", "2x6", "2x8")

_FINISH = 40.0
"""A wall thinner than this (mm) is a finish. Common practice, no source: no framing is that thin."""

_NOTICE = 30.0
"""A difference between model and assembly beyond boards of finish (mm) that a person should hear about."""


@dataclass(frozen=True, slots=True)
class Stack:
    """A wood assembly by depths, mm: framing, what lies outside it, and what lies inside it."""

    name: str
    exterior: bool
    stock: str
    framing: float
    outside: float = 0.0
    inside: float = 0.0

    @property
    def thickness(self) -> float:
        """All its layers, mm."""
        return self.outside + self.framing + self.inside


@dataclass(frozen=True, slots=True)
class Fit:
    """The assembly chosen for a wall; `offset` is how far right of the body's middle its framing's middle lies, mm."""

    stack: Stack
    offset: float
    note: str


def stacks(catalog: Catalog) -> tuple[Stack, ...]:
    """The assemblies that walls are matched with, thinnest first within exterior and interior."""
    sheathing = catalog.sheet(SHEATHING).thickness
    inside = sheathing + catalog.stock(STRAPS).thickness
    exterior = (Stack(f"exterior-{s}", True, s, catalog.stock(s).width, sheathing, inside) for s in _EXTERIOR)
    interior = (Stack(f"interior-{s}", False, s, catalog.stock(s).width) for s in _INTERIOR)
    return (*exterior, *interior)


def fit(wall: ModelWall, exterior: bool, choices: tuple[Stack, ...], board: float) -> Fit:
    """Choose the assembly for a wall whose right side, if it is exterior, is the weather side.

    A stud layer named in the model decides by its depth and place. A masonry wall gets the thickest
    assembly. Otherwise the best match of total thickness counts, with the fewest boards of `board` mm: up to
    two on an interior wall and one on an exterior one. Raises NotTakenError for a finish or a concrete wall.
    """
    makeup = wall.makeup
    if wall.thickness < _FINISH:
        raise NotTakenError(f"a finish, not a framed wall: only {written(wall.thickness)} mm thick")
    if makeup.is_concrete:
        raise NotTakenError(f"concrete, not a wood panel; material in the model: {makeup.words}")
    own = [stack for stack in choices if stack.exterior == exterior]
    core = makeup.core
    boards = range(2 if exterior else 3)
    if core is not None:
        stack = min(own, key=lambda s: abs(s.framing - core.thickness))
    elif makeup.is_masonry:
        stack = max(own, key=lambda s: s.thickness)
    else:
        _, _, stack = min(
            ((tenth(abs(s.thickness + n * board - wall.thickness)), n, s) for n in boards for s in own),
            key=lambda match: match[:2],
        )
    offset = wall.thickness / 2 - stack.outside - stack.framing / 2 if exterior else 0.0
    if core is not None and core.middle is not None:
        offset = core.middle
    return Fit(stack, offset, _note(wall, stack, board * boards[-1]))


def _note(wall: ModelWall, stack: Stack, boards: float) -> str:
    """What to confirm about the match; empty where it is close and the material is not masonry."""
    if wall.makeup.is_masonry:
        return "masonry in the model, see its assembly; confirm"
    spare = wall.thickness - stack.thickness
    if -_NOTICE / 2 < spare < boards + _NOTICE:
        return ""
    return f"{written(wall.thickness)} mm thick in the model, {written(stack.thickness)} mm as {stack.name}; confirm"
