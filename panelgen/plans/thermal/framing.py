"""How much of a layer is wood: measured from the sticks that are in it.

The sticks of a layer share no space, so what each takes of the layer's face is its volume by its depth. Sticks that
go only part of the way through, such as the plies of a header or a block flush with one face, are columns of their
own: wood here and insulation behind it. An engineered stick counts as the envelope of its section. Of a roof only what
is insulated counts, from the first bay to the last: eaves and rakes shelter nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from panelgen.geometry.frames import Point2
from panelgen.model import Layer, Member, Panel, PanelKind

__all__ = ["Column", "Framing", "measure", "opaque_area"]

_CLOSE = 0.5
"""Depths nearer than this (mm) are the same depth."""

_EDGE = 100.0
"""A bay this near to an edge of its panel (mm) has sticks alone beyond it, no overhang."""
_SQUARE = 1.0 - 1e-9
_AWRY = 1e-9

_Rectangle = tuple[float, float, float, float]
"""x0, y0, x1, y1, mm."""
_Stretch = tuple[float, float]
"""Least and greatest z of wood, mm."""


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
    """The face of the panel's framing without its rough openings, mm2; of a roof the part between its bays."""
    region = _insulated(panel)
    ring = panel.profile if region is None else _clipped(panel.profile, region)
    holes = ((hole.x0, hole.y0, hole.x1, hole.y1) for hole in panel.openings)
    return _ring_area(ring) - sum(_area(hole if region is None else _common(hole, region)) for hole in holes)


def _insulated(panel: Panel) -> _Rectangle | None:
    """The box around the bays of a roof and the sticks between them and an edge of the panel.

    None for panels of other kinds, which are all shell, and where there are no bays.
    """
    if panel.kind is not PanelKind.ROOF or not panel.bays:
        return None
    x, y = zip(*(point for bay in panel.bays for point in bay.outline), strict=True)
    wide, high = zip(*panel.profile, strict=True)
    x0, x1 = _to_edges(min(x), max(x), min(wide), max(wide))
    y0, y1 = _to_edges(min(y), max(y), min(high), max(high))
    return x0, y0, x1, y1


def _to_edges(low: float, high: float, start: float, end: float) -> tuple[float, float]:
    """The stretch from `low` to `high`, taken to the edges that are near it."""
    return start if low - start < _EDGE else low, end if end - high < _EDGE else high


def measure(panel: Panel, layer: Layer, area: float) -> Framing:
    """The wood in a layer of a panel whose face is `area`, mm2."""
    region = _insulated(panel)
    through = 0.0
    shallow: dict[_Rectangle, list[_Stretch]] = {}
    askew: list[tuple[float, list[_Stretch]]] = []
    for member in panel.members:
        if member.layer != layer.name or member.loose:
            continue
        face, z0, z1 = _seen(member)
        box = None
        if region is not None:
            box = _rectangle(member)
            face *= _area(_common(box, region)) / _area(box)
        if z0 <= layer.z0 + _CLOSE and z1 >= layer.z1 - _CLOSE:
            through += face
        elif z1 - z0 > _CLOSE:
            stretch = (max(z0, layer.z0), min(z1, layer.z1))
            if _is_square(member):
                box = box or _rectangle(member)
                shallow.setdefault(box if region is None else _common(box, region), []).append(stretch)
            else:
                askew.append((face, [stretch]))
    levels = _levels(layer, [*shallow.values(), *(stretches for _, stretches in askew)])
    columns = [Column(through, (True,) * (len(levels) - 1))]
    for cell, stretches in (*_apart(shallow), *askew):
        wood = tuple(any(z0 <= (low + high) / 2 <= z1 for z0, z1 in stretches) for low, high in pairwise(levels))
        columns.append(Column(cell, wood))
    rest = max(0.0, area - sum(column.area for column in columns))
    columns.append(Column(rest, (False,) * (len(levels) - 1)))
    return Framing(levels, sum(column.area for column in columns), tuple(columns))


def _seen(member: Member) -> tuple[float, float, float]:
    """What a stick takes of the panel's face, mm2, and its least and greatest z.

    One that is not square with the face, such as a hip or a plumb block of a roof, takes its volume by its depth.
    """
    (ax, ay, az), (bx, by, bz), z = member.frame.x, member.frame.y, member.frame.origin[2]
    length = member.length if member.has_square_ends else member.centre_length
    if abs(bz) > _SQUARE:  # studs, plates and joists on edge: most sticks by far
        return length * member.thickness, *((z, z + member.width) if bz > 0.0 else (z - member.width, z))
    steps = (az * member.length, bz * member.width, (ax * by - ay * bx) * member.thickness)
    low, high = sum(min(0.0, step) for step in steps), sum(max(0.0, step) for step in steps)
    return length * member.width * member.thickness / (high - low), z + low, z + high


def _is_square(member: Member) -> bool:
    """Whether a stick's sides are parallel to the panel's axes."""
    axes = (*member.frame.x, *member.frame.y)
    return all(abs(one) < _AWRY or abs(one) > _SQUARE for one in axes)


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


def _levels(layer: Layer, columns: Iterable[list[_Stretch]]) -> tuple[float, ...]:
    """The depths at which a stick of the layer begins or ends, and its faces."""
    levels = [layer.z0]
    for z in sorted(z for stretches in columns for stretch in stretches for z in stretch):
        if z - levels[-1] > _CLOSE and layer.z1 - z > _CLOSE:
            levels.append(z)
    return (*levels, layer.z1)


def _apart(shallow: dict[_Rectangle, list[_Stretch]]) -> Iterator[tuple[float, list[_Stretch]]]:
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


def _common(a: _Rectangle, b: _Rectangle) -> _Rectangle:
    """What two rectangles share; one of no area where they are apart."""
    x0, y0 = max(a[0], b[0]), max(a[1], b[1])
    return x0, y0, max(x0, min(a[2], b[2])), max(y0, min(a[3], b[3]))


def _area(box: _Rectangle) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _clipped(ring: Sequence[Point2], box: _Rectangle) -> Sequence[Point2]:
    """What of a convex ring lies in a rectangle."""
    for axis, bound, sign in ((0, box[0], 1.0), (1, box[1], 1.0), (0, box[2], -1.0), (1, box[3], -1.0)):
        kept: list[Point2] = []
        for a, b in zip(ring, (*ring[1:], *ring[:1]), strict=True):
            at_a, at_b = sign * (a[axis] - bound), sign * (b[axis] - bound)
            if at_a >= 0.0:
                kept.append(a)
            if at_a * at_b < 0.0:
                share = at_a / (at_a - at_b)
                kept.append((a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share))
        ring = kept
    return ring


def _ring_area(ring: Sequence[Point2]) -> float:
    return abs(sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], *ring[:1]), strict=True))) / 2
