"""Outlines that do not enclose a house: crossing themselves, clockwise, or with corners that are not square."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from panelgen.spec.crosscheck.survey import LONGEST_WALL, SHORTEST_WALL, TOLERANCE, Survey, edges
from panelgen.spec.faults import Fault
from panelgen.spec.lines import Path
from panelgen.spec.walls import Outline, PlanPoint

__all__ = ["bad_outlines", "outline_faults"]

_Edge = tuple[PlanPoint, PlanPoint]
_SQUARE = 0.01  # degrees a corner may be off, far below what framing can follow


def bad_outlines(survey: Survey) -> Iterator[Fault]:
    """Every outline of every level. One with an edge of no or absurd length is left to `bad_lengths`."""
    for n, level in enumerate(survey.house.levels):
        for m, outline in enumerate(level.outlines):
            yield from outline_faults(("levels", n, "outlines", m, "corners"), outline)


def outline_faults(path: Path, outline: Outline) -> Iterator[Fault]:
    """The faults of one outline whose corners stand at `path` in the file."""
    walls = [(start.at, end.at) for start, end in edges(outline)]
    lengths = [math.dist(start, end) for start, end in walls]
    if outline.closed and len(walls) < 4:
        words = f"a closed outline has at least 4 corners, and this one has {len(walls)}"
        yield Fault(path, words, "add the missing corners, or set closed: false")
    if outline.closed and lengths[-1] < SHORTEST_WALL:
        words = "the last corner is the first one again"
        yield Fault((*path, len(walls) - 1, "at"), words, "leave it out: a closed outline returns by itself")
    if not all(SHORTEST_WALL <= length <= LONGEST_WALL for length in lengths):
        return
    yield from _turns(path, outline, walls)
    crossings = list(_crossings(path, outline, walls))
    yield from crossings
    if outline.closed and not crossings and _area(walls) < 0:
        words = "the outline runs clockwise, with the weather side inside"
        remedy = "list the corners in reverse order, each wall id with the corner where that wall then starts"
        yield Fault(path, words, remedy)


def _turns(path: Path, outline: Outline, walls: Sequence[_Edge]) -> Iterator[Fault]:
    for k, corner in enumerate(outline.corners):
        if not outline.closed and k in (0, len(walls)):
            continue
        turn = _turn(walls[k - 1], walls[k])
        where = (*path, k, "at")
        if abs(turn) < _SQUARE:
            remedy = "take this corner out: the two walls are one"
            yield Fault(where, f"wall {corner.wall} goes straight on from the one before", remedy)
        elif abs(abs(turn) - 90) > _SQUARE:
            words = f"this corner turns by {abs(turn):.2f} degrees, and only square corners can be framed"
            yield Fault(where, words, "correct the point so that both walls meet at 90 degrees")


def _crossings(path: Path, outline: Outline, walls: Sequence[_Edge]) -> Iterator[Fault]:
    """Pairs of walls that meet although they are not neighbours."""
    corners = outline.corners
    for j in range(2, len(walls)):
        for i in range(1 if outline.closed and j == len(walls) - 1 else 0, j - 1):
            if _meet(walls[i], walls[j]):
                words = f"the outline crosses or touches itself: wall {corners[j].wall} meets wall {corners[i].wall}"
                yield Fault((*path, j, "at"), words, "list the corners in their order around the house")


def _turn(before: _Edge, after: _Edge) -> float:
    """Degrees to the left from one edge to the next, -180 to 180."""
    a, b = _vector(before), _vector(after)
    return math.degrees(math.atan2(a[0] * b[1] - a[1] * b[0], a[0] * b[0] + a[1] * b[1]))


def _area(walls: Sequence[_Edge]) -> float:
    """Enclosed area, mm2: positive where the outline runs counter-clockwise (shoelace formula)."""
    ox, oy = walls[0][0]
    return sum((x0 - ox) * (y1 - oy) - (x1 - ox) * (y0 - oy) for (x0, y0), (x1, y1) in walls) / 2


def _meet(one: _Edge, other: _Edge) -> bool:
    """True where two edges cross or touch."""
    for axis in (0, 1):
        if max(p[axis] for p in one) < min(p[axis] for p in other) - TOLERANCE:
            return False
        if max(p[axis] for p in other) < min(p[axis] for p in one) - TOLERANCE:
            return False
    return _astride(one, other) and _astride(other, one)


def _astride(line: _Edge, edge: _Edge) -> bool:
    """True where `edge` reaches both sides of the line through `line`, or touches it."""
    run = _vector(line)
    length = math.hypot(*run)
    offsets = [(run[0] * (point[1] - line[0][1]) - run[1] * (point[0] - line[0][0])) / length for point in edge]
    return min(offsets) <= TOLERANCE and max(offsets) >= -TOLERANCE


def _vector(edge: _Edge) -> PlanPoint:
    (x0, y0), (x1, y1) = edge
    return (x1 - x0, y1 - y0)
