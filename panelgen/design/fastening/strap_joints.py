"""Where straps bear on the framing: they are screwed to it through the inner sheathing."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.design.fastening.elevation import TOUCH, Elevation
from panelgen.design.fastening.laps import Laps
from panelgen.design.fastening.lines import COVER
from panelgen.design.fastening.seats import Seats
from panelgen.design.fastening.stick_joints import Schedule, joint_code
from panelgen.design.tables import Table, columns, pairs_within
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats

__all__ = ["strap_joints"]

_LEAST_BEARING = 10.0
"""A strap that bears on less than this (mm) either way is not screwed there; common practice, no source."""

_PARALLEL = 1e-6
"""Sticks whose slopes differ by less lie along one another."""

_WIDE = 38.0
"""A crossing over less of the strap's width than this (mm) takes one screw only; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class _Bearings(Table):
    """k places where a `strap` has a stick `behind` it (k,): the rectangle they share, panel x and y, mm."""

    strap: Ints
    behind: Ints
    x0: Floats
    x1: Floats
    y0: Floats
    y1: Floats


def strap_joints(sticks: Elevation, schedule: Schedule) -> tuple[Seats, Laps]:
    """The seats of screws where straps cross sticks, and the laps of straps along sticks, which take a row each."""
    bearings = _bearings(sticks)
    strap, behind = bearings.strap, bearings.behind
    crossing = sticks.standing[strap] != sticks.standing[behind]
    abreast = ~crossing & (np.abs(sticks.low_rise[strap] - sticks.low_rise[behind]) < _PARALLEL)
    across, along = bearings.where(crossing), bearings.where(abreast)
    return _crossings(sticks, schedule, across), _rows(sticks, along)


def _bearings(sticks: Elevation) -> _Bearings:
    straps = np.flatnonzero(sticks.strap)
    wood = np.flatnonzero(sticks.built & (np.abs(sticks.z[:, 0]) < TOUCH))
    a, b = pairs_within(sticks.panel[straps], sticks.panel[wood])
    strap, behind = straps[a], wood[b]
    x0 = np.maximum(sticks.x[strap, 0], sticks.x[behind, 0])
    x1 = np.minimum(sticks.x[strap, 1], sticks.x[behind, 1])
    met = np.flatnonzero(x1 - x0 > _LEAST_BEARING)
    strap, behind, x0, x1 = strap[met], behind[met], x0[met], x1[met]
    middle = (x0 + x1) / 2
    y0 = np.maximum(sticks.low_at(strap, middle), sticks.low_at(behind, middle))
    y1 = np.minimum(sticks.high_at(strap, middle), sticks.high_at(behind, middle))
    return _Bearings(strap, behind, x0, x1, y0, y1).where(y1 - y0 > _LEAST_BEARING)


def _crossings(sticks: Elevation, schedule: Schedule, places: _Bearings) -> Seats:
    joint = joint_code("strap to stud")
    wood = sticks.z[places.behind, 1] - sticks.z[places.strap, 0]
    places = places.where(wood >= schedule.length[joint] + COVER)
    face = sticks.z[places.strap, 0]
    width = np.where(sticks.standing[places.strap], places.x1 - places.x0, places.y1 - places.y0)
    one = np.ones(len(places), dtype=np.int64)
    return Seats(
        joint=joint * one,
        count=np.where(width < _WIDE, 1, schedule.count[joint]),
        axis=2 * one,
        sense=one.astype(float),
        low=columns(places.x0, places.y0, face),
        high=columns(places.x1, places.y1, face),
        fastened=places.strap,
        into=places.behind,
    )


def _rows(sticks: Elevation, places: _Bearings) -> Laps:
    """A row into each stick that bears half of the strap's width, or else into the one that bears most of it."""
    strap, standing = places.strap, sticks.standing[places.strap]
    width = np.where(standing, places.x1 - places.x0, places.y1 - places.y0)
    whole = np.where(standing, sticks.x[strap, 1] - sticks.x[strap, 0], sticks.high[strap, 0] - sticks.low[strap, 0])
    widest = np.zeros(len(sticks))
    np.maximum.at(widest, strap, width)
    places = places.where((2 * width >= whole) | (width >= widest[strap] - TOUCH))
    strap, behind, x0, x1, y0, y1 = (getattr(places, name) for name in places.__slots__)
    standing = sticks.standing[strap]
    middle = (x0 + x1) / 2
    rise = np.where(standing, 0.0, sticks.low_rise[strap])
    cosine = 1.0 / np.hypot(1.0, rise)
    zero = np.zeros_like(rise)
    start = np.where(standing, y0, x0)
    origin_x = np.where(standing, middle, x0)
    origin_y = np.where(standing, y0, (y0 + y1) / 2 + rise * (x0 - middle))
    along = columns(np.where(standing, 0.0, cosine), np.where(standing, 1.0, rise * cosine), zero)
    across = columns(-along[:, 1], along[:, 0], zero)
    return Laps(
        joint=np.full(len(strap), joint_code("strap along stick")),
        head=strap,
        into=behind,
        axis=standing.astype(np.int64),
        start=start,
        stop=np.where(standing, y1, x1),
        origin=columns(origin_x, origin_y, sticks.z[strap, 0]),
        along=along,
        across=across,
        drive=columns(zero, zero, zero + 1.0),
        width=np.where(standing, x1 - x0, (y1 - y0) * cosine),
        depth=sticks.z[behind, 1] - sticks.z[strap, 0],
    )
