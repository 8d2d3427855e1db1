"""Stretches of many lines that others leave open, all lines at once."""

from __future__ import annotations

import numpy as np

from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats

__all__ = ["Lines", "uncovered"]

Lines = tuple[Ints, Floats, Floats]
"""The line of each stretch (n,), and from where (n,) to where (n,) on it."""


def uncovered(stretches: Lines, covers: Lines) -> Lines:
    """What `covers` leave open of `stretches`, in the order of the lines and along each; both may overlap at will."""
    lots = [(lot, step) for lot, step in ((stretches, (1, 0)), (covers, (0, 1)))]
    line = np.concatenate([lot[0] for lot, _ in lots for _ in range(2)])
    place = np.concatenate([lot[side] for lot, _ in lots for side in (1, 2)])
    change = np.concatenate([np.outer(np.full(len(lot[0]), sign), step) for lot, step in lots for sign in (1, -1)])
    order = np.lexsort((place, line))
    line, place, change = line[order], place[order], change[order]
    depth = np.cumsum(change, axis=0)
    here = (depth[:-1, 0] > 0) & (depth[:-1, 1] == 0) & (place[1:] > place[:-1])
    rows = np.flatnonzero(here)
    first = np.ones(len(rows), dtype=bool)
    first[1:] = (line[rows[1:]] != line[rows[:-1]]) | (place[rows[1:]] > place[rows[:-1] + 1])
    starts = np.flatnonzero(first)
    last = np.append(starts[1:], len(rows)) - 1 if len(rows) else starts
    return line[rows[starts]], place[rows[starts]], place[rows[last] + 1]
