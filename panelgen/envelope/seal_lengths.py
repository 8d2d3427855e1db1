"""How long the seal of each joint is: every place along the edges of a barrier is laid to one joint."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from panelgen.envelope.closing import Closing
from panelgen.geometry.boxes import Ints, spread
from panelgen.geometry.cover import Lines, uncovered
from panelgen.geometry.frames import Floats
from panelgen.model import Joint, JointKind

__all__ = ["seal_lengths"]

_ALONG = 0.7
"""Edges within 45 degrees of a joint run the way it does."""


def seal_lengths(closing: Closing, joints: Sequence[Joint]) -> Floats:
    """(joints,) how long the seal of each is, mm: the greater of its two sides, half of both within a panel.

    Only edges count that run the way their joint does. Seals reach a little past the ends of their joints, and past
    the corners of sheets: where several reach a place of an edge it is laid to the one that closes the most of that.
    """
    edges, sealed = closing.edges, closing.sealed
    ahead = (edges.end - edges.start) / edges.length[:, None]
    along = np.array([joint.along for joint in joints]).reshape(-1, 3)[sealed.joint]
    rows = (np.abs((ahead[sealed.edge] * along).sum(axis=1)) >= _ALONG) | ~along.any(axis=1)
    sealed = sealed.taken(rows)
    key = sealed.edge * (len(joints) + 1) + sealed.joint
    keys, line = np.unique(key, return_inverse=True)
    size = edges.length[sealed.edge]
    none = np.empty(0, dtype=np.int64), np.empty(0), np.empty(0)
    line, low, high = uncovered((line.ravel(), sealed.low * size, sealed.high * size), none)
    edge, joint = np.divmod(keys, len(joints) + 1)
    line, low, high = uncovered((line, low, high), _better((line, low, high), edge))
    by_side = np.bincount(line, high - low, minlength=len(keys))
    pairs, row = np.unique(np.stack((joint, edges.panel[edge])), axis=1, return_inverse=True)
    longest = np.zeros(len(joints))
    np.maximum.at(longest, pairs[0], np.bincount(row.ravel(), by_side, minlength=pairs.shape[1]))
    longest[[one.kind is JointKind.SEAM for one in joints]] /= 2
    return longest


def _better(stretches: Lines, edge: Ints) -> Lines:
    """For each line the stretches of lines on the same `edge` (lines,) that are longer in all, or earlier ones."""
    line, low, high = stretches
    whole = np.bincount(line, high - low, minlength=len(edge))
    first, last = (np.searchsorted(edge[line], edge, side) for side in ("left", "right"))
    own, place = spread(first, last - first)
    other = line[place]
    better = (whole[other] > whole[own]) | ((whole[other] == whole[own]) & (other < own))
    return own[better], low[place[better]], high[place[better]]
