"""A stick with cut ends and notches as convex blocks of eight corners.

Notches are boxes or birdsmouths cut from the long edges, so the stick is sliced along its length at their
depths; each slice runs from the start to the end, broken by the notches that reach into it. Where the
planes that bound a block cross inside it, the block is split or ends in a wedge there. This is exact unless
a side of a notch lies in the stretch of an end that leans across the thickness, where one of the planes is
kept.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from panelgen.geometry.frames import Vec3
from panelgen.model import Member, Notch

__all__ = ["stick_blocks"]

_Plane = tuple[float, float, float]  # c, a, b of x = c + a y + b z
_Span = tuple[float, float]

_LEAST = 1e-6


def stick_blocks(member: Member) -> list[list[Vec3]]:
    """The blocks of a stick, each eight corners in member coordinates ordered as by `Member.local_corners`.

    Empty where cuts and notches leave nothing.
    """
    start = (member.end_x(member.start, False, 0.0, 0.0), member.start.across_width, member.start.across_thickness)
    end = (member.end_x(member.end, True, 0.0, 0.0), member.end.across_width, member.end.across_thickness)
    blocks = []
    for y in _slices(member):
        for low, high in _stretches(member, y):
            lows = [start] if low is None else [start, low]
            highs = [end] if high is None else [end, high]
            blocks += [_block(*bounds, (0.0, member.thickness)) for bounds in _split(lows, highs, y, member.thickness)]
    return [block for block in blocks if max(b[0] - a[0] for a, b in zip(block[:4], block[4:], strict=True)) > _LEAST]


def _slices(member: Member) -> Iterator[_Span]:
    """The width, cut at the depth of every notch."""
    depths = [member.width - n.depth if n.from_far_edge else n.depth for n in member.notches]
    yield from pairwise(sorted({0.0, member.width, *(y for y in depths if _LEAST < y < member.width - _LEAST)}))


def _stretches(member: Member, y: _Span) -> Iterator[tuple[_Plane | None, _Plane | None]]:
    """The stretches of a slice between its notches, as the planes at both ends; None is the stick's own end."""
    middle = (y[0] + y[1]) / 2
    low: _Plane | None = None
    for notch in sorted(member.notches, key=lambda n: (n.x0, n.x1)):
        if (member.width - middle if notch.from_far_edge else middle) < notch.depth:
            left, right = (_side(notch, x, member.width) for x in (notch.x0, notch.x1))
            if low is None or _at(left, middle, 0.0) > _at(low, middle, 0.0):
                yield low, left
            low = right if low is None else max(low, right, key=lambda plane: _at(plane, middle, 0.0))
    yield low, None


def _side(notch: Notch, x: float, width: float) -> _Plane:
    """The plane of the side of a notch that begins at `x` on the long edge: square to it but for a birdsmouth."""
    if notch.apex is None:
        return (x, 0.0, 0.0)
    across = (x - notch.apex if notch.from_far_edge else notch.apex - x) / notch.depth
    return (x - across * width if notch.from_far_edge else x, across, 0.0)


def _split(
    lows: Sequence[_Plane], highs: Sequence[_Plane], y: _Span, thickness: float
) -> Iterator[tuple[_Plane, _Plane, _Span]]:
    """The parts of a slice in which one of the planes at either end is the innermost."""
    crossings = {
        (q[0] - p[0] + (q[2] - p[2]) * thickness / 2) / (p[1] - q[1])
        for planes in (lows, highs)
        for p, q in combinations(planes, 2)
        if abs(p[1] - q[1]) > _LEAST
    }
    for part in pairwise(sorted({*y, *(at for at in crossings if y[0] < at < y[1])})):
        middle = ((part[0] + part[1]) / 2, thickness / 2)
        yield max(lows, key=lambda p: _at(p, *middle)), min(highs, key=lambda p: _at(p, *middle)), part


def _at(plane: _Plane, y: float, z: float) -> float:
    return plane[0] + plane[1] * y + plane[2] * z


def _block(low: _Plane, high: _Plane, y: _Span, z: _Span) -> list[Vec3]:
    """Eight corners. Where the end planes cross inside the section, corners are drawn in to the crossing."""

    def gap(at_y: float, at_z: float) -> float:
        return _at(high, at_y, at_z) - _at(low, at_y, at_z)

    corners: list[Vec3] = []
    for plane in (low, high):
        for at_y, other_y in (y, y[::-1]):
            for at_z, other_z in (z, z[::-1]):
                here, across, through = gap(at_y, at_z), gap(other_y, at_z), gap(at_y, other_z)
                place = (at_y, at_z)
                if here < 0.0 < across:
                    place = (at_y + (other_y - at_y) * here / (here - across), at_z)
                elif here < 0.0 < through:
                    place = (at_y, at_z + (other_z - at_z) * here / (here - through))
                corners.append((_at(plane, *place), *place))
    return corners
