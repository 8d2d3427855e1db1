"""Where roof sheets are nailed: along the middle of each stick behind them, or beside it where the sheet ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from panelgen.catalog import SheetNailing
from panelgen.design.fastening.lines import evenly
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, Vec3, add, scaled
from panelgen.model import Layer, Member, Sheet

__all__ = ["Rows", "sheet_rows"]

_IN_WOOD = 7.5
"""Least distance (mm) of a nail from the side of the stick; common practice, no source."""

_END = 12.0
"""Least distance (mm) of a nail from the end of the stick; common practice, no source."""

_REACH = 20.0
"""A dropped board takes nails where it is no farther than this (mm) under the sheet; common practice, no source."""

_EDGE = 30.0
"""A line this near (mm) to an edge of its sheet runs along that edge; common practice, no source."""

_HAIR = 1e-3
_ASIDE = (0.0, -1.0, 1.0)


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """n nails: heads and unit drives (n, 3) in panel coordinates, and what they fasten and hold in, (n,) each.

    Each may be moved along its unit `slides` (n, 3), `back` mm against it and `ahead` mm with it, (n,) each.
    """

    heads: Floats
    drives: Floats
    fastened: Ints
    into: Ints
    slides: Floats
    back: Floats
    ahead: Floats

    @classmethod
    def of(cls, nails: Sequence[tuple[Vec3, Vec3, int, int]]) -> Rows:
        """From head, drive, fastened and into of each; they stay where they are."""
        table = np.array([(*head, *drive, a, b) for head, drive, a, b in nails]).reshape(-1, 8)
        drives, still = table[:, 3:6], np.zeros(len(table))
        fastened, into = table[:, 6:].astype(np.int64).T
        return cls(table[:, :3], drives, fastened, into, drives, still, still)


@dataclass(frozen=True, slots=True, eq=False)
class _Lines:
    """Lines along k sticks: `stick` and unit `drive` (k, 3), and three places side by side for each.

    `start` and `way` (k, 3, 2) are where each begins on the outer face of the sheets, in panel (x, y), and
    how far it goes: in the middle of the stick, and near its two sides.
    """

    stick: Ints
    drive: Floats
    start: Floats
    way: Floats

    @classmethod
    def of(cls, members: Sequence[Member], layer: Layer) -> _Lines:
        """The lines of the sticks that a layer lies on."""
        rows = [row for k, member in enumerate(members) if (row := _row(member, k, layer))]
        table = np.array(rows).reshape(-1, 16)
        places = table[:, 4:].reshape(-1, 3, 2, 2)
        return cls(table[:, 0].astype(np.int64), table[:, 1:4], places[:, :, 0], places[:, :, 1] - places[:, :, 0])


def sheet_rows(
    layer: Layer, row: SheetNailing, members: Sequence[Member], sheets: Sequence[Sheet]
) -> Iterator[tuple[str, float, Rows]]:
    """The nails along the edges of the sheets of a layer, then those of the field, each with their spacing."""
    lines = _Lines.of(members, layer)
    pieces = [
        piece
        for number, sheet in enumerate(sheets)
        if sheet.layer == layer.name
        for piece in _on_sheet(sheet, number, lines, row.edge_distance + _HAIR)
    ]
    table = np.array(pieces).reshape(-1, 6)
    sheet, line, place = table[:, 0].astype(np.int64), table[:, 1].astype(np.int64), table[:, 2].astype(np.int64)
    close = table[:, 5] < _EDGE
    size = np.linalg.norm(lines.way[line, place], axis=1)
    head = layer.z1 if layer.z0 > 0.0 else layer.z0
    for part, spacing, own in (("edges", row.edge_spacing, close), ("field", row.field_spacing, ~close)):
        rows = np.flatnonzero(own)
        room = (table[rows, 4] - table[rows, 3]) * size[rows]
        count = np.where(room < 2 * _END, 1, np.ceil(room / spacing - 1e-9).astype(np.int64) + 1)
        piece, _, at, _ = evenly(table[rows, 3], table[rows, 4], count)
        rows = rows[piece]
        way = lines.way[line[rows], place[rows]]
        spots = lines.start[line[rows], place[rows]] + at[:, None] * way
        heads = np.column_stack((spots, np.full(len(spots), head)))
        slides = np.column_stack((way / size[rows, None], np.zeros(len(rows))))
        back, ahead = (
            np.minimum(share * size[rows], spacing / 2) for share in (at - table[rows, 3], table[rows, 4] - at)
        )
        drives, stick = lines.drive[line[rows]], lines.stick[line[rows]]
        yield part, spacing, Rows(heads, drives, sheet[rows], stick, slides, back, ahead)


def _row(member: Member, stick: int, layer: Layer) -> tuple[float, ...]:
    """The lines of one stick, as a row of `_Lines`; empty where a layer is out of its reach."""
    outer = layer.z0 > 0.0
    y = member.width if outer else 0.0
    contact, head = (layer.z0, layer.z1) if outer else (layer.z1, layer.z0)
    up = member.frame.y
    places: list[float] = []
    for aside in _ASIDE:
        z = member.thickness / 2 + aside * (member.thickness / 2 - _IN_WOOD)
        start, end = member.end_x(member.start, False, y, z) + _END, member.end_x(member.end, True, y, z) - _END
        if not outer:
            start = max([start, *(notch.x1 + _END for notch in member.notches if not notch.from_far_edge)])
        ends = [member.frame.point(x, y, z) for x in (start, end)]
        if end - start < _END or max(abs(point[2] - contact) for point in ends) > _REACH:
            return ()
        for point in ends:
            places += add(point, scaled(up, (head - point[2]) / up[2]))[:2]
    return (stick, *scaled(up, -1.0 if outer else 1.0), *places)


_Piece = tuple[float, float, float, float, float, float]
"""Sheet, line, which of its three places, from and to as shares of it, and how near it is to the sheet's edge (mm)."""


