"""Where sheets meet: horizontal rows from the stock lengths, and vertical joints on the framing.

The vertical joints of a row are chosen exactly, by dynamic programming over the upright sticks: first
that every joint has wood behind it, then that no strip is narrow, that joints keep off openings, that
they are staggered, and last that there are few sheets.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import lru_cache
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.extents import Extent, extent_of, is_upright
from panelgen.design.intervals import subtract
from panelgen.model import Layer, Member, Role

__all__ = [
    "LEAST_STRIP",
    "Backing",
    "Bearing",
    "JointLine",
    "Row",
    "Stick",
    "choose_joints",
    "joint_lines",
    "rows",
    "sticks_of",
]

LEAST_STRIP = 200.0
"""Narrowest strip of sheathing (mm) that is cut where it can be helped; common practice, no source."""

_EPS = 1e-6
_FULL_HEIGHT = (Role.STUD, Role.POST, Role.KING, Role.JOIST, Role.TRIMMER)

_JAMB, _ONE_MORE, _TOGETHER, _PIECED, _NARROW, _BARE, _NO_WAY = (10**n for n in (8, 11, 14, 17, 20, 23, 26))
_BACKED = (0, _PIECED, _BARE)
"""What a joint costs by what is behind it."""

_Size = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Row:
    """One row of sheets: its height span, mm, and the widest stock sheet that is long enough for it."""

    y0: float
    y1: float
    widest: float


class Stick(NamedTuple):
    """A stick that sheathing may be nailed to, and where it lies."""

    role: Role
    upright: bool
    box: Extent


class Bearing(NamedTuple):
    """What a joint needs behind it, mm: wood for `each_side` of it, bare for no longer than `bare` at a stretch.

    The top plates, `plates` deep measured plumb, always run past: those of the next panel do where this
    one's stop short.
    """

    each_side: float
    bare: float
    plates: float


class Backing(IntEnum):
    """What is behind a joint: one full-height stud, other sticks such as cripples, or too little."""

    WHOLE = 0
    PIECED = 1
    BARE = 2


@dataclass(frozen=True, slots=True)
class JointLine:
    """A line (panel x) where a vertical joint may fall.

    `bare` is the longest stretch of heights without wood behind it; `jamb` marks kings.
    """

    x: float
    backing: Backing
    bare: Span = (0.0, 0.0)
    jamb: bool = False


@lru_cache(maxsize=256)
def rows(height: float, sizes: tuple[_Size, ...]) -> tuple[Row, ...]:
    """Rows of upright sheets that cover `height` (mm), bottom first, cut from stock (width, length) `sizes`.

    One row where some length covers the height. Otherwise the fewest rows, all but the top one the
    full length of one stock size, with the least sheet length in all; the top one is never narrower
    than `LEAST_STRIP`.
    """
    lengths = sorted({length for _, length in sizes})

    def covering(part: float) -> float:
        return next(length for length in lengths if length >= part - _EPS)

    plans = []
    for length in lengths:
        below = max(0, ceil((height - lengths[-1] - _EPS) / length))
        plans.append((below, below * length + covering(height - below * length), -length))
    below, _, negative = min(plans)
    heights = [-negative * n for n in range(below + 1)]
    if below and height - heights[-1] < LEAST_STRIP:
        heights[-1] = height - LEAST_STRIP
    return tuple(
        Row(y0, y1, max(width for width, length in sizes if length >= y1 - y0 - _EPS))
        for y0, y1 in pairwise([*heights, height])
    )


def sticks_of(members: Sequence[Member], layer: Layer) -> list[Stick]:
    """The sticks of the framing layer that are in the panel when it is sheathed, bent and sloping ones included."""
    return [
        Stick(member.role, is_upright(member), extent_of(member))
        for member in members
        if member.layer == layer.name and not member.loose
    ]


def joint_lines(
    brief: PanelBrief, sticks: Sequence[Stick], outside: bool, row: Row, span: Span, bearing: Bearing
) -> list[JointLine]:
    """Lines within `span` where vertical joints of `row` may fall, left to right: the centres of upright sticks.

    `outside` says at which face of the framing. Where two neighbouring lines are farther apart than a
    sheet is wide, others are put in evenly.
    """
    depth = brief.framing_depth
    standing: dict[float, list[Stick]] = {}
    lying: list[Extent] = []
    for stick in sticks:
        box = stick.box
        if (box.z1 < depth - _EPS if outside else box.z0 > _EPS) or box.y1 <= row.y0 or box.y0 >= row.y1:
            continue
        if not stick.upright:
            lying.append(box)
        elif box.x1 - box.x0 >= 2 * bearing.each_side - _EPS:
            standing.setdefault(round((box.x0 + box.x1) / 2, 6), []).append(stick)
    inside = [x for x in sorted(standing) if span[0] + _EPS < x < span[1] - _EPS]
    return [_graded(brief, row, x, standing.get(x, []), lying, bearing) for x in _filled(inside, span, row.widest)]


def _graded(
    brief: PanelBrief, row: Row, x: float, standing: Sequence[Stick], lying: Sequence[Extent], bearing: Bearing
) -> JointLine:
    joint = (row.y0, min(row.y1, brief.top_at(x) - bearing.plates))
    left, right = x - bearing.each_side + _EPS, x + bearing.each_side - _EPS
    hollow = [(hole.y0, hole.y1) for hole in brief.openings if hole.x0 < right and hole.x1 > left]
    hollow += [stick.box.y for stick in standing]
    near = [box for box in lying if box.x0 < right and box.x1 > left]
    bare = (0.0, 0.0)
    for lo, hi in ((left, x - _EPS), (x + _EPS, right)):  # two sticks may be spliced on the joint
        backed = [box.y for box in near if box.x0 <= lo and box.x1 >= hi]
        bare = max((bare, *subtract(joint, [*hollow, *backed])), key=_length)
    roles = [stick.role for stick in standing]
    if _length(bare) > bearing.bare + _EPS:
        backing = Backing.BARE
    else:
        backing = Backing.WHOLE if any(role in _FULL_HEIGHT for role in roles) else Backing.PIECED
    return JointLine(x, backing, bare, Role.KING in roles)


def _length(span: Span) -> float:
    return span[1] - span[0]


def _filled(places: Sequence[float], span: Span, widest: float) -> list[float]:
    """The places, with others put in evenly wherever two neighbours are farther apart than a sheet is wide."""
    filled: list[float] = []
    for a, b in pairwise([span[0], *places, span[1]]):
        pieces = ceil((b - a - _EPS) / widest)
        filled.extend(a + (b - a) * n / pieces for n in range(1, pieces))
    return sorted([*places, *filled])


def choose_joints(
    lines: Sequence[JointLine],
    span: Span,
    widest: float,
    trims: tuple[float, float, float],
    avoid: Sequence[float],
    apart: float,
) -> list[JointLine]:
    """The joints of one row of sheets over `span` (panel x, mm), left to right, at least cost.

    `widest` is the stock width; `trims` is what a sheet loses at the left end of the span, at each side
    of a joint, and at the right end. Joints within `apart` of one in `avoid` count as not staggered.
    """
    left, half, right = trims
    starts = [span[0] + left, *(line.x + half for line in lines)]
    ends = [*(line.x - half for line in lines), span[1] - right]
    own = [*(_cost(line, span, avoid, apart) for line in lines), 0]
    last = len(ends)
    best = [0]
    before = [0]
    for j, end in enumerate(ends):
        least, origin = _NO_WAY, j
        for i in range(j, -1, -1):
            width = end - starts[i]
            if width > widest + _EPS:
                break
            cost = best[i] + own[j] + (_NARROW if width < LEAST_STRIP else 0)
            if cost < least:
                least, origin = cost, i
        best.append(least)
        before.append(origin)
    chosen = []
    at = before[last]
    while at > 0:
        chosen.append(lines[at - 1])
        at = before[at]
    return chosen[::-1]


def _cost(line: JointLine, span: Span, avoid: Sequence[float], apart: float) -> int:
    """What a joint costs; each kind of fault outweighs any number of the next, and nearer joints break ties."""
    cost = _ONE_MORE + round(10 * (span[1] - line.x)) + _BACKED[line.backing]
    if line.jamb:
        cost += _JAMB
    for other in avoid:
        if abs(line.x - other) < apart:
            return cost + _TOGETHER
    return cost
