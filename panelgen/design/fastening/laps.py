"""Laps: one stick along another, and the rows of nails that join them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.design.fastening.lines import COVER, EDGE, Nails, evenly
from panelgen.design.fastening.stick_joints import Schedule
from panelgen.design.tables import Table
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats

__all__ = ["Laps", "nails_along"]

_LEAST_WIDTH = 10.0
"""Sticks that share less than this (mm) across are not nailed there; common practice, no source."""

_FLATTEST = 0.7
"""Least cosine of that slant; a nail that would have to lean farther is not driven. Common practice, no source."""

_END = 50.0
"""From the end of a lap to its first nail (mm), so that the stick does not split; common practice, no source."""

_SHORT = 25.0
"""Rows shorter than this (mm) are one nail; common practice, no source."""

_LINE = 38.0
"""From the edge to a line of nails where there is one along each edge (mm); common practice, no source."""

_NARROW = 50.0
"""On faces wider than this (mm) a single line is staggered in two; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Laps(Table):
    """k places where one stick lies along another, `head` on `into` (k,), with a joint of the schedule.

    They share the stretch `start` to `stop` (k,) of panel `axis` (k,). `origin` (k, 3) is the middle of
    the shared width on the face under the heads, at `start`. `along`, `across` and `drive` (k, 3) are
    unit vectors: up the stretch, over the shared `width` (k,), and square through both sticks, which
    are `depth` (k,) thick together.
    """

    joint: Ints
    head: Ints
    into: Ints
    axis: Ints
    start: Floats
    stop: Floats
    origin: Floats
    along: Floats
    across: Floats
    drive: Floats
    width: Floats
    depth: Floats


def nails_along(laps: Laps, schedule: Schedule) -> Nails:
    """Rows of nails along laps: in lines at the schedule's spacing, or its count in two lines.

    Nails too long for the two sticks lean along them, just so far that the point stays in the wood.
    Laps too short or narrow for one nail get none.
    """
    leaning = (laps.depth - COVER) / schedule.length[laps.joint]
    laps = laps.where((laps.width > _LEAST_WIDTH) & (leaning >= _FLATTEST))
    length = schedule.length[laps.joint]
    cosine = np.minimum(1.0, (laps.depth - COVER) / length)
    drive = cosine[:, None] * laps.drive + np.sqrt(1.0 - cosine**2)[:, None] * laps.along
    rows = np.arange(len(laps))
    ease = laps.along[rows, laps.axis]
    travel = length * drive[rows, laps.axis]
    low = laps.start + _END - np.minimum(travel, 0.0)
    high = laps.stop - _END - np.maximum(travel, 0.0)
    room = high - low
    single = room < _SHORT * ease
    spacing, count = schedule.spacing[laps.joint], schedule.count[laps.joint]
    in_row = np.where(spacing > 0.0, np.maximum(np.ceil(room / (np.maximum(spacing, 1.0) * ease) - 1e-9) + 1, 2), 1)
    in_row = np.where(spacing > 0.0, np.where(single, 1, in_row), -(-count // 2)).astype(np.int64)
    in_row[room < -2.0 * (_END - EDGE)] = 0
    middle = (low + high) / 2
    low, high = np.where(room < 0.0, middle, low), np.where(room < 0.0, middle, high)
    lines = np.where(spacing > 0.0, count, 2)
    lap, row, _, _ = evenly(low, high, lines)
    line, number, at, pitch = evenly(low[lap], high[lap], in_row[lap])
    lap, row = lap[line], row[line]
    offset = _across(laps.width[lap], lines[lap], row, number)
    slope = (laps.along / ease[:, None]).take(lap, axis=0)
    head = laps.origin.take(lap, axis=0) + (at - laps.start[lap])[:, None] * slope
    head += offset[:, None] * laps.across.take(lap, axis=0)
    half = pitch / 2
    return Nails(
        kind=laps.joint[lap],
        head=head,
        drive=drive.take(lap, axis=0),
        slide=laps.along.take(lap, axis=0),
        back=np.minimum(half, at - low[lap]) / ease[lap],
        ahead=np.minimum(half, high[lap] - at) / ease[lap],
        fastened=laps.head[lap],
        into=laps.into[lap],
    )


def _across(width: Floats, lines: Ints, line: Ints, number: Ints) -> Floats:
    """How far from the middle of the shared width each nail is: by its line, or to and fro along a single one."""
    staggered = np.where(width > _NARROW, width / 4, 0.0) * (2 * (number % 2) - 1)
    from_edge = np.minimum(_LINE, width / 4)
    share = 2.0 * line / np.maximum(lines - 1, 1) - 1.0
    result: Floats = np.where(lines > 1, share * (width / 2 - from_edge), staggered)
    return result
