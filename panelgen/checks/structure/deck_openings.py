"""Openings in floors: how many sticks side by side their headers and trimmers must be, counted from those there."""

from __future__ import annotations

from collections.abc import Iterator

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
_PIECES = (("header", Role.HEADER, 1), ("trimmer", Role.TRIMMER, 0))
"""The sticks around an opening, and the axis across which they are side by side."""


def deck_openings(sticks: Sticks, rules: RuleSet) -> Iterator[Finding]:
    """Headers and trimmers of floor openings that are single where they must be double, one finding a side.

    What a panel's edge is nearer to than two sticks is the business of the rim or of the next panel there.
    """
    rule = rules.structure.deck_opening
    for number, panel in enumerate(sticks.scene.panels):
        if panel.kind is not PanelKind.FLOOR:
            continue
        for hole in panel.openings:
            far = max(min(at, panel.height - at) for at in (hole.y0, hole.y1)) > rule.single_trimmer
            must = {"header": hole.width > rule.single_header, "trimmer": hole.width > rule.single_header or far}
            for name, role, axis in _PIECES:
                if must[name]:
                    yield from _single(sticks, number, panel, hole, (name, role, axis), rules)


def _single(
    sticks: Sticks, number: int, panel: Panel, hole: Opening, piece: tuple[str, Role, int], rules: RuleSet
) -> Iterator[Finding]:
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
            rule = rules.structure.deck_opening
            yield found(
                "opening.plies",
                panel,
                parts=(hole.id,),
                point=(*middle, panel.framing.thickness / 2),
                value=float(count),
                limit=float(_DOUBLE),
                unit="",
                source=rule.cited,
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
