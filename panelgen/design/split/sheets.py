"""What sheathing a stretch of a wall wastes: the stock sheets it takes less what of them ends up on the wall.

The sheets are laid by the same rule as those of a designed panel, on the sticks of the wall framed whole.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import partial
from itertools import pairwise

import shapely

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.intervals import overlap
from panelgen.design.sheathing.cutting import LEAST_PIECE, Cell, bearing_of, least_stock, pieces_of
from panelgen.design.sheathing.faces import Side, gap_of, sheathing_on, top_line
from panelgen.design.sheathing.joints import JointLine, Row, Stick, joint_lines, sticks_of
from panelgen.design.sheathing.rows import Facing, Stretch, cells_of, stretches_of
from panelgen.model import Layer, LayerKind, Member

__all__ = ["SheetWaste"]

_EPS = 1e-6
_SIDES: tuple[Side, ...] = ("outer", "inner")


class SheetWaste:
    """Waste of any stretch of one wall; what stretches have in common is worked out once.

    `whole` is the brief of the wall as if it were one panel, `members` are its sticks.
    """

    def __init__(self, whole: PanelBrief, members: Sequence[Member]) -> None:
        self._whole = whole
        framing = next(layer for layer in whole.layers if layer.kind is LayerKind.FRAMING)
        sticks = sticks_of(members, framing)
        self._faces = [
            _Face(whole, face, sticks) for face in (sheathing_on(whole, side) for side in _SIDES) if face is not None
        ]

    def between(self, start: float, stop: float) -> float:
        """mm2 of both sheathings wasted by a panel from `start` to `stop`, x of the whole wall (mm)."""
        whole = self._whole
        joined = (start > _EPS, stop < whole.length - _EPS)
        inner = (x for x, _ in whole.top if start + _EPS < x < stop - _EPS)
        height = max(map(whole.top_at, (start, *inner, stop)))
        others: list[Stretch] = []
        waste = 0.0
        for face in self._faces:
            facing = face.facing((start, stop), height, joined)
            stretches = stretches_of(facing, others)
            waste += sum(map(face.waste, cells_of(facing, "", stretches)))
            others += stretches
        return waste


class _Face:
    """One face of the whole wall."""

    def __init__(self, whole: PanelBrief, face: Layer, sticks: Sequence[Stick]) -> None:
        self._whole = whole
        self._face = face
        self._span = whole.outer_span if face.z0 > 0.0 else whole.inner_span
        self._sizes = whole.catalog.sheet(face.product).sizes
        bearing = bearing_of(whole, gap_of(whole, face) / 2)
        self._in_row = partial(joint_lines, whole, sticks, face.z0 > 0.0, span=self._span, bearing=bearing)
        self._lines: dict[Row, tuple[list[float], list[JointLine]]] = {}
        self._known: dict[tuple[float, float, float, float], float] = {}

    def facing(self, stretch: Span, height: float, joined: tuple[bool, bool]) -> Facing:
        """The part of the face that a panel takes, its laps at the wall's ends with it."""
        span = (stretch[0] if joined[0] else self._span[0], stretch[1] if joined[1] else self._span[1])
        return Facing(self._whole, self._face, span, height, joined, self._lines_in)

    def _lines_in(self, row: Row, span: Span) -> list[JointLine]:
        if row not in self._lines:
            lines = self._in_row(row=row)
            self._lines[row] = [line.x for line in lines], lines
        places, lines = self._lines[row]
        return lines[bisect_right(places, span[0] + _EPS) : bisect_left(places, span[1] - _EPS)]

    def waste(self, cell: Cell) -> float:
        """mm2 of stock less what is used of it."""
        key = (cell.x0, cell.x1, cell.y0, cell.y1)
        if key not in self._known:
            pieces = [piece for piece in _pieces(self._whole, cell) if min(piece[:2]) >= LEAST_PIECE]
            stock = (least_stock(self._sizes, width, height) for width, height, _ in pieces)
            self._known[key] = sum(a * b for a, b in stock) - sum(area for _, _, area in pieces)
        return self._known[key]


_Piece = tuple[float, float, float]
"""Width and height of the box around a piece, mm, and its area, mm2."""


def _pieces(whole: PanelBrief, cell: Cell) -> list[_Piece]:
    """The pieces that are cut from a cell. Polygons are cut only where it is not plain how many there are."""
    holes = [
        (max(hole.x0, cell.x0), min(hole.x1, cell.x1), max(hole.y0, cell.y0), min(hole.y1, cell.y1))
        for hole in whole.openings
        if overlap((hole.x0, hole.x1), (cell.x0, cell.x1)) > _EPS
        and overlap((hole.y0, hole.y1), (cell.y0, cell.y1)) > _EPS
    ]
    if min(y for _, y in top_line(whole, (cell.x0, cell.x1))) < cell.y1 - _EPS:
        return _cut(whole, cell)
    if len(holes) == 1 and holes[0][1] - holes[0][0] >= cell.x1 - cell.x0 - _EPS:
        x0, x1, y0, y1 = holes[0]
        return [_box(x0, x1, cell.y0, y0), _box(x0, x1, y1, cell.y1)]
    if any(y1 - y0 >= cell.y1 - cell.y0 - _EPS for *_, y0, y1 in holes):
        return _cut(whole, cell)
    if any(after[0] - before[1] <= _EPS for before, after in pairwise(holes)):
        return _cut(whole, cell)
    # Beside and between the holes the cell is whole from bottom to top, and joins what is above and below them.
    width, height, area = _box(cell.x0, cell.x1, cell.y0, cell.y1)
    return [(width, height, area - sum((x1 - x0) * (y1 - y0) for x0, x1, y0, y1 in holes))]


def _cut(whole: PanelBrief, cell: Cell) -> list[_Piece]:
    return [_measured(outline, cutouts) for outline, *cutouts in pieces_of(whole, cell)]


def _box(x0: float, x1: float, y0: float, y1: float) -> _Piece:
    return x1 - x0, y1 - y0, (x1 - x0) * (y1 - y0)


def _measured(outline: Sequence[tuple[float, float]], cutouts: Sequence[Sequence[tuple[float, float]]]) -> _Piece:
    shape = shapely.Polygon(outline, cutouts)
    x0, y0, x1, y1 = shape.bounds
    return x1 - x0, y1 - y0, shape.area