def _on_sheet(sheet: Sheet, number: int, lines: _Lines, distance: float) -> Iterator[_Piece]:
    """The pieces of lines that keep `distance` from the edges of a sheet, at the first place that leaves any."""
    x0, y0, _ = sheet.frame.origin
    ring = np.array(sheet.outline) + np.array((x0, y0))
    ahead = np.roll(ring, -1, axis=0) - ring
    left = np.stack((-ahead[:, 1], ahead[:, 0]), axis=1) / np.linalg.norm(ahead, axis=1)[:, None]
    turns = ahead[:, 0] * np.roll(ahead[:, 1], -1) - ahead[:, 1] * np.roll(ahead[:, 0], -1)
    if sheet.cutouts or (turns < 0.0).any():
        yield from _on_bent_sheet(sheet, number, lines, distance)
        return
    room = np.einsum("kpc,ec->kpe", lines.start, left) - (ring * left).sum(axis=1)
    gain = np.einsum("kpc,ec->kpe", lines.way, left)
    level = np.abs(gain) < _HAIR
    bound = (distance - room) / np.where(level, 1.0, gain)
    low = np.where(~level & (gain > 0.0), bound, 0.0).max(axis=2).clip(min=0.0)
    high = np.where(~level & (gain < 0.0), bound, 1.0).min(axis=2).clip(max=1.0)
    free = (high > low) & (~level | (room >= distance)).all(axis=2)
    line = np.flatnonzero(free.any(axis=1))
    place = free[line].argmax(axis=1)
    low, high = low[line, place], high[line, place]
    near = (room[line, place] + ((low + high) / 2)[:, None] * gain[line, place]).min(axis=1)
    for row in zip(line.tolist(), place.tolist(), low.tolist(), high.tolist(), near.tolist(), strict=True):
        yield (number, *row)


def _on_bent_sheet(sheet: Sheet, number: int, lines: _Lines, distance: float) -> Iterator[_Piece]:
    """The same for a sheet with inward corners."""
    x0, y0, _ = sheet.frame.origin
    rings = [[(x + x0, y + y0) for x, y in ring] for ring in (sheet.outline, *sheet.cutouts)]
    face = shapely.Polygon(rings[0], rings[1:])
    room = shapely.buffer(face, -distance, join_style="mitre")
    ends = np.stack((lines.start, lines.start + lines.way), axis=2)
    cuts = shapely.intersection(shapely.linestrings(ends), room)
    for line, three in enumerate(cuts):
        for place, cut in enumerate(three):
            pieces = [part for part in shapely.get_parts(cut) if part.geom_type == "LineString" and not part.is_empty]
            for piece in pieces:
                shares = _shares(lines, line, place, piece)
                near = face.boundary.distance(piece.interpolate(0.5, normalized=True))
                yield (number, line, place, *shares, near)
            if pieces:
                break


def _shares(lines: _Lines, line: int, place: int, piece: Any) -> tuple[float, float]:
    start, way = lines.start[line, place], lines.way[line, place]
    a, b = ((np.array(piece.coords) - start) @ way / (way @ way))[[0, -1]].tolist()
    return min(a, b), max(a, b)
