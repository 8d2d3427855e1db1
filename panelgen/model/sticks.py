"""The shape of a member alone: sizes, end planes, holes and notches on a nanometre grid.

Two members of equal shape have equal sticks, whatever they are called and wherever they stand, so a
stick is the key under which volumes, solids and meshes are made once and used many times.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from panelgen.geometry.frames import Point2, Vec3
from panelgen.geometry.lofts import Cylinder, HalfSpace
from panelgen.model.member import Bore, EndCut, Member, Notch

__all__ = ["EndPlane", "Recess", "Stick", "plane_x", "stick_of"]

EndPlane = tuple[float, float, float]
"""x at y = z = 0, and how far x moves per mm of y and per mm of z."""


class Recess(NamedTuple):
    """A notch on the wide face, mm: within x0 to x1 and y0 to y1; a rectangle, or a triangle.

    A triangle has one side on the long edge it opens to, and its third corner at `apex` on the other of
    y0 and y1; `from_far` says that it opens to the far edge. `apex` is None for a rectangle.
    """

    x0: float
    x1: float
    y0: float
    y1: float
    from_far: bool = False
    apex: float | None = None

    @property
    def ring(self) -> tuple[Point2, ...]:
        """Its corners, counter-clockwise."""
        x0, x1, y0, y1, from_far, apex = self
        if apex is None:
            return ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
        return ((x1, y1), (x0, y1), (apex, y0)) if from_far else ((x0, y0), (x1, y0), (apex, y1))


_DECIMALS = 6
_SLOPE_DECIMALS = 12


@dataclass(frozen=True, slots=True)
class Stick:
    """A member's shape in member coordinates, mm. Bores and notches are sorted, without repeats."""

    length: float
    width: float
    thickness: float
    start: EndPlane
    end: EndPlane
    bores: tuple[Cylinder, ...] = ()
    notches: tuple[Recess, ...] = ()

    @property
    def is_sloped(self) -> bool:
        """True where an end leans across the thickness, so that near and far face differ."""
        return self.start[2] != 0.0 or self.end[2] != 0.0

    @property
    def is_pointed(self) -> bool:
        """True where the end planes meet inside the stick, so that it has fewer than eight corners."""
        return sum(min(0.0, change) for change in self._changes) + self._gap < _GRID

    @property
    def is_empty(self) -> bool:
        """True where the end planes leave nothing of the stick."""
        return sum(max(0.0, change) for change in self._changes) + self._gap < _GRID

    @property
    def _gap(self) -> float:
        """How far apart the ends are at y = z = 0."""
        return self.end[0] - self.start[0]

    @property
    def _changes(self) -> tuple[float, float]:
        """By how much the ends move apart across the width and through the thickness."""
        (_, y0, z0), (_, y1, z1) = self.start, self.end
        return (y1 - y0) * self.width, (z1 - z0) * self.thickness

    @property
    def half_spaces(self) -> tuple[HalfSpace, ...]:
        """The six planes of the blank: start, end, then the two edges and the two faces."""
        return (
            HalfSpace((-1.0, self.start[1], self.start[2]), -self.start[0]),
            HalfSpace((1.0, -self.end[1], -self.end[2]), self.end[0]),
            HalfSpace((0.0, -1.0, 0.0), 0.0),
            HalfSpace((0.0, 1.0, 0.0), self.width),
            HalfSpace((0.0, 0.0, -1.0), 0.0),
            HalfSpace((0.0, 0.0, 1.0), self.thickness),
        )


_GRID = 10.0**-_DECIMALS


def stick_of(member: Member) -> Stick:
    """The shape of `member`, each length rounded to a millionth of a millimetre."""
    length, width, thickness = _snap(member.length), _snap(member.width), _snap(member.thickness)
    return Stick(
        length,
        width,
        thickness,
        _end_plane(member, member.start, False),
        _end_plane(member, member.end, True),
        tuple(sorted({_cylinder(bore) for bore in member.bores})) if member.bores else (),
        tuple(sorted({_recess(notch, width) for notch in member.notches}, key=_order)) if member.notches else (),
    )


def plane_x(plane: EndPlane, y: float, z: float) -> float:
    """X of an end plane at (y, z), mm."""
    return plane[0] + plane[1] * y + plane[2] * z


def _snap(value: float) -> float:
    return round(value, _DECIMALS) + 0.0


def _end_plane(member: Member, cut: EndCut, at_end: bool) -> EndPlane:
    if cut.is_square:
        return (_snap(member.length) if at_end else 0.0, 0.0, 0.0)
    across, through = round(cut.across_width, _SLOPE_DECIMALS), round(cut.across_thickness, _SLOPE_DECIMALS)
    return (_snap(member.end_x(cut, at_end, 0.0, 0.0)), across + 0.0, through + 0.0)


def _cylinder(bore: Bore) -> Cylinder:
    """The bore with its axis pointing to the far side and its point where the axis meets the near one."""
    radius = _snap(bore.diameter / 2)
    x, y, z = bore.point
    if bore.is_square:
        return Cylinder((_snap(x), _snap(y), 0.0), (0.0, 0.0, 1.0), radius)
    main = max(range(3), key=lambda k: (round(abs(bore.axis[k]), _DECIMALS), k))
    back = bore.point[main] / bore.axis[main]
    sign = 1.0 if bore.axis[main] > 0 else -1.0
    a, b, c = bore.axis
    point: Vec3 = (_snap(x - a * back), _snap(y - b * back), _snap(z - c * back))
    axis: Vec3 = (
        round(sign * a, _SLOPE_DECIMALS) + 0.0,
        round(sign * b, _SLOPE_DECIMALS) + 0.0,
        round(sign * c, _SLOPE_DECIMALS) + 0.0,
    )
    return Cylinder(point, axis, radius)


def _recess(notch: Notch, width: float) -> Recess:
    depth = min(_snap(notch.depth), width)
    y0, y1 = (_snap(width - depth), width) if notch.from_far_edge else (0.0, depth)
    x0, x1 = _snap(notch.x0), _snap(notch.x1)
    if notch.apex is None:
        return Recess(x0, x1, y0, y1)
    return Recess(x0, x1, y0, y1, notch.from_far_edge, _snap(notch.apex))


def _order(recess: Recess) -> tuple[float, ...]:
    return (*recess[:4], recess.from_far, recess.x0 if recess.apex is None else recess.apex)
