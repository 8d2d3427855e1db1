"""The sticks of some panels as arrays, each panel seen in elevation.

Every stick of a wall is plumb-sided there: uprights have plumb sides, plates and straps plumb ends,
however the top slopes. So each one is two plumb lines, a lower and an upper edge between them, and a depth.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain

import numpy as np

from panelgen.design.tables import columns
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Member, Role

__all__ = ["TOUCH", "Elevation", "role_code"]

TOUCH = 0.5
"""Faces nearer than this (mm) meet: saw tolerance, common practice, no source."""

_CODES = {role: code for code, role in enumerate(Role)}
_PLUMB = 1.0 - 1e-9
_SIDE = 1e-3
"""Corners within this of the leftmost (or rightmost) one (mm) are on the same plumb line."""

_BITS = np.arange(8)
_CORNERS = np.stack((_BITS >> 2 & 1, _BITS >> 1 & 1, _BITS & 1), axis=1)


def role_code(role: Role) -> int:
    """The number that stands for a role in `Elevation.role`."""
    return _CODES[role]


@dataclass(frozen=True, slots=True, eq=False)
class Elevation:
    """n sticks, panel coordinates, mm; rows are in the order of the panels and of the members of each.

    `panel` (n,) numbers the panel of each, ascending. `x` (n, 2) are the left and right sides, `low` and
    `high` (n, 2) the heights of the lower and upper edge at those sides, `low_rise` and `high_rise` (n,)
    what they rise per mm of x, and `z` (n, 2) the depth. `flange` (n,) is how much of the width each flange
    of an I section takes up, 0 for solid sticks. `thick` (n,) is the panel axis nearest to the stick's
    thickness. `built` (n,) bool is True for framing that the shop nails together: neither a strap nor loose.
    """

    panel: Ints
    role: Ints
    standing: Bools
    strap: Bools
    loose: Bools
    built: Bools
    thick: Ints
    x: Floats
    low: Floats
    high: Floats
    z: Floats
    low_rise: Floats
    high_rise: Floats
    flange: Floats

    @classmethod
    def of(cls, panels: Sequence[Sequence[Member]]) -> Elevation:
        """The members of each of some panels; there must be at least one."""
        members = list(chain.from_iterable(panels))
        rows = [
            (
                *f.origin,
                *f.x,
                *f.y,
                m.length,
                m.width,
                m.thickness,
                _CODES[m.role],
                m.loose,
                m.has_square_ends,
                m.flange,
            )
            for m in members
            for f in (m.frame,)
        ]
        table = np.array(rows, dtype=float)
        ahead, aside = table[:, 3:6], table[:, 6:9]
        axes = np.empty((len(rows), 3, 3))
        axes[:, 0], axes[:, 1] = ahead, aside
        axes[:, 2] = ahead[:, _NEXT] * aside[:, _LAST] - ahead[:, _LAST] * aside[:, _NEXT]
        reach = axes * table[:, 9:12, None]
        floor = table[:, :3] + np.minimum(reach, 0.0).sum(axis=1)
        roof = table[:, :3] + np.maximum(reach, 0.0).sum(axis=1)
        x, z = columns(floor[:, 0], roof[:, 0]), columns(floor[:, 2], roof[:, 2])
        low, high = columns(floor[:, 1], floor[:, 1]), columns(roof[:, 1], roof[:, 1])
        steep = np.abs(ahead[:, 1])
        shaped = (table[:, 14] == 0.0) | ((steep > 1e-9) & (steep < _PLUMB))
        if shaped.any():
            which = np.flatnonzero(shaped)
            cut = [members[i] for i in which.tolist()]
            corners = _corners(cut, axes[which], table[which])
            x[which], low[which], high[which] = _sides(corners)
        wide = x[:, 1] - x[:, 0]
        role = table[:, 12].astype(np.int64)
        strap, loose = role == _CODES[Role.STRAP], table[:, 13] > 0
        return cls(
            panel=np.arange(len(panels)).repeat([len(lot) for lot in panels]),
            role=role,
            standing=steep > _PLUMB,
            strap=strap,
            loose=loose,
            built=~(strap | loose),
            thick=np.abs(axes[:, 2]).argmax(axis=1),
            x=x,
            low=low,
            high=high,
            z=z,
            low_rise=(low[:, 1] - low[:, 0]) / wide,
            high_rise=(high[:, 1] - high[:, 0]) / wide,
            flange=table[:, 15],
        )

    def __len__(self) -> int:
        return len(self.role)

    def low_at(self, rows: Ints, x: Floats) -> Floats:
        """Height of the lower edge of each of `rows` at its `x`, mm."""
        height: Floats = self.low[rows, 0] + self.low_rise[rows] * (x - self.x[rows, 0])
        return height

    def high_at(self, rows: Ints, x: Floats) -> Floats:
        """Height of the upper edge of each of `rows` at its `x`, mm."""
        height: Floats = self.high[rows, 0] + self.high_rise[rows] * (x - self.x[rows, 0])
        return height


_NEXT, _LAST = [1, 2, 0], [2, 0, 1]


def _corners(members: Sequence[Member], axes: Floats, table: Floats) -> Floats:
    """(k, 8, 3) corners in panel coordinates of sticks with cut ends, numbered as by `Member.corners`."""
    cuts = np.array(
        [(m.start.across_width, m.start.across_thickness, m.end.across_width, m.end.across_thickness) for m in members]
    ).reshape(-1, 2, 2)
    sizes = table[:, 9:12]
    local = sizes[:, None] * _CORNERS
    reach = cuts * sizes[:, None, 1:]
    # The plane touches the long point: it falls back from there, at the start forward, at the end backward.
    pulled = columns(-np.minimum(reach[:, 0], 0.0).sum(axis=1), -np.maximum(reach[:, 1], 0.0).sum(axis=1))
    at_end = _CORNERS[:, 0]
    local[:, :, 0] += pulled[:, at_end] + (cuts[:, at_end] * local[:, :, 1:]).sum(axis=2)
    corners: Floats = local @ axes + table[:, None, :3]
    return corners


def _sides(corners: Floats) -> tuple[Floats, Floats, Floats]:
    """The plumb sides (k, 2) of sticks, and the heights (k, 2) of their lower and upper edges there."""
    x, y = corners[:, :, 0], corners[:, :, 1]
    sides = columns(x.min(axis=1), x.max(axis=1))
    there = np.abs(x[:, None] - sides[:, :, None]) < _SIDE
    low = np.where(there, y[:, None], np.inf).min(axis=2)
    high = np.where(there, y[:, None], -np.inf).max(axis=2)
    return sides, low, high
