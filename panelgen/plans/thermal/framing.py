"""How much of a layer is wood: measured from the sticks that are in it.

The sticks of a layer share no space, so what each takes of the layer's face is its volume by its depth. Sticks that
go only part of the way through, such as the plies of a header or a block flush with one face, are columns of their
own: wood here and insulation behind it. An engineered stick counts as the envelope of its section.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from panelgen.geometry.frames import Point2
from panelgen.model import Layer, Member, Panel

__all__ = ["Column", "Framing", "measure", "opaque_area"]

_CLOSE = 0.5
"""Depths nearer than this (mm) are the same depth."""

_SQUARE = 1.0 - 1e-9

_Rectangle = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Column:
    """A part of a layer's face, `area` mm2, and whether each of the layer's slabs is wood there."""

    area: float
    wood: tuple[bool, ...]


@dataclass(frozen=True, slots=True)
class Framing:
    """A layer of a panel in slabs between the depths `levels` (mm, n + 1 of them), and the columns that cover its face.

    `area` is the face without rough openings, mm2; the columns add up to it.
    """

    levels: tuple[float, ...]
    area: float
    columns: tuple[Column, ...]

    @property
    def slabs(self) -> tuple[float, ...]:
        """Thickness of each slab, mm."""
        return tuple(b - a for a, b in pairwise(self.levels))

    @property
    def depth(self) -> float:
        """Thickness of the layer, mm."""
        return self.levels[-1] - self.levels[0]

    @property
    def share(self) -> float:
        """The share of the layer that is wood, 0 to 1."""
        return 1.0 - self.room / (self.area * self.depth) if self.area > 0.0 else 0.0

    @property
    def room(self) -> float:
        """What of the layer is not wood, mm3."""
        return sum(
            column.area * slab
            for column in self.columns
            for slab, wood in zip(self.slabs, column.wood, strict=True)
            if not wood
        )


def opaque_area(panel: Panel) -> float:
    """The face of the panel's framing without its rough openings, mm2."""
    return _ring_area(panel.profile) - sum(hole.width * hole.height for hole in panel.openings)


def measure(panel: Panel, layer: Layer, area: float) -> Framing:
    """The wood in a layer of a panel whose face is `area`, mm2."""
    through = 0.0
    shallow: dict[_Rectangle, list[tuple[float, float]]] = {}
    for member in panel.members:
        if member.layer != layer.name or member.loose:
            continue
        face, z0, z1 = _seen(member)
        if z0 <= layer.z0 + _CLOSE and z1 >= layer.z1 - _CLOSE:
            through += face
        elif z1 - z0 > _CLOSE:
            shallow.setdefault(_rectangle(member), []).append((max(z0, layer.z0), min(z1, layer.z1)))
    levels = _levels(layer, shallow.values())
    columns = [Column(through, (True,) * (len(levels) - 1))]
    for cell, stretches in _apart(shallow):
        wood = tuple(any(z0 <= (low + high) / 2 <= z1 for z0, z1 in stretches) for low, high in pairwise(levels))
        columns.append(Column(cell, wood))
    rest = max(0.0, area - sum(column.area for column in columns))
    columns.append(Column(rest, (False,) * (len(levels) - 1)))
    return Framing(levels, sum(column.area for column in columns), tuple(columns))


def _seen(member: Member) -> tuple[float, float, float]:
    """What a stick takes of the panel's face, mm2, and its least and greatest z.

    The side of the stick that is nearest to square with the face is the one through the panel.
    """
    (ax, ay, az), (bx, by, bz), z = member.frame.x, member.frame.y, member.frame.origin[2]
    length = member.length if member.has_square_ends else member.centre_length
    if abs(bz) > _SQUARE:  # studs, plates and joists on edge: most sticks by far
        return length * member.thickness, *((z, z + member.width) if bz > 0.0 else (z - member.width, z))
    cz = ax * by - ay * bx
    steps = (az * member.length, bz * member.width, cz * member.thickness)
    _, face = max(
        (abs(az), member.width * member.thickness),
        (abs(bz), length * member.thickness),
        (abs(cz), length * member.width),
    )
    return face, z + sum(min(0.0, step) for step in steps), z + sum(max(0.0, step) for step in steps)


def _rectangle(member: Member) -> _Rectangle:
    """The box around a stick, seen on the panel's face, mm."""
    frame = member.frame
    spans = []
    for axis in (0, 1):
        steps = (frame.x[axis] * member.length, frame.y[axis] * member.width, frame.z[axis] * member.thickness)
        low, high = sum(min(0.0, step) for step in steps), sum(max(0.0, step) for step in steps)
        spans.append((round(frame.origin[axis] + low, 3), round(frame.origin[axis] + high, 3)))
    (x0, x1), (y0, y1) = spans
    return x0, y0, x1, y1


def _levels(layer: Layer, columns: Iterable[list[tuple[float, float]]]) -> tuple[float, ...]:
    """The depths at which a stick of the layer begins or ends, and its faces."""
    levels = [layer.z0]
    for z in sorted(z for stretches in columns for stretch in stretches for z in stretch):
        if z - levels[-1] > _CLOSE and layer.z1 - z > _CLOSE:
            levels.append(z)
    return (*levels, layer.z1)


def _apart(shallow: dict[_Rectangle, list[tuple[float, float]]]) -> Iterator[tuple[float, list[tuple[float, float]]]]:
    """Areas that do not overlap, mm2, with the depths that are wood there."""
    if not _any_overlap(list(shallow)):
        for (x0, y0, x1, y1), stretches in shallow.items():
            yield (x1 - x0) * (y1 - y0), stretches
        return
    xs = sorted({x for box in shallow for x in (box[0], box[2])})
    ys = sorted({y for box in shallow for y in (box[1], box[3])})
    for x0, x1 in pairwise(xs):
        for y0, y1 in pairwise(ys):
            here = [
                stretch
                for box, stretches in shallow.items()
                if box[0] <= x0 and box[2] >= x1 and box[1] <= y0 and box[3] >= y1
                for stretch in stretches
            ]
            if here:
                yield (x1 - x0) * (y1 - y0), here


def _any_overlap(boxes: Sequence[_Rectangle]) -> bool:
    ordered = sorted(boxes)
    for n, one in enumerate(ordered):
        for other in ordered[n + 1 :]:
            if other[0] >= one[2]:
                break
            if other[1] < one[3] and other[3] > one[1]:
                return True
    return False


def _ring_area(ring: Sequence[Point2]) -> float:
    return abs(sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2
