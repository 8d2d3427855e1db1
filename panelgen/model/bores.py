"""Which bores go clean through the wide faces of a stick, and which need more than a hole in a face.

A bore is clean where it keeps clear of every edge, end, notch and other bore. The tests are exact for
bores square to the face and on the safe side for others: a doubtful bore is never called clean.
"""

from __future__ import annotations

import math
from itertools import combinations

from panelgen.geometry.frames import Point2, add, cross, dot, scaled
from panelgen.geometry.lofts import Cylinder
from panelgen.model.sticks import Recess, Stick

__all__ = ["MARGIN", "centre_at", "meets_notch", "sort_bores"]

MARGIN = 1e-5
"""mm. Holes nearer than this to an edge or to one another are not drawn as holes in a face."""

_Form = tuple[float, float, float, float]  # coefficients of x, y and z, and a constant; positive is inside
_LEVEL = 1e-9


def sort_bores(stick: Stick) -> tuple[tuple[Cylinder, ...], tuple[tuple[Cylinder, ...], ...]]:
    """The clean bores, and the others in groups that keep clear of one another and of the clean ones."""
    bores = stick.bores
    edges = _edge_forms(stick)
    doubtful = [not _is_through(bore, stick, edges) for bore in bores]
    linked = [
        (i, j) for i, j in combinations(range(len(bores)), 2) if not _are_apart(bores[i], bores[j], stick.thickness)
    ]
    for i, j in linked:
        doubtful[i] = doubtful[j] = True
    clean = tuple(bore for bore, doubt in zip(bores, doubtful, strict=True) if not doubt)
    return clean, _groups(bores, [i for i, doubt in enumerate(doubtful) if doubt], linked)


def centre_at(bore: Cylinder, z: float) -> Point2:
    """Where the axis of a bore that is not level crosses the plane at `z`."""
    along = (z - bore.point[2]) / bore.axis[2]
    return bore.point[0] + bore.axis[0] * along, bore.point[1] + bore.axis[1] * along


def meets_notch(bore: Cylinder, stick: Stick) -> bool:
    """True where the bore may touch a notch; a bore that is level counts as touching every notch."""
    if abs(bore.axis[2]) < _LEVEL:
        return bool(stick.notches)
    return any(
        not any(_is_inside(form, bore, stick.thickness) for form in _outside_forms(notch)) for notch in stick.notches
    )


def _is_through(bore: Cylinder, stick: Stick, edges: tuple[_Form, ...]) -> bool:
    if abs(bore.axis[2]) < _LEVEL:
        return False
    if not all(_is_inside(form, bore, stick.thickness) for form in edges):
        return False
    return not (stick.notches and meets_notch(bore, stick))


def _edge_forms(stick: Stick) -> tuple[_Form, ...]:
    (c0, y0, z0), (c1, y1, z1) = stick.start, stick.end
    return (
        (0.0, 1.0, 0.0, 0.0),
        (0.0, -1.0, 0.0, stick.width),
        (1.0, -y0, -z0, -c0),
        (-1.0, y1, z1, c1),
    )


def _outside_forms(notch: Recess) -> tuple[_Form, ...]:
    """Inside one of these is outside the notch; the box around a triangle stands for it."""
    x0, x1, y0, y1 = notch[:4]
    return (
        (-1.0, 0.0, 0.0, x0),
        (1.0, 0.0, 0.0, -x1),
        (0.0, -1.0, 0.0, y0),
        (0.0, 1.0, 0.0, -y1),
    )


def _is_inside(form: _Form, bore: Cylinder, thickness: float) -> bool:
    """Whether the bore's ellipses on both wide faces keep `MARGIN` inside a linear form."""
    a, b, c, constant = form
    sx, sy = bore.axis[0] / bore.axis[2], bore.axis[1] / bore.axis[2]
    reach = bore.radius * math.sqrt(a * a + b * b + (a * sx + b * sy) ** 2)
    needed = reach + MARGIN * math.hypot(a, b)
    for z in (0.0, thickness):
        x, y = centre_at(bore, z)
        if a * x + b * y + c * z + constant < needed:
            return False
    return True


def _are_apart(a: Cylinder, b: Cylinder, thickness: float) -> bool:
    """Whether two bores keep `MARGIN` apart inside the thickness (level ones: everywhere)."""
    if abs(a.axis[2]) < _LEVEL or abs(b.axis[2]) < _LEVEL:
        return _axis_distance(a, b) >= a.radius + b.radius + MARGIN
    (ax, ay), (bx, by) = centre_at(a, 0.0), centre_at(b, 0.0)
    (fx, fy), (gx, gy) = centre_at(a, thickness), centre_at(b, thickness)
    x, y = bx - ax, by - ay
    dx, dy = gx - fx - x, gy - fy - y
    square = dx * dx + dy * dy
    at = min(1.0, max(0.0, -(x * dx + y * dy) / square)) if square > _LEVEL**2 else 0.0
    nearest = math.hypot(x + at * dx, y + at * dy)
    return nearest >= a.radius / abs(a.axis[2]) + b.radius / abs(b.axis[2]) + MARGIN


def _axis_distance(a: Cylinder, b: Cylinder) -> float:
    """Least distance between two endless axes."""
    between = add(b.point, scaled(a.point, -1.0))
    normal = cross(a.axis, b.axis)
    size = math.sqrt(dot(normal, normal))
    if size > _LEVEL:
        return abs(dot(between, normal)) / size
    away = cross(between, a.axis)
    return math.sqrt(dot(away, away))


def _groups(
    bores: tuple[Cylinder, ...], doubtful: list[int], linked: list[tuple[int, int]]
) -> tuple[tuple[Cylinder, ...], ...]:
    """The doubtful bores, gathered by the links between them."""
    group = {i: i for i in doubtful}
    for i, j in linked:
        low, high = sorted((group[i], group[j]))
        group = {k: low if g == high else g for k, g in group.items()}
    return tuple(tuple(bores[i] for i in doubtful if group[i] == first) for first in doubtful if group[first] == first)
