"""The plies of built-up headers: how many each has, and which one lies inside or outside of another."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.design.fastening.elevation import TOUCH, Elevation, role_code
from panelgen.design.tables import pairs_within
from panelgen.geometry.boxes import Ints
from panelgen.model import Role

__all__ = ["NO_PLY", "Plies"]

NO_PLY = -1


@dataclass(frozen=True, slots=True, eq=False)
class Plies:
    """For each of n sticks: the plies of its header (1 if it is none), and the plies inside and outside of it.

    `inside` and `outside` (n,) are rows of sticks, `NO_PLY` where there is none.
    """

    count: Ints
    inside: Ints
    outside: Ints

    @classmethod
    def of(cls, sticks: Elevation) -> Plies:
        """The plies among some sticks: headers of one length at one place in elevation."""
        count = np.ones(len(sticks), dtype=np.int64)
        inside = np.full(len(sticks), NO_PLY)
        outside = np.full(len(sticks), NO_PLY)
        header = np.flatnonzero(sticks.built & (sticks.role == role_code(Role.HEADER)))
        place = np.concatenate((sticks.x[header], sticks.low[header, :1], sticks.high[header, :1]), axis=1)
        a, b = pairs_within(sticks.panel[header], sticks.panel[header])
        same = (np.abs(place[a] - place[b]) < TOUCH).all(axis=1)
        count[header] = np.bincount(a[same], minlength=len(header))
        inner, outer = header[a], header[b]
        behind = same & (np.abs(sticks.z[inner, 1] - sticks.z[outer, 0]) < TOUCH)
        outside[inner[behind]] = outer[behind]
        inside[outer[behind]] = inner[behind]
        return cls(count, inside, outside)
