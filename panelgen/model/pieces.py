"""The solid pieces of runs and fittings: the one geometry that checks, solids and meshes share.

A round run is a row of tubes, mitred at the bends. A rectangular one is a row of straight pieces whose
ends lie in the planes that halve the bends, so they touch and never overlap, and their volume is the
section times the path. Where a bend is too sharp for its neighbours' length both ends are square.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from panelgen.geometry.frames import Floats, Frame, Vec3, add, cross, dot, scaled
from panelgen.geometry.lofts import Body
from panelgen.geometry.mitres import Tube, corner_points, tubes_along
from panelgen.model.bodies import stick_body
from panelgen.model.services import Fitting, RunPart, Section
from panelgen.model.sticks import EndPlane, Stick, plane_x

__all__ = ["DuctPiece", "Piece", "ducts_along", "fitting_pieces", "half_extents", "run_pieces"]

_DECIMALS = 6
_SLOPE_DECIMALS = 12
_THROUGH = math.sqrt(0.5)
_SHARPEST = math.cos(math.radians(135.0))
_SPARE = 0.98


@dataclass(frozen=True, slots=True)
class DuctPiece:
    """One straight length of a rectangular run. `frame` is at a corner: x along it, y across its width, z its depth.

    `stick` is its shape in that frame; equal shapes are equal, so it is the key to a shape made once.
    """

    frame: Frame
    stick: Stick

    @property
    def body(self) -> Body:
        """The piece as a body, in its own coordinates."""
        return stick_body(self.stick)

    def volume(self) -> float:
        """Volume, mm3."""
        stick = self.stick
        middle = [plane_x(plane, stick.width / 2, stick.thickness / 2) for plane in (stick.start, stick.end)]
        return (middle[1] - middle[0]) * stick.width * stick.thickness

    def corners(self) -> Floats:
        """(8, 3) float, in the coordinates of the path; index bits are end, far width, far depth (4, 2, 1)."""
        stick = self.stick
        rows = [
            (plane_x(plane, y, z), y, z)
            for plane in (stick.start, stick.end)
            for y in (0.0, stick.width)
            for z in (0.0, stick.thickness)
        ]
        return self.frame.to_parent(np.array(rows))


Piece = Tube | DuctPiece


def run_pieces(run: RunPart) -> tuple[Piece, ...]:
    """The pieces of a run in its panel, insulation included, from first to last, in panel coordinates."""
    return _pieces(run.path, run.outside_diameter, run.outside_section)


def fitting_pieces(fitting: Fitting) -> tuple[Piece, ...]:
    """The pieces of a fitting in panel coordinates: the way through it, then a tee's branch."""
    ends = [add(fitting.point, arm) for arm in fitting.arms]
    through = (ends[0], fitting.point, ends[1])
    branches = [(fitting.point, end) for end in ends[2:]]
    return tuple(piece for path in (through, *branches) for piece in _pieces(path, fitting.diameter, fitting.section))


def half_extents(run: RunPart, a: Vec3, b: Vec3) -> Vec3:
    """How far the section of a run that goes from a to b reaches along each axis, mm; a round one's radius."""
    section = run.outside_section
    if section is None or a == b:
        radius = run.outside_diameter / 2
        return (radius, radius, radius)
    _, width, depth = _axes(a, b)
    x, y, z = (abs(w) * section[0] / 2 + abs(d) * section[1] / 2 for w, d in zip(width, depth, strict=True))
    return (x, y, z)


def ducts_along(path: Sequence[Vec3], section: Section) -> tuple[DuctPiece, ...]:
    """Pieces of a rectangular `section` along `path`, mm, end to end; see `Section` for how they are turned.

    Repeated and straight-through points are left out.
    """
    points = corner_points(path)
    axes = [_axes(a, b) for a, b in pairwise(points)]
    normals = _end_normals(points, axes, section)
    return tuple(
        _piece(a, b, frame, section, ends) for (a, b), frame, ends in zip(pairwise(points), axes, normals, strict=True)
    )


def _pieces(path: Sequence[Vec3], diameter: float, section: Section | None) -> tuple[Piece, ...]:
    if section is None:
        return tubes_along(path, diameter / 2)
    return ducts_along(path, section)


_Axes = tuple[Vec3, Vec3, Vec3]
"""Unit vectors along a piece, across its width and through its depth; right-handed."""


def _axes(a: Vec3, b: Vec3) -> _Axes:
    along = scaled(add(b, scaled(a, -1.0)), 1.0 / math.dist(a, b))
    toward = (0.0, 0.0, 1.0) if abs(along[2]) <= _THROUGH else (0.0, 1.0, 0.0)
    flat = add(toward, scaled(along, -dot(toward, along)))
    depth = scaled(flat, 1.0 / math.sqrt(dot(flat, flat)))
    return along, cross(depth, along), depth


def _end_normals(points: Sequence[Vec3], axes: Sequence[_Axes], section: Section) -> list[tuple[Vec3, Vec3]]:
    """The normals of the end planes of each piece: along it, or halving the bend where the mitre fits."""
    lengths = [math.dist(a, b) for a, b in pairwise(points)]
    normals = [[along, along] for along, _, _ in axes]
    for k, (here, following) in enumerate(pairwise(axes)):
        both = add(here[0], following[0])
        if dot(here[0], following[0]) < _SHARPEST:
            continue
        halving = scaled(both, 1.0 / math.sqrt(dot(both, both)))
        if all(
            2 * _setback(halving, piece, section) <= _SPARE * length
            for piece, length in ((here, lengths[k]), (following, lengths[k + 1]))
        ):
            normals[k][1] = normals[k + 1][0] = halving
    return [(start, end) for start, end in normals]


def _setback(halving: Vec3, axes: _Axes, section: Section) -> float:
    """How far before or beyond the bend the mitre ends."""
    along, width, depth = axes
    reach = abs(dot(halving, width)) * section[0] + abs(dot(halving, depth)) * section[1]
    return reach / 2 / dot(halving, along)


def _piece(a: Vec3, b: Vec3, axes: _Axes, section: Section, ends: tuple[Vec3, Vec3]) -> DuctPiece:
    along, across, _ = axes
    width, depth = (round(side, _DECIMALS) for side in section)
    length = round(math.dist(a, b), _DECIMALS)
    start, end = (_plane(x, normal, axes, (width, depth)) for x, normal in zip((0.0, length), ends, strict=True))
    corner = add(a, add(scaled(across, -width / 2), scaled(axes[2], -depth / 2)))
    return DuctPiece(Frame(corner, along, across), Stick(length, width, depth, start, end))


def _plane(x: float, normal: Vec3, axes: _Axes, section: Section) -> EndPlane:
    """The plane through the middle of the section at `x`, as a stick's end plane."""
    along, across, deep = axes
    forward = dot(normal, along)
    by_width = round(-dot(normal, across) / forward, _SLOPE_DECIMALS) + 0.0
    by_depth = round(-dot(normal, deep) / forward, _SLOPE_DECIMALS) + 0.0
    at_corner = round(x - by_width * section[0] / 2 - by_depth * section[1] / 2, _DECIMALS) + 0.0
    return at_corner, by_width, by_depth
