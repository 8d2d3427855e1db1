"""A stick with cut ends and notches as convex blocks of eight corners.

Notches are boxes or birdsmouths cut from the long edges, so the stick is sliced along its length at their
depths; each slice runs from the start to the end, broken by the notches that reach into it. Where two planes
bound a stretch at one end, or the planes of its ends cross inside it, its section is parted along the line
in which they meet, so every block lies between one plane and another. This is exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise, product

from panelgen.geometry.frames import Point2, Vec3
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
    blocks: list[list[Vec3]] = []
    for y in _slices(member):
        section = [(y[0], 0.0), (y[0], member.thickness), (y[1], member.thickness), (y[1], 0.0)]
        for low, high in _stretches(member, y):
            lows = [start] if low is None or _same(low, start) else [start, low]
            highs = [end] if high is None or _same(high, end) else [end, high]
            for first, last in product(lows, highs):
                blocks += _blocks(first, last, _bounded(section, first, last, lows, highs))
    return blocks


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


def _bounded(
    section: Sequence[Point2], low: _Plane, high: _Plane, lows: Sequence[_Plane], highs: Sequence[_Plane]
) -> Sequence[Point2]:
    """The part of a section, (y, z), where `low` and `high` are the innermost planes and apart; empty without one."""
    for inner, outer in ((high, low), *((low, one) for one in lows), *((one, high) for one in highs)):
        if inner is not outer:
            section = _kept(section, [_at(inner, y, z) - _at(outer, y, z) for y, z in section])
    return section


def _kept(ring: Sequence[Point2], values: Sequence[float]) -> Sequence[Point2]:
    """The part of a convex ring where a linear function, given at its corners, is positive."""
    if not values or max(values) <= _LEAST:
        return []
    if min(values) >= -_LEAST:
        return ring
    kept = []
    for k, (a, at_a) in enumerate(zip(ring, values, strict=True)):
        b, at_b = ring[(k + 1) % len(ring)], values[(k + 1) % len(ring)]
        if at_a >= 0.0:
            kept.append(a)
        if min(at_a, at_b) < 0.0 < max(at_a, at_b):
            share = at_a / (at_a - at_b)
            kept.append((a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])))
    return kept


def _same(plane: _Plane, other: _Plane) -> bool:
    return max(abs(a - b) for a, b in zip(plane, other, strict=True)) < _LEAST


def _at(plane: _Plane, y: float, z: float) -> float:
    return plane[0] + plane[1] * y + plane[2] * z


def _blocks(low: _Plane, high: _Plane, section: Sequence[Point2]) -> Iterator[list[Vec3]]:
    """The blocks over a convex section, (y, z), four of its corners at a time; a repeated corner makes a wedge."""
    for k in range(1, len(section) - 1, 2):
        a, b, c = section[0], section[k], section[k + 1]
        corners = (a, b, section[k + 2] if k + 2 < len(section) else c, c)
        yield [(_at(plane, y, z), y, z) for plane in (low, high) for y, z in corners]
