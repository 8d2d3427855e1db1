"""Whether all that a run and a bored stick share has been bored away, line by line."""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import partial
from itertools import permutations

import numpy as np

from panelgen.checks.timber import Bores
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import EDGES, hexahedra_planes
from panelgen.geometry.legs import Legs
from panelgen.geometry.lines import covered, in_cylinder, in_planes, perpendiculars
from panelgen.geometry.rods import Bools

__all__ = ["SLACK", "ball_inside_bores", "inside_bores"]

SLACK = 1e-6
"""mm. What rounding may add to a run that just fits its bore."""

_SIDES = 128
_ANGLES: Floats = np.linspace(0.0, 2 * np.pi, _SIDES, endpoint=False)
_AT_ONCE = 256
_PER_FACE = 16


def _globe(count: int) -> Floats:
    """(count, 3) unit vectors spread evenly: a spiral that turns by the golden angle at even steps of height."""
    step = np.arange(count) + 0.5
    height = 1.0 - 2.0 * step / count
    turn = step * np.pi * (3.0 - 5**0.5)
    wide = np.sqrt(1.0 - height**2)
    return np.stack((wide * np.cos(turn), wide * np.sin(turn), height), axis=1)


_GLOBE = _globe(512)


def inside_bores(legs: Legs, blocks: Floats, bores: Bores, near: Ints, shaved: float) -> Bools:
    """(n,) True where all that leg k, `shaved` mm taken off it, shares with its block (n, 8, 3) has been bored away.

    `near` (n, most) are the bores near leg k in the block's stick, -1 for none. What leg and block share
    is convex, so it is enough to follow lines along the leg's surface and the edges of the block: the
    part of each that lies in both must be covered by the bores. The lines on a round surface are so
    close that a chord between two leaves the circle by 0.03 % of the radius. Where one bore takes it all,
    the edges of a rectangular leg would do; between two bores wood can stand up in the middle of a face,
    so its faces are followed line by line as well. A few lines come first: most legs that fail, fail there.
    """
    result = np.zeros(len(legs), dtype=bool)
    bored = (near >= 0).any(axis=1)
    few, every = (partial(_round_lines, angles=_ANGLES[::step]) for step in (_SIDES // 4, 1))
    for square, followed in ((False, (few, every)), (True, (_square_lines,))):
        rows = np.flatnonzero(bored & (legs.square == square))
        # Round lines are those of the shaved leg; a rectangular leg is given that much more room instead.
        room = shaved if square else 0.0
        for lines_in_both in followed:
            through = np.zeros(len(rows), dtype=bool)
            for first in range(0, len(rows), _AT_ONCE):
                part = rows[first : first + _AT_ONCE]
                lines = lines_in_both(legs.take(part), blocks[part], shaved)
                starts, ends = _bored_stretches(lines.point, lines.direction, bores, near[part], room)
                through[first : first + _AT_ONCE] = covered(lines.low, lines.high, starts, ends, SLACK).all(axis=1)
            rows = rows[through]
        result[rows] = True
    return result


@dataclass(frozen=True, slots=True, eq=False)
class _Lines:
    """l lines for each of n pairs, `point` and `direction` (n, l, 3), and where they lie in both bodies (n, l)."""

    point: Floats
    direction: Floats
    low: Floats
    high: Floats

    def joined(self, other: _Lines) -> _Lines:
        return _Lines(*(np.concatenate((getattr(self, f.name), getattr(other, f.name)), axis=1) for f in fields(self)))


def _round_lines(legs: Legs, blocks: Floats, shaved: float, angles: Floats) -> _Lines:
    """Lines along the surface at some angles around the axis, and the edges of the block."""
    rods = legs.rods.shaved(shaved)
    normals, offsets = hexahedra_planes(blocks)
    first, second = perpendiculars(rods.direction)
    circle = np.cos(angles)[:, None] * first[:, None] + np.sin(angles)[:, None] * second[:, None]
    surface = rods.start[:, None] + rods.radius[:, None, None] * circle
    along = np.broadcast_to(rods.direction[:, None], surface.shape)
    low, high = in_planes(surface, along, normals[:, None], offsets[:, None])
    on_leg = _Lines(surface, along, np.maximum(low, 0.0), np.minimum(high, rods.length[:, None]))

    begin, edge = _edges(blocks)
    low, high = in_cylinder(begin, edge, rods.start[:, None], rods.direction[:, None], rods.radius[:, None])
    caps = np.stack((-rods.direction, rods.direction), axis=1)
    reach = np.einsum("nkc,nkc->nk", caps, np.stack((rods.start, rods.end), axis=1))
    cap_low, cap_high = in_planes(begin, edge, caps[:, None], reach[:, None])
    return on_leg.joined(
        _Lines(
            begin,
            edge,
            np.maximum(np.maximum(low, cap_low), 0.0),
            np.minimum(np.minimum(high, cap_high), 1.0),
        )
    )


def _square_lines(legs: Legs, blocks: Floats, shaved: float) -> _Lines:
    def lines_in(own: Floats, other: Floats, inset: float) -> _Lines:
        normals, offsets = hexahedra_planes(other)
        begin, edge = _edges(own)
        across, along = _face_lines(own)
        begin, edge = np.concatenate((begin, across), axis=1), np.concatenate((edge, along), axis=1)
        low, high = in_planes(begin, edge, normals[:, None], offsets[:, None] - inset)
        return _Lines(begin, edge, np.maximum(low, 0.0), np.minimum(high, 1.0))

    return lines_in(legs.corners, blocks, shaved).joined(lines_in(blocks, legs.corners, shaved))


def _face_lines(blocks: Floats) -> tuple[Floats, Floats]:
    """Starts and directions of lines from edge to edge of the faces of blocks (n, 8, 3), both ways over each face."""
    share = (np.arange(_PER_FACE) + 0.5)[:, None] / _PER_FACE
    starts, directions = [], []
    for along, across, fixed in permutations((4, 2, 1)):
        for side in (0, fixed):
            near, far = blocks[:, side], blocks[:, side + along]
            start = near[:, None] + share * (blocks[:, side + across] - near)[:, None]
            end = far[:, None] + share * (blocks[:, side + along + across] - far)[:, None]
            starts.append(start)
            directions.append(end - start)
    return np.concatenate(starts, axis=1), np.concatenate(directions, axis=1)


def _edges(blocks: Floats) -> tuple[Floats, Floats]:
    begin = blocks[:, EDGES[:, 0]]
    return begin, blocks[:, EDGES[:, 1]] - begin


def _bored_stretches(
    points: Floats, directions: Floats, bores: Bores, near: Ints, room: float
) -> tuple[Floats, Floats]:
    """Where lines (n, l) run in each of the bores near pair k, `room` mm wider: (n, l, most) starts and ends."""
    has = near[:, None] >= 0
    low, high = in_cylinder(
        points[:, :, None],
        directions[:, :, None],
        bores.point[near][:, None],
        bores.axis[near][:, None],
        bores.radius[near][:, None] + room,
    )
    return np.where(has, low, np.inf), np.where(has, high, -np.inf)


def ball_inside_bores(center: Floats, radius: float, block: Floats, bores: Bores, near: Ints) -> bool:
    """True where all that a ball shares with a block (8, 3) has been bored away by the bores `near` it.

    Points of the ball's surface, of the circles in which it cuts the planes of the block, and of the
    block's edges in it are looked up one by one: the convex body that both share ends in such points.
    """
    points = _ends_of_shared_body(center, radius, block)
    offset = points[:, None] - bores.point[near]
    along = np.einsum("pkc,kc->pk", offset, bores.axis[near])
    off_axis = np.linalg.norm(offset - along[..., None] * bores.axis[near], axis=2)
    return bool((off_axis <= bores.radius[near] + SLACK).any(axis=1).all())


def _ends_of_shared_body(center: Floats, radius: float, corners: Floats) -> Floats:
    """(p, 3) points of a ball's surface, of its circles in the planes of a block and of the block's edges, in both."""
    normals, offsets = (rows[0] for rows in hexahedra_planes(corners[None]))
    height = normals @ center - offsets
    cut = (np.abs(height) < radius) & normals.any(axis=1)
    first, second = perpendiculars(normals[cut])
    width = np.sqrt(radius**2 - height[cut] ** 2)[:, None, None]
    circle = np.cos(_ANGLES)[:, None] * first[:, None] + np.sin(_ANGLES)[:, None] * second[:, None]
    rings = (center - height[cut, None] * normals[cut])[:, None] + width * circle
    begin = corners[EDGES[:, 0]]
    edge = corners[EDGES[:, 1]] - begin
    a, b = np.einsum("ec,ec->e", edge, edge), np.einsum("ec,ec->e", edge, begin - center)
    root = b**2 - a * (np.einsum("ec,ec->e", begin - center, begin - center) - radius**2)
    met = root > 0
    sides = [np.clip((-b[met] + sign * np.sqrt(root[met])) / a[met], 0.0, 1.0) for sign in (-1.0, 1.0)]
    on_edges = [begin[met] + side[:, None] * edge[met] for side in sides]
    points = np.concatenate((center + radius * _GLOBE, rings.reshape(-1, 3), *on_edges))
    in_block = (points @ normals.T <= offsets + SLACK).all(axis=1)
    in_ball = np.linalg.norm(points - center, axis=1) <= radius + SLACK
    result: Floats = points[in_block & in_ball]
    return result
