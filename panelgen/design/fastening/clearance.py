"""Keeps nails off services: a nail that would come near a run or a bore is moved along its line, or left out."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from panelgen.design.fastening.blocked_shifts import blocked_shifts
from panelgen.design.fastening.lines import Nails
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools, Rods

__all__ = ["NAIL_CLEARANCE", "clear_of_services"]

NAIL_CLEARANCE = 3.0
"""Left between the shank and a run or bore (mm), besides both radii; common practice, no source."""


def clear_of_services(
    nails: Nails, length: Floats, radius: Floats, panel: Ints, services: Rods, of: Ints
) -> tuple[Floats, Bools, Bools]:
    """The heads (n, 3) of nails that keep off services; which of them were moved, and which find no place, (n,) each.

    `length` and `radius` (n,) are the shanks'. A nail is moved by the least way that its line allows. `panel` (n,)
    is the panel of each nail and `of` (s,) that of each service, both ascending.
    """
    moved, lost = np.zeros(len(nails), dtype=bool), np.zeros(len(nails), dtype=bool)
    if not len(services):
        return nails.head, moved, lost
    nail, service = _near(nails, length, radius, panel, services, of)
    low, high = blocked_shifts(
        nails.head.take(nail, axis=0),
        nails.drive.take(nail, axis=0) * length[nail, None],
        nails.slide.take(nail, axis=0),
        services.start.take(service, axis=0),
        (services.direction * services.length[:, None]).take(service, axis=0),
        radius[nail] + services.radius[service] + NAIL_CLEARANCE,
    )
    hit = np.unique(nail[(low < 0.0) & (high > 0.0)])
    if not len(hit):
        return nails.head, moved, lost
    shift = _least_shifts(hit, nail, low, high, nails.back[hit], nails.ahead[hit])
    saved = np.isfinite(shift)
    moved[hit[saved]] = True
    lost[hit[~saved]] = True
    head = nails.head.copy()
    head[hit[saved]] += shift[saved, None] * nails.slide[hit[saved]]
    return head, moved, lost


def _least_shifts(hit: Ints, nail: Ints, low: Floats, high: Floats, back: Floats, ahead: Floats) -> Floats:
    """(k,) the least shift of each nail of `hit`, from -`back` to `ahead`, out of all its blocked intervals; else inf.

    `nail`, `low` and `high` (p,) are the intervals, sorted by nail. The least shift is an end of one of them.
    """
    of_hit = np.flatnonzero(np.isin(nail, hit))
    row = np.searchsorted(hit, nail[of_hit])
    count = np.bincount(row, minlength=len(hit))
    column = np.arange(len(row)) - (count.cumsum() - count)[row]
    lows, highs = np.full((len(hit), count.max()), np.inf), np.full((len(hit), count.max()), -np.inf)
    lows[row, column], highs[row, column] = low[of_hit], high[of_hit]
    ends = np.concatenate((lows, highs), axis=1)
    free = ((ends[:, :, None] <= lows[:, None]) | (ends[:, :, None] >= highs[:, None])).all(axis=2)
    free &= (ends >= -back[:, None]) & (ends <= ahead[:, None])
    best = np.where(free, np.abs(ends), np.inf).argmin(axis=1)
    rows = np.arange(len(hit))
    return np.where(free[rows, best], ends[rows, best], np.inf)


def _near(nails: Nails, length: Floats, radius: Floats, panel: Ints, services: Rods, of: Ints) -> tuple[Ints, Ints]:
    """Pairs of a nail and a service that could come near one another wherever the nail is moved; sorted by nail."""
    half = nails.drive * (length / 2)[:, None]
    middle = nails.head + half
    slid = np.abs(nails.slide) * np.maximum(nails.back, nails.ahead)[:, None]
    swept = np.abs(half) + slid + (radius + NAIL_CLEARANCE)[:, None]
    along = services.direction * (services.length / 2)[:, None]
    centre, size = services.start + along, np.abs(along) + services.radius[:, None]
    low, high, least, most = middle - swept, middle + swept, centre - size, centre + size
    starts, firsts = (np.searchsorted(numbers, np.arange(of[-1] + 2)) for numbers in (panel, of))
    found = []
    for (a, b), (c, d) in zip(pairwise(starts.tolist()), pairwise(firsts.tolist()), strict=True):
        apart = (low[a:b, 0, None] >= most[c:d, 0]) | (high[a:b, 0, None] <= least[c:d, 0])
        apart |= (low[a:b, 1, None] >= most[c:d, 1]) | (high[a:b, 1, None] <= least[c:d, 1])
        one, other = np.nonzero(~apart)
        found.append((one + a, other + c))
    nail, service = (np.concatenate(rows) for rows in zip(*found, strict=True))
    close = (low[nail, 2] < most[service, 2]) & (high[nail, 2] > least[service, 2])
    return nail[close], service[close]
