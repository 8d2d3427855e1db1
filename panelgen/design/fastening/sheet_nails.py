"""Nails of the sheathing: a line along every stick behind a sheet, close at edges and wider in the field."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.design.fastening.elevation import TOUCH, Elevation, role_code
from panelgen.design.fastening.lines import COVER, Nails, evenly
from panelgen.design.fastening.plies import NO_PLY, Plies
from panelgen.design.fastening.sheet_edges import Blocks, SheetEdges
from panelgen.design.tables import Table, columns, pairs_within
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Role

__all__ = ["SheetSchedule", "sheet_nails"]

_IN_WOOD = 5.0
"""Least distance (mm) of a nail from the side of the stick; common practice, no source."""

_SHORT = 38.0
"""Lines shorter than this (mm) are one nail; common practice, no source."""

_EPS = 1e-6

_AROUND = np.zeros(len(Role), dtype=bool)
_AROUND[
    [
        role_code(role)
        for role in (
            Role.BOTTOM_PLATE,
            Role.TOP_PLATE,
            Role.CAP_PLATE,
            Role.KING,
            Role.JACK,
            Role.HEADER,
            Role.HEAD_PLATE,
            Role.SILL,
        )
    ]
] = True
"""The sticks around a panel and its openings, which take nails at the spacing of edges."""


@dataclass(frozen=True, slots=True, eq=False)
class SheetSchedule:
    """How each of k sheets is nailed, (k,) each, mm.

    `outer` says on which face of the framing it is, `contact` and `head` are the panel z of its back
    and of the nail heads, `bite` is how far a nail goes into the wood. `kind` is that of edge nails;
    field nails are the next kind.
    """

    outer: Bools
    contact: Floats
    head: Floats
    bite: Floats
    edge_spacing: Floats
    field_spacing: Floats
    edge_distance: Floats
    kind: Ints


@dataclass(frozen=True, slots=True, eq=False)
class _Lines(Table):
    """k lines of nails of a `sheet` along a `stick`, `into` the stick that holds the points, (k,) each.

    `origin` and `ahead` (k, 2) are a point and the unit direction in panel (x, y); the line may run from
    `start` to `stop` (k,) mm from there. It keeps `margin` (k,) from the sheet's edges, and the stick
    reaches `half` (k,) to its sides.
    """

    sheet: Ints
    stick: Ints
    into: Ints
    origin: Floats
    ahead: Floats
    start: Floats
    stop: Floats
    margin: Floats
    half: Floats


def sheet_nails(
    edges: SheetEdges, schedule: SheetSchedule, sticks: Elevation, plies: Plies, length: Floats
) -> tuple[Nails, Bools]:
    """The nails of all sheets of panels `length` (panels,) mm long, `fastened` being the sheet's row.

    Sticks too thin to hold the point take none. Where sheet and stick share so little that a nail keeps
    less than the schedule's edge distance it takes what there is, down to half; (n,) bool says which.
    """
    lines = _lines(edges, schedule, sticks, plies)
    blocks = edges.blocks(lines.sheet, lines.origin, lines.ahead, lines.margin)
    line, low, high = blocks.free(lines.start, lines.stop)
    inside = blocks.hold(line, (low + high) / 2)
    line, low, high = line[inside], low[inside], high[inside]
    close = _is_edge(lines, blocks, sticks, length)
    sheet = lines.sheet[line]
    spacing = np.where(close[line], schedule.edge_spacing[sheet], schedule.field_spacing[sheet])
    room = high - low
    count = np.where(room < _SHORT, 1, np.ceil(room / spacing - _EPS).astype(np.int64) + 1)
    piece, _, at, pitch = evenly(low, high, count)
    line, sheet = line[piece], sheet[piece]
    ahead = lines.ahead.take(line, axis=0)
    head = np.empty((len(at), 3))
    head[:, :2] = lines.origin.take(line, axis=0) + at[:, None] * ahead
    head[:, 2] = schedule.head[sheet]
    drive, slide = np.zeros_like(head), np.zeros_like(head)
    drive[:, 2] = np.where(schedule.outer, -1.0, 1.0)[sheet]
    slide[:, :2] = ahead
    reach = pitch / 2
    nails = Nails(
        kind=schedule.kind[sheet] + ~close[line],
        head=head,
        drive=drive,
        slide=slide,
        back=np.minimum(reach, at - low[piece]),
        ahead=np.minimum(reach, high[piece] - at),
        fastened=sheet,
        into=lines.into[line],
    )
    return nails, (lines.margin < schedule.edge_distance[lines.sheet] - _EPS)[line]


def _lines(edges: SheetEdges, schedule: SheetSchedule, sticks: Elevation, plies: Plies) -> _Lines:
    """A line for every sheet on every stick behind it, as near to the stick's middle as the sheet's edges let it."""
    bottom, top = sticks.low.min(axis=1), sticks.high.max(axis=1)
    built = np.flatnonzero(sticks.built)
    sheet, stick = pairs_within(edges.panel, sticks.panel[built])
    stick = built[stick]
    face = np.where(schedule.outer[sheet], sticks.z[stick, 1], sticks.z[stick, 0])
    low, high = edges.low[sheet], edges.high[sheet]
    meets = np.abs(face - schedule.contact[sheet]) < TOUCH
    meets &= (sticks.x[stick, 0] < high[:, 0]) & (sticks.x[stick, 1] > low[:, 0])
    meets &= (bottom[stick] < high[:, 1]) & (top[stick] > low[:, 1])
    sheet, stick, low, high = sheet[meets], stick[meets], low[meets], high[meets]
    into, holds = _holders(schedule, sticks, plies, sheet, stick)
    sheet, stick, into, low, high = sheet[holds], stick[holds], into[holds], low[holds], high[holds]
    least = schedule.edge_distance[sheet]
    stands, rise = sticks.standing[stick], sticks.low_rise[stick]
    slopes = ~stands & (rise != 0.0)
    x0, x1 = sticks.x[stick, 0], sticks.x[stick, 1]
    side, other = np.where(stands, x0, bottom[stick]), np.where(stands, x1, top[stick])
    near, far = np.where(stands, low[:, 0], low[:, 1]), np.where(stands, high[:, 0], high[:, 1])
    across, room = _across(side, other, near + least, far - least)
    margin = np.where(slopes, least, least + np.minimum(room, 0.0))
    half = np.maximum(across - side, other - across)
    middle = (sticks.low[stick, 0] + sticks.high[stick, 0]) / 2
    cosine = np.where(stands, 0.0, 1.0 / np.hypot(1.0, rise))
    ahead = columns(cosine, np.where(stands, 1.0, rise * cosine))
    origin = columns(np.where(stands, across, x0), np.where(stands, 0.0, np.where(slopes, middle, across)))
    foot = sticks.low_at(stick, across) + least
    crown = sticks.high_at(stick, across) - least * np.hypot(1.0, sticks.high_rise[stick])
    start = np.where(stands, np.maximum(foot, low[:, 1] + least), np.maximum(x0, low[:, 0]) + least - x0)
    stop = np.where(stands, np.minimum(crown, high[:, 1] - least), np.minimum(x1, high[:, 0]) - least - x0)
    if slopes.any():
        ease = np.where(slopes, cosine, 1.0)
        start, stop = start / ease, stop / ease
        step = np.where(slopes, ahead[:, 1], 1.0)
        a, b = (low[:, 1] + least - origin[:, 1]) / step, (high[:, 1] - least - origin[:, 1]) / step
        start = np.where(slopes, np.maximum(start, np.minimum(a, b)), start)
        stop = np.where(slopes, np.minimum(stop, np.maximum(a, b)), stop)
    lines = _Lines(sheet, stick, into, origin, ahead, start, stop, margin, half)
    return lines.where((margin >= least / 2 - _EPS) & (stop >= start - _EPS))


def _across(side: Floats, other: Floats, low: Floats, high: Floats) -> tuple[Floats, Floats]:
    """Where a line runs between the sides of a stick: in the middle, or as near as `low` and `high` let it.

    It stays in the wood all the same; then the second value says how far it is within those bounds, below 0.
    """
    across = np.minimum(np.maximum((side + other) / 2, low), high)
    across = np.minimum(np.maximum(across, side + _IN_WOOD), other - _IN_WOOD)
    return across, np.minimum(across - low, high - across)


def _holders(schedule: SheetSchedule, sticks: Elevation, plies: Plies, sheet: Ints, stick: Ints) -> tuple[Ints, Bools]:
    """The stick that the points end in, and whether there is enough wood for them."""
    depth = sticks.z[:, 1] - sticks.z[:, 0]
    behind = np.where(schedule.outer[sheet], plies.inside[stick], plies.outside[stick])
    more = np.where(behind == NO_PLY, 0.0, depth[behind])
    bite, wood = schedule.bite[sheet], depth[stick]
    return np.where((bite > wood + TOUCH) & (behind != NO_PLY), behind, stick), bite <= wood + more - COVER


def _is_edge(lines: _Lines, blocks: Blocks, sticks: Elevation, length: Floats) -> Bools:
    """Which lines have the spacing of edges: around panel and openings, and where a sheet ends on the stick."""
    x = sticks.x[lines.stick]
    ends = (x[:, 0] < TOUCH) | (x[:, 1] > length[sticks.panel[lines.stick]] - TOUCH)
    result: Bools = ends | _AROUND[sticks.role[lines.stick]] | blocks.beside(lines.start, lines.stop, lines.half)
    return result
