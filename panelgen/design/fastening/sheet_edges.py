"""The edges of sheets as arrays, and what of a line of nails they leave free."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.design.intervals import subtract
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Sheet

__all__ = ["Blocks", "SheetEdges"]

_EPS = 1e-6
_FAR = 1e9
"""Where edges are put that only fill up a row (mm)."""

_LEAST_BESIDE = 25.0
"""A sheet ends on a stick if its edge runs along it for more than this (mm); common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class Blocks:
    """What edges do to k lines: `low` and `high` (k, e) is the stretch of the line that each keeps nails off.

    Where an edge keeps off nothing, `low` is greater than `high`. `crossing` (k, e) is where the edge
    crosses the line, minus infinity if it does not. `first` and `last` (k, e) are the edge's ends
    measured along the line, `offset` (k, e) how far it is to the side, infinite where it is not
    parallel to the line.
    """

    low: Floats
    high: Floats
    crossing: Floats
    first: Floats
    last: Floats
    offset: Floats

    def free(self, start: Floats, stop: Floats) -> tuple[Ints, Floats, Floats]:
        """The free pieces of each line from `start` to `stop` (k,): line, from and to, (n,) each."""
        at_start = (self.low <= start[:, None] + _EPS) & (self.high > start[:, None])
        start = np.maximum(start, np.where(at_start, self.high, -np.inf).max(axis=1))
        at_stop = (self.high >= stop[:, None] - _EPS) & (self.low < stop[:, None])
        stop = np.minimum(stop, np.where(at_stop, self.low, np.inf).min(axis=1))
        within = (self.low < stop[:, None] - _EPS) & (self.high > start[:, None] + _EPS)
        cut = within.any(axis=1)
        line = np.flatnonzero((stop >= start - _EPS) & ~cut)
        low, high = start[line], np.maximum(stop[line], start[line])
        if not cut.any():
            return line, low, high
        pieces = [
            (k, *piece)
            for k in np.flatnonzero(cut & (stop > start)).tolist()
            for piece in subtract(
                (start[k], stop[k]), zip(self.low[k, within[k]], self.high[k, within[k]], strict=True)
            )
        ]
        table = np.array(pieces, dtype=float).reshape(-1, 3)
        line = np.concatenate((line, table[:, 0].astype(np.int64)))
        return line, np.concatenate((low, table[:, 1])), np.concatenate((high, table[:, 2]))

    def hold(self, lines: Ints, at: Floats) -> Bools:
        """(n,) whether the place `at` (n,) of each of `lines` is on the sheet, round holes apart.

        From there on the line crosses an odd number of edges.
        """
        beyond = self.crossing.take(lines, axis=0) > at[:, None]
        result: Bools = np.count_nonzero(beyond, axis=1) % 2 == 1
        return result

    def beside(self, start: Floats, stop: Floats, half: Floats) -> Bools:
        """(k,) whether some edge runs along the line between `start` and `stop`, no more than `half` to its side."""
        shared = np.minimum(self.last, stop[:, None]) - np.maximum(self.first, start[:, None])
        along = (self.offset <= half[:, None] + _EPS) & (shared > _LEAST_BESIDE)
        result: Bools = np.logical_or.reduce(along, axis=1)
        return result


@dataclass(frozen=True, slots=True, eq=False)
class SheetEdges:
    """The outlines and cut-outs of k sheets in panel (x, y), mm.

    `panel` (k,) numbers the panel of each, ascending. `ends` (k, e, 4) are the ends (x, y, x, y) of their
    edges, and `radius` (k, e) that of the round holes, whose two ends are one point. Rows are filled up
    with edges far away. `low` and `high` (k, 2) are the corners of the box around each.
    """

    panel: Ints
    ends: Floats
    radius: Floats
    low: Floats
    high: Floats

    @classmethod
    def of(cls, panels: Sequence[Sequence[Sheet]]) -> SheetEdges:
        """The edges of the sheets of each of some panels; their frames have the panel's axes. At least one sheet."""
        rows = [_edges(sheet) for sheets in panels for sheet in sheets]
        most = max(len(row) for row in rows)
        table = np.full((len(rows), most, 5), _FAR)
        table[:, :, 4] = 0.0
        for filled, row in zip(table, rows, strict=True):
            filled[: len(row)] = row
        ends = table[:, :, :4]
        there = (ends[:, :, 0] < _FAR)[:, :, None]
        low = np.where(there, ends[:, :, :2], np.inf).min(axis=1)
        high = np.where(there, ends[:, :, :2], -np.inf).max(axis=1)
        panel = np.arange(len(panels)).repeat([len(sheets) for sheets in panels])
        return cls(panel, ends, table[:, :, 4], low, high)

    def blocks(self, sheet: Ints, origin: Floats, ahead: Floats, margin: Floats) -> Blocks:
        """What the edges of each line's `sheet` (n,) keep nails off: what is nearer than `margin` (n,) to them.

        Lines are given by a point and a unit direction, (n, 2). The stretches are exact but beside the
        ends of edges, where they are a little long.
        """
        ends = self.ends[sheet] - np.concatenate((origin, origin), axis=1)[:, None]
        ux, uy = ahead[:, :1], ahead[:, 1:]
        first = ends[:, :, 0] * ux + ends[:, :, 1] * uy
        last = ends[:, :, 2] * ux + ends[:, :, 3] * uy
        off_first = ends[:, :, 1] * ux - ends[:, :, 0] * uy
        off_last = ends[:, :, 3] * ux - ends[:, :, 2] * uy
        reach = margin[:, None] + self.radius[sheet]
        turn = off_last - off_first
        parallel = np.abs(turn) < _EPS
        step = np.where(parallel, 1.0, turn)
        a, b = (reach - off_first) / step, (-reach - off_first) / step
        enter = np.where(parallel, 0.0, np.maximum(np.minimum(a, b), 0.0))
        leave = np.where(parallel, 1.0, np.minimum(np.maximum(a, b), 1.0))
        near = np.where(parallel, np.abs(off_first) < reach - _EPS, leave > enter)
        along = last - first
        p, q = first + along * enter, first + along * leave
        low, high = np.minimum(p, q) - reach, np.maximum(p, q) + reach
        crossing = first - off_first / step * along
        slants = ~parallel & (np.abs(along) > _EPS)
        if slants.any():
            half = reach * np.hypot(along, turn) / np.abs(step)
            low = np.where(slants, np.maximum(low, crossing - half), low)
            high = np.where(slants, np.minimum(high, crossing + half), high)
        return Blocks(
            low=np.where(near, low, np.inf),
            high=np.where(near, high, -np.inf),
            crossing=np.where((off_first > 0.0) != (off_last > 0.0), crossing, -np.inf),
            first=np.minimum(first, last),
            last=np.maximum(first, last),
            offset=np.where(parallel, np.abs(off_first), np.inf),
        )


def _edges(sheet: Sheet) -> list[tuple[float, float, float, float, float]]:
    """The edges of a sheet's rings with radius 0, then its round holes."""
    ox, oy, _ = sheet.frame.origin
    edges = []
    for ring in (sheet.outline, *sheet.cutouts):
        ax, ay = ring[-1]
        for bx, by in ring:
            edges.append((ax + ox, ay + oy, bx + ox, by + oy, 0.0))
            ax, ay = bx, by
    edges.extend((hole.x + ox, hole.y + oy, hole.x + ox, hole.y + oy, hole.diameter / 2) for hole in sheet.round_holes)
    return edges
