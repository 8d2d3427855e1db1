"""Plumb boards: sticks whose wide face stands plumb over a line in plan, each end cut in one plane.

Rafters, ridges, hips, valleys, fascias and blocking are all of this kind. A board whose line is not up the
slope is dropped: its upper edge stays square and touches the top of the slab along one of its corners only.
"""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.design.framing.sticks import Stock
from panelgen.design.roofs.pitch import Pitch, Plane
from panelgen.geometry.frames import Frame, Point2, Vec3, add, cross, dot, scaled
from panelgen.model import SQUARE, EndCut, Member, Role, Why

__all__ = ["Line", "Room", "board", "crosswise", "room_over"]

Line = tuple[Point2, Point2]
"""Two places in plan; the board is to the left of the way from the first to the second."""


@dataclass(frozen=True, slots=True)
class Room:
    """Where a board may lie over a line, mm: from `low` to `high` in its own plumb face.

    Measured square to the board's length from where the line's plumb plane meets z = 0.
    """

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class _Axes:
    """Unit vectors along a board, up its wide face, and level to the left of its line."""

    along: Vec3
    up: Vec3
    left: Vec3


def _axes(pitch: Pitch, line: Line) -> _Axes:
    (xa, ra), (xb, rb) = line
    along = pitch.direction((xb - xa, rb - ra))
    rest = add(pitch.up, scaled(along, -dot(pitch.up, along)))
    up = scaled(rest, 1.0 / dot(rest, rest) ** 0.5)
    return _Axes(along, up, cross(up, along))


def room_over(pitch: Pitch, line: Line, thickness: float) -> Room:
    """The room for a square-edged board `thickness` thick that stays within the slab."""
    axes = _axes(pitch, line)
    fall = thickness * axes.left[2]
    return Room(max(0.0, -fall) / axes.up[2], (pitch.depth - max(0.0, fall)) / axes.up[2])


def board(
    id: str,
    role: Role,
    stock: Stock,
    pitch: Pitch,
    line: Line,
    ends: tuple[Plane, Plane],
    why: Why,
    *,
    low: float | None = None,
    seated: bool = False,
) -> Member | None:
    """The board left of a line, between the planes of its ends, as deep as its stock and the slab allow.

    It is ripped where the slab has less room, from the bottom, and from `low` up if that is given (see
    `Room`). One that is `seated` stands there even where it does not reach the top. None where nothing is left of it.
    """
    axes = _axes(pitch, line)
    room = room_over(pitch, line, stock.thickness)
    bottom = max(room.low if low is None else max(low, room.low), room.high - stock.width)
    if seated and low is not None:
        bottom = max(low, room.low)
    width = min(room.high - bottom, stock.width)
    if width <= 0.0:
        return None
    along = axes.along
    reads_forward = along[1] > 1e-9 or (abs(along[1]) <= 1e-9 and along[0] > 0.0)
    if not reads_forward:
        along, ends = scaled(along, -1.0), (ends[1], ends[0])
    # The thickness runs along x cross y of the frame: to the left of the line, or to its right.
    through = cross(along, axes.up)
    corner = add(pitch.point(line[0]), scaled(axes.up, bottom))
    if dot(through, axes.left) < 0.0:
        corner = add(corner, scaled(axes.left, stock.thickness))
    cuts = [_end(plane, corner, along, axes.up, through) for plane in ends]
    spans = [
        [at + across * y + slant * z for y in (0.0, width) for z in (0.0, stock.thickness)]
        for at, across, slant in cuts
    ]
    first, last = min(spans[0]), max(spans[1])
    middle = [at + across * width / 2 + slant * stock.thickness / 2 for at, across, slant in cuts]
    if middle[1] - middle[0] <= 0.0:
        return None
    frame = Frame(add(corner, scaled(along, first)), along, axes.up)
    start, end = (EndCut(across, slant) for _, across, slant in cuts)
    return _stick(id, role, stock, width, last - first, frame, why, start, end)


def crosswise(id: str, role: Role, stock: Stock, span: tuple[float, float], y: float, why: Why) -> Member:
    """A stick that stands square in the slab, its lower face at panel y, from one panel x to another."""
    frame = Frame((span[0], y + stock.thickness, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    return _stick(id, role, stock, stock.width, span[1] - span[0], frame, why)


def _stick(
    id: str,
    role: Role,
    stock: Stock,
    width: float,
    length: float,
    frame: Frame,
    why: Why,
    start: EndCut = SQUARE,
    end: EndCut = SQUARE,
) -> Member:
    return Member(
        id=id,
        role=role,
        stock=stock.name,
        species=stock.species,
        grade=stock.grade,
        thickness=stock.thickness,
        width=width,
        length=length,
        density=stock.density,
        frame=frame,
        layer="framing",
        why=why,
        start=start,
        end=end,
    )


def _end(plane: Plane, corner: Vec3, along: Vec3, up: Vec3, through: Vec3) -> tuple[float, float, float]:
    """An end plane in the coordinates of a board: x at y = z = 0, and what it moves per mm of y and of z."""
    normal, offset = plane
    forward = dot(normal, along)
    across, slant = -dot(normal, up) / forward, -dot(normal, through) / forward
    return (
        (offset - dot(normal, corner)) / forward,
        0.0 if abs(across) < 1e-12 else across,
        0.0 if abs(slant) < 1e-12 else slant,
    )
