"""Where roof sheets are nailed: along the middle of each stick behind them, or beside it where the sheet ends."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, dist
from typing import Any

import numpy as np
import shapely

from panelgen.catalog import SheetNailing
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


@dataclass(frozen=True, slots=True, eq=False)
class Rows:
    """n nails: heads and unit drives (n, 3) in panel coordinates, and what they fasten and hold in, (n,) each."""

    heads: Floats
    drives: Floats
    fastened: Ints
    into: Ints

    @classmethod
    def of(cls, nails: Sequence[tuple[Vec3, Vec3, int, int]]) -> Rows:
        """From head, drive, fastened and into of each."""
        table = np.array([(*head, *drive, a, b) for head, drive, a, b in nails]).reshape(-1, 8)
        return cls(table[:, :3], table[:, 3:6], table[:, 6].astype(np.int64), table[:, 7].astype(np.int64))


@dataclass(frozen=True, slots=True)
class _Line:
    """A line on the outer face of the sheets along one stick, from a to b, and the way its nails go."""

    stick: int
    a: Vec3
    b: Vec3
    drive: Vec3


def sheet_rows(
    layer: Layer, row: SheetNailing, members: Sequence[Member], sheets: Sequence[Sheet]
) -> Iterator[tuple[str, float, Rows]]:
    """The nails along the edges of the sheets of a layer, then those of the field, each with their spacing."""
    outer = layer.z0 > 0.0
    own = [(number, sheet) for number, sheet in enumerate(sheets) if sheet.layer == layer.name]
    tries = [[_line(member, k, layer, outer, aside) for aside in (0.0, -1.0, 1.0)] for k, member in enumerate(members)]
    lines = [three for three in tries if three[0] is not None]
    nails: dict[str, list[tuple[Vec3, Vec3, int, int]]] = {"edges": [], "field": []}
    for number, sheet in own:
        face = _face(sheet)
        room = face.buffer(-row.edge_distance - 1e-3, join_style="mitre")
        edge = face.boundary
        cuts = shapely.intersection([[_flat(line) for line in three] for three in lines], room)
        for three, parts in zip(lines, cuts, strict=True):
            for line, part in zip(three, parts, strict=True):
                if line is None or part.is_empty:
                    continue
                for piece in shapely.get_parts(part):
                    if piece.geom_type != "LineString":
                        continue
                    close = edge.distance(piece.interpolate(0.5, normalized=True)) < _EDGE
                    spacing = row.edge_spacing if close else row.field_spacing
                    nails["edges" if close else "field"] += (
                        (head, line.drive, number, line.stick) for head in _along(line, piece, spacing)
                    )
                break
    for part, spacing in (("edges", row.edge_spacing), ("field", row.field_spacing)):
        yield part, spacing, Rows.of(nails[part])


def _face(sheet: Sheet) -> Any:
    """The sheet in panel (x, y)."""
    x0, y0, _ = sheet.frame.origin
    rings = [[(x + x0, y + y0) for x, y in ring] for ring in (sheet.outline, *sheet.cutouts)]
    return shapely.Polygon(rings[0], rings[1:])


def _line(member: Member, stick: int, layer: Layer, outer: bool, aside: float) -> _Line | None:
    """The line of nails along the edge of a stick that a layer lies on; None where it is out of reach.

    `aside` is 0 for its middle, -1 and 1 for its two sides.
    """
    y = member.width if outer else 0.0
    z = member.thickness / 2 + aside * (member.thickness / 2 - _IN_WOOD)
    start, end = member.end_x(member.start, False, y, z) + _END, member.end_x(member.end, True, y, z) - _END
    if not outer:
        start = max([start, *(notch.x1 + _END for notch in member.notches if not notch.from_far_edge)])
    contact, head = (layer.z0, layer.z1) if outer else (layer.z1, layer.z0)
    ends = [member.frame.point(x, y, z) for x in (start, end)]
    if end - start < _END or max(abs(point[2] - contact) for point in ends) > _REACH:
        return None
    across = member.frame.y
    a, b = (add(point, scaled(across, (head - point[2]) / across[2])) for point in ends)
    return _Line(stick, a, b, scaled(across, -1.0 if outer else 1.0))


def _flat(line: _Line | None) -> Any:
    return shapely.LineString() if line is None else shapely.LineString((line.a[:2], line.b[:2]))


def _along(line: _Line, piece: Any, spacing: float) -> Iterator[Vec3]:
    """Heads along a piece of a line, at its ends and no farther apart than `spacing`."""
    places = [(x, y, line.a[2]) for x, y in piece.coords]
    start, end = places[0], places[-1]
    length = dist(start, end)
    count = 1 if length < 2 * _END else ceil(length / spacing - 1e-9) + 1
    for number in range(count):
        share = number / (count - 1) if count > 1 else 0.5
        yield add(scaled(start, 1.0 - share), scaled(end, share))
