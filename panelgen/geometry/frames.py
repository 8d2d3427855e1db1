"""Right-handed frames. The third axis is always the cross product of the first two, so a
left-handed frame (which CAD kernels accept silently, with wrong volumes) cannot be written down."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from panelgen.errors import GeometryError

__all__ = ["WORLD", "Floats", "Frame", "Point2", "Vec3", "add", "cross", "dot", "scaled"]

Vec3 = tuple[float, float, float]
Point2 = tuple[float, float]
Floats = NDArray[np.float64]

_TOLERANCE = 1e-9


def dot(a: Vec3, b: Vec3) -> float:
    """Scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vec3, b: Vec3) -> Vec3:
    """Vector product, right-handed."""
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def add(a: Vec3, b: Vec3) -> Vec3:
    """Sum of two vectors."""
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def scaled(a: Vec3, factor: float) -> Vec3:
    """`a` times a number."""
    return (a[0] * factor, a[1] * factor, a[2] * factor)


@dataclass(frozen=True, slots=True)
class Frame:
    """A place and a direction: origin (mm) and two unit axes in the parent's coordinates.

    Raises GeometryError if the axes are not unit length and perpendicular.
    """

    origin: Vec3
    x: Vec3
    y: Vec3

    def __post_init__(self) -> None:
        (ox, oy, oz), (a, b, c), (d, e, f) = self.origin, self.x, self.y
        if not (
            abs(a * a + b * b + c * c - 1) < _TOLERANCE
            and abs(d * d + e * e + f * f - 1) < _TOLERANCE
            and abs(a * d + b * e + c * f) < _TOLERANCE
            and math.isfinite(ox + oy + oz)
        ):
            raise GeometryError(f"frame axes must be unit and perpendicular: {self}")

    @property
    def z(self) -> Vec3:
        """Third axis, x cross y."""
        return cross(self.x, self.y)

    @property
    def axes(self) -> Floats:
        """(3, 3) float: rows are the x, y and z axes in the parent's coordinates."""
        return np.array((self.x, self.y, self.z))

    def point(self, x: float, y: float, z: float) -> Vec3:
        """A local point in the parent's coordinates."""
        return add(self.origin, self.vector(x, y, z))

    def vector(self, x: float, y: float, z: float) -> Vec3:
        """A local direction in the parent's coordinates."""
        a, b, c = self.x, self.y, self.z
        return (
            a[0] * x + b[0] * y + c[0] * z,
            a[1] * x + b[1] * y + c[1] * z,
            a[2] * x + b[2] * y + c[2] * z,
        )

    def to_parent(self, points: ArrayLike) -> Floats:
        """(n, 3) local points, mm, to (n, 3) in the parent's coordinates."""
        local: Any = np.asarray(points, dtype=float)
        result: Floats = local @ self.axes + np.array(self.origin)
        return result

    def to_local(self, points: ArrayLike) -> Floats:
        """(n, 3) points of the parent, mm, to (n, 3) local ones."""
        parent: Any = np.asarray(points, dtype=float)
        result: Floats = (parent - np.array(self.origin)) @ self.axes.T
        return result

    def compose(self, inner: Frame) -> Frame:
        """`inner`, given in this frame, expressed in this frame's parent."""
        return Frame(self.point(*inner.origin), self.vector(*inner.x), self.vector(*inner.y))


WORLD = Frame((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
