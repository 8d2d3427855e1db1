"""One face of a panel in rows of sheets: its stretches of neighbouring sheets, their joints, and the place of each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.intervals import overlap, subtract
from panelgen.design.sheathing.cutting import Cell
from panelgen.design.sheathing.faces import gap_of, lower_than
from panelgen.design.sheathing.joints import JointLine, Row, choose_joints, rows
from panelgen.model import Layer

__all__ = ["Facing", "Stretch", "cells_of", "stretches_of"]

_EPS = 1e-6


@dataclass(frozen=True, slots=True)
class Facing:
    """A face, or the part of one that is sheathed by itself: `span` of x, up to `height`, mm.

    `joined` says whether the wall goes on in another panel at its left and right end. `lines` gives the
    places for vertical joints of a row within a stretch, left to right.
    """

    brief: PanelBrief
    face: Layer
    span: Span
    height: float
    joined: tuple[bool, bool]
    lines: Callable[[Row, Span], Sequence[JointLine]]

    @property
    def half_gap(self) -> float:
        """What a sheet loses to the gap at a joint, mm."""
        return gap_of(self.brief, self.face) / 2

    def trims(self, stretch: Span) -> tuple[float, float, float]:
        """What sheets lose to the gap at the left end of a stretch, at each side of a joint, and at the right end."""
        half = self.half_gap
        left = half if self.joined[0] and stretch[0] <= self.span[0] + _EPS else 0.0
        right = half if self.joined[1] and stretch[1] >= self.span[1] - _EPS else 0.0
        return left, half, right


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of neighbouring sheets in one row: its span and the vertical joints in it."""

    row: Row
    number: int
    span: Span
    joints: tuple[JointLine, ...]


def stretches_of(facing: Facing, others: Sequence[Stretch]) -> list[Stretch]:
    """The rows of a face with their joints, which keep off those of `others` and of the row below."""
    brief, whole = facing.brief, facing.span
    placed: list[Stretch] = []
    for number, row in enumerate(rows(facing.height, brief.catalog.sheet(facing.face.product).sizes)):
        near = [one for one in placed if one.number == number - 1]
        near += [one for one in others if overlap((one.row.y0, one.row.y1), (row.y0, row.y1)) > 0]
        avoid = [joint.x for one in near for joint in one.joints]
        for span in subtract(whole, lower_than(brief, row.y0 + facing.half_gap, whole) if number else ()):
            lines = facing.lines(row, span)
            trims = facing.trims(span)
            joints = choose_joints(lines, span, row.widest, trims, avoid, brief.assembly.framing.spacing / 2)
            placed.append(Stretch(row, number, span, tuple(joints)))
    return placed


def cells_of(facing: Facing, prefix: str, stretches: Sequence[Stretch]) -> Iterator[Cell]:
    """The places of a face's sheets, bottom row first, left to right; ids begin with `prefix`."""
    brief, top = facing.brief, stretches[-1].number
    for stretch in stretches:
        left, half, right = facing.trims(stretch.span)
        bounds = (stretch.span[0], *(joint.x for joint in stretch.joints), stretch.span[1])
        last = len(bounds) - 2
        for n, (x0, x1) in enumerate(pairwise(bounds)):
            yield Cell(
                f"{prefix}-{stretch.number + 1}@{round(brief.wall_start + x0)}",
                x0 + (half if n else left),
                x1 - (half if n < last else right),
                stretch.row.y0 + (half if stretch.number else 0.0),
                stretch.row.y1 - (half if stretch.number < top else 0.0),
            )
