"""Convex solids as half-spaces, and the stretches of straight lines that lie inside them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from scipy.spatial import ConvexHull

from panelgen.geometry.boxes import Boxes, Ints
from panelgen.geometry.frames import Floats, Point2

__all__ = ["Convex", "hull_ring"]

_FLAT = 1e-9
_FAR = 1e12
"""Where the half-spaces end that only fill up a row (mm)."""


def hull_ring(points: Sequence[Point2]) -> tuple[Point2, ...]:
    """The convex hull of points in a plane, counter-clockwise, without the repeated first point."""
    hull = shapely.convex_hull(shapely.multipoints(points))
    return tuple(shapely.geometry.polygon.orient(hull).exterior.coords[:-1])


def _faces(hull: ConvexHull) -> Floats:
    """The planes of a hull, each once: unit normal and offset, (n, 4)."""
    planes: Floats = np.unique(np.round(hull.equations, 9), axis=0)
    return planes


@dataclass(frozen=True, slots=True, eq=False)
class Convex:
    """k solids: the points p with ``normals[i] @ p <= reach[i]`` (k, h, 3) and (k, h), normals of unit length.

    Rows are filled up with half-spaces that hold everything. `boxes` are the boxes around the solids, mm.
    """

    normals: Floats
    reach: Floats
    boxes: Boxes

    @classmethod
    def prisms(cls, rings: Sequence[Sequence[Point2]], z: Floats, origins: Floats, axes: Floats) -> Convex:
        """Upright prisms over convex counter-clockwise `rings`, between the heights `z` (k, 2), each in its own frame.

        `origins` (k, 3) and `axes` (k, 3, 3), whose rows are unit vectors, place the frames.
        """
        count, sides = len(rings), max((len(ring) for ring in rings), default=0)
        normals = np.zeros((count, sides + 2, 3))
        reach = np.full((count, sides + 2), _FAR)
        lower, upper = np.full((count, 3), np.inf), np.full((count, 3), -np.inf)
        for length in sorted({len(ring) for ring in rings}):
            rows = np.flatnonzero(np.array([len(ring) == length for ring in rings]))
            corners = np.array([rings[row] for row in rows.tolist()], dtype=float)
            along = np.roll(corners, -1, axis=1) - corners
            out = np.stack((along[..., 1], -along[..., 0]), axis=2) / np.linalg.norm(along, axis=2)[..., None]
            normals[rows, :length, :2] = out
            reach[rows, :length] = (out * corners).sum(axis=2)
            for height in (0, 1):
                level = np.broadcast_to(z[rows, height, None, None], (*corners.shape[:2], 1))
                points = np.concatenate((corners, level), axis=2) @ axes[rows] + origins[rows, None]
                lower[rows] = np.minimum(lower[rows], points.min(axis=1))
                upper[rows] = np.maximum(upper[rows], points.max(axis=1))
        normals[:, sides, 2], reach[:, sides] = -1.0, -z[:, 0]
        normals[:, sides + 1, 2], reach[:, sides + 1] = 1.0, z[:, 1]
        placed = normals @ axes
        return cls(placed, reach + (placed * origins[:, None]).sum(axis=2), Boxes(lower, upper))

    @classmethod
    def hulls(cls, clouds: Sequence[Floats]) -> Convex:
        """The hull of each cloud of points (n, 3), which must not lie in one plane."""
        faces = [_faces(ConvexHull(cloud)) for cloud in clouds]
        most = max((len(rows) for rows in faces), default=0)
        normals, reach = np.zeros((len(faces), most, 3)), np.full((len(faces), most), _FAR)
        for row, planes in enumerate(faces):
            normals[row, : len(planes)], reach[row, : len(planes)] = planes[:, :3], -planes[:, 3]
        corners = [(cloud.min(axis=0), cloud.max(axis=0)) for cloud in clouds]
        lower, upper = np.array(corners).reshape(-1, 2, 3).transpose(1, 0, 2)
        return cls(normals, reach, Boxes(lower, upper))

    @classmethod
    def joined(cls, lots: Sequence[Convex]) -> Convex:
        """All solids of some lots, in that order."""
        most = max(lot.reach.shape[1] for lot in lots)
        normals = [np.pad(lot.normals, ((0, 0), (0, most - lot.reach.shape[1]), (0, 0))) for lot in lots]
        reach = [np.pad(lot.reach, ((0, 0), (0, most - lot.reach.shape[1])), constant_values=_FAR) for lot in lots]
        boxes = Boxes(np.concatenate([lot.boxes.low for lot in lots]), np.concatenate([lot.boxes.high for lot in lots]))
        return cls(np.concatenate(normals), np.concatenate(reach), boxes)

    def __len__(self) -> int:
        return len(self.reach)

    def stretches(self, solid: Ints, start: Floats, end: Floats, grown: Floats) -> Floats:
        """(n, 2) from where to where, as shares of the way from `start` to `end` (n, 3), a line is inside `solid` (n,).

        The solid is `grown` (n,) mm on every side. Where the line is all outside, the first share is not below
        the second.
        """
        room = self.reach[solid] + grown[:, None]
        at_start = (self.normals[solid] * start[:, None]).sum(axis=2) - room
        at_end = (self.normals[solid] * end[:, None]).sum(axis=2) - room
        slope = at_end - at_start
        level = ~(np.abs(slope) > _FLAT)
        cross = np.where(level, 0.0, -at_start / np.where(level, 1.0, slope))
        enter = np.where(~level & (slope < 0.0), cross, 0.0).max(axis=1)
        leave = np.where(~level & (slope > 0.0), cross, 1.0).min(axis=1)
        enter[(level & (at_start > _FLAT)).any(axis=1)] = 2.0
        return np.stack((np.maximum(enter, 0.0), np.minimum(leave, 1.0)), axis=1)
