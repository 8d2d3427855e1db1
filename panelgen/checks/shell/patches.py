"""Where faces of two panels are opposite at their joints: the stretches along which a joint is closed or open."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.shell.meeting import REACH, SUNK, Meeting
from panelgen.checks.shell.ways import Ways
from panelgen.geometry.boxes import Ints
from panelgen.geometry.cover import Lines
from panelgen.geometry.facing import Facing, opposite
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.geometry.tolerance import TOLERANCE

__all__ = ["ACROSS", "Patches"]

ACROSS = 1.0
"""Faces bear on one another over this width (mm) at least, else they touch along an edge."""

_LEANS = 0.7
"""What carries may lean toward what it bears on by about 45 degrees: a level plate under rafters."""

_PARALLEL = 0.99
"""Faces are parallel to about 8 degrees."""

_SLOPE = 0.01
"""Faces slope along a joint if their unit normals are along it by more than this: half a degree."""


@dataclass(frozen=True, slots=True, eq=False)
class Patches:
    """p patches of joints, where two `faces` are opposite: the way of each, and its stretch of the joint.

    `way`, `low` and `high` are (p,), `gap` (p, 2) at both ends, mm. `sense` (p,) is 1 where the normal of the faces
    leads from the first panel of the way to the second, else -1. `carries` (p,) is whether one may bear on the other.
    """

    faces: Facing
    way: Ints
    low: Floats
    high: Floats
    gap: Floats
    sense: Floats
    carries: Bools

    @classmethod
    def of(cls, meeting: Meeting, ways: Ways) -> Patches:
        """Where faces that meet in the ways of their panels are opposite."""
        row, way = ways.of_pairs(meeting.one, meeting.other)
        level = np.abs(np.einsum("kc,kc->k", meeting.faces.normal[row], ways.across[way])) >= ways.share[way]
        kept = level & (meeting.framing[row] | ~ways.framing[way])
        kept &= meeting.faces.square[row] >= np.maximum(ways.share[way], _LEANS)
        row, way = row[kept], way[kept]
        faces = meeting.faces.take(row)
        found = opposite(faces, ways.along[way], ACROSS)
        aside = np.where(ways.flush[way], _aside(faces, ways.out[way]), 0.0)
        sense = np.where(meeting.one[row] == ways.one[way], 1.0, -1.0)
        gap = np.hypot(np.maximum(found.gap, 0.0), aside[:, None])
        apart = gap.min(axis=1, initial=np.inf)
        ahead = found.gap.min(axis=1, initial=np.inf) >= -SUNK
        some = np.flatnonzero(
            (found.high > found.low) & ahead & (apart <= REACH) & _count(faces.square, way, len(ways))
        )
        return cls(
            faces.take(some),
            way[some],
            found.low[some],
            found.high[some],
            gap[some],
            sense[some],
            meeting.carries[row[some]],
        )

    def lines(self, rows: Ints) -> Lines:
        """The stretches of some of them, by way."""
        return self.way[rows], self.low[rows], self.high[rows]

    def slanting(self, ways: Ways) -> Ints:
        """The ways in which faces that slope along the joint meet, as a raked plate and a rafter do."""
        slope = np.abs((self.faces.normal * ways.along[self.way]).sum(axis=1))
        found: Ints = np.unique(self.way[slope > _SLOPE])
        return found

    @property
    def closed(self) -> Ints:
        """Those whose faces meet."""
        rows: Ints = np.flatnonzero(self.gap.max(axis=1, initial=0.0) <= TOLERANCE)
        return rows


def _count(square: Floats, way: Ints, ways: int) -> Bools:
    """(p,) whether faces count: those that lean toward one another only in ways in which no parallel ones meet."""
    parallel = square >= _PARALLEL
    met = np.zeros(ways, dtype=bool)
    met[way[parallel]] = True
    return parallel | ~met[way]


def _aside(faces: Facing, out: Floats) -> Floats:
    """(k,) how far two faces stand out of one another along `out` (k, 3), by the nearer of their sides."""
    a, b = (np.einsum("kvc,kc->vk", face, out) for face in (faces.near, faces.far))
    result: Floats = np.minimum(np.abs(a.min(axis=0) - b.min(axis=0)), np.abs(a.max(axis=0) - b.max(axis=0)))
    return result
