"""Openings in floors and roofs: how many sticks side by side their headers and trimmers must be, as they stand."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.codes import found
from panelgen.checks.structure.sticks import Sticks
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.model import Finding, Opening, Panel, PanelKind, Role

__all__ = ["deck_openings"]

_TOUCH = 2.0
"""Faces nearer than this (mm) meet; saw and setting tolerance, common practice, no source."""
_DOUBLE = 2
_DORMER = "dormer"


class _Piece(NamedTuple):
    """One kind of stick around openings, and the axis across which its plies are side by side."""

    name: str
    role: Role
    axis: int


_FLOOR = (_Piece("header", Role.HEADER, 1), _Piece("trimmer", Role.TRIMMER, 0))
_ROOF = (_Piece("header", Role.HEADER, 1), _Piece("trimmer", Role.RAFTER, 0))


def deck_openings(sticks: Sticks, rules: RuleSet) -> Iterator[Finding]:
    """Headers and trimmers of openings that are single where they must be double, one finding a side.

    What a panel's edge is nearer to than two sticks is the business of the rim or of the next panel there. Dormers are
    left to an engineer.
    """
    for number, panel in enumerate(sticks.scene.panels):
        for hole in panel.openings:
            if panel.kind is PanelKind.FLOOR:
                for piece in _double_in_floor(panel, hole, rules):
                    yield from _single(sticks, number, panel, hole, piece, rules.structure.deck_opening.cited)
            elif panel.kind is PanelKind.ROOF and hole.kind != _DORMER:
                for piece in _ROOF if hole.width > rules.roof.single_trimmer + _TOUCH else ():
                    yield from _single(sticks, number, panel, hole, piece, rules.roof.cited)


def _double_in_floor(panel: Panel, hole: Opening, rules: RuleSet) -> Iterator[_Piece]:
    """What must be double around an opening of a floor."""
    rule, (header, trimmer) = rules.structure.deck_opening, _FLOOR
    is_wide = hole.width > rule.single_header
    if is_wide:
        yield header
    if is_wide or max(min(at, panel.height - at) for at in (hole.y0, hole.y1)) > rule.single_trimmer:
        yield trimmer


def _single(sticks: Sticks, number: int, panel: Panel, hole: Opening, piece: _Piece, source: str) -> Iterator[Finding]:
    name, role, axis = piece
    span = sticks.span(number)
    rows = np.array([row for row in span if sticks.member(row).role is role and sticks.built[row]], dtype=np.int64)
    low, high = sticks.low, sticks.high
    thick = min((float(high[row, axis] - low[row, axis]) for row in rows.tolist()), default=0.0)
    edges = ((hole.x0, hole.x1), (hole.y0, hole.y1))
    across, along = edges[axis], edges[1 - axis]
    room = (across[0], (panel.length, panel.height)[axis] - across[1])
    beside = rows[(low[rows, 1 - axis] < along[1] - _TOUCH) & (high[rows, 1 - axis] > along[0] + _TOUCH)]
    for side, at in enumerate(across):
        count = _side_by_side(low[:, axis], high[:, axis], beside, at, side)
        if count < _DOUBLE and room[side] >= _DOUBLE * thick - _TOUCH:
            middle = [sum(along) / 2, at] if axis == 1 else [at, sum(along) / 2]
            yield found(
                "opening.plies",
                panel,
                parts=(hole.id,),
                point=(*middle, panel.framing.thickness / 2),
                value=float(count),
                limit=float(_DOUBLE),
                unit="",
                source=source,
                opening=hole.id,
                piece=name,
            )


def _side_by_side(low: Floats, high: Floats, rows: Ints, at: float, side: int) -> int:
    """How many of the sticks follow one another away from an edge of an opening: down (side 0) or up (side 1)."""
    count = 0
    near, far = (high, low) if side == 0 else (low, high)
    while len(next_ones := rows[np.abs(near[rows] - at) <= _TOUCH]):
        count, at = count + 1, float(far[next_ones[0]])
    return count
