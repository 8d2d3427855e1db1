"""Which bores a run comes near, and how well it fits each, whatever the angle."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.timber import Bores, Timber
from panelgen.geometry.boxes import Boxes, Ints, overlapping, spread
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Rods
from panelgen.geometry.vectors import lengths

__all__ = ["BoreFits", "ball_excess", "rod_excess"]

_LEAST_COSINE = 0.05


@dataclass(frozen=True, slots=True, eq=False)
class BoreFits:
    """Pairs of a body and a bore whose boxes overlap: `body` and `bore` (p,) indices, sorted by body and member.

    `members` is how many sticks there are; `key` (p,) tells the pairs of one body and one stick from others.
    """

    body: Ints
    bore: Ints
    key: Ints
    members: int

    @classmethod
    def near(cls, boxes: Boxes, panel: Ints, timber: Timber) -> BoreFits:
        """The bores near bodies in `boxes`; `panel` are the indices of the bodies' panels."""
        bores = timber.bores
        body, bore = overlapping(boxes, bores.boxes, panel, timber.panel[bores.member])
        key = body * len(timber.members) + bores.member[bore]
        return cls(body, bore, key, len(timber.members))

    def least(self, excess: Floats, body: Ints, member: Ints) -> Floats:
        """(n,) the least `excess` (p,) of the bores of stick `member` near `body`; infinite where there is none."""
        pair, row = self._rows(body, member)
        result = np.full(len(body), np.inf)
        first = np.flatnonzero(np.diff(pair, prepend=-1))
        if len(first):
            result[pair[first]] = np.minimum.reduceat(excess[row], first)
        return result

    def bores(self, body: Ints, member: Ints) -> Ints:
        """(n, most) the bores of stick `member` near `body`, -1 where there are fewer than the most of any."""
        pair, row = self._rows(body, member)
        count = np.bincount(pair, minlength=len(body))
        result = np.full((len(body), int(count.max(initial=0))), -1, dtype=np.int64)
        result[pair, np.arange(len(pair)) - (np.cumsum(count) - count)[pair]] = self.bore[row]
        return result

    def _rows(self, body: Ints, member: Ints) -> tuple[Ints, Ints]:
        """For each body and stick of the lists, its pairs: index in the lists, and row here."""
        wanted = body * self.members + member
        first = np.searchsorted(self.key, wanted, "left")
        return spread(first, np.searchsorted(self.key, wanted, "right") - first)


def rod_excess(rods: Rods, bores: Bores, fits: BoreFits) -> Floats:
    """(p,) by how much each rod is too wide for the bore it comes near, mm.

    Seen along a bore, the section of a rod that crosses it at an angle is an ellipse whose half length
    is radius / cos(angle); the rod stays in the bore through the whole thickness where the ellipses on
    both faces lie in it. Zero or less means that it surely does: the measure is exact for a rod along
    the bore and errs upward for others. Infinite for rods that lie nearly across.
    """
    axis, direction = bores.axis[fits.bore], rods.direction[fits.body]
    offset = rods.start[fits.body] - bores.point[fits.bore]
    cosine = np.einsum("kc,kc->k", direction, axis)
    height = np.einsum("kc,kc->k", offset, axis)
    aside = offset - height[:, None] * axis
    drift = direction - cosine[:, None] * axis
    steep = np.abs(cosine) > _LEAST_COSINE
    cosine = np.where(steep, cosine, 1.0)
    at_low, at_high = (
        lengths(aside + ((face[fits.bore] - height) / cosine)[:, None] * drift) for face in (bores.low, bores.high)
    )
    reach = np.maximum(at_low, at_high) + rods.radius[fits.body] / np.abs(cosine)
    return np.where(steep, reach - bores.radius[fits.bore], np.inf)


def ball_excess(centers: Floats, radii: Floats, bores: Bores, fits: BoreFits) -> Floats:
    """(p,) by how much each ball is too wide for the bore it comes near: its widest section between the faces, mm."""
    axis = bores.axis[fits.bore]
    offset = centers[fits.body] - bores.point[fits.bore]
    height = np.einsum("kc,kc->k", offset, axis)
    off_axis = lengths(offset - height[:, None] * axis)
    beyond = height - np.clip(height, bores.low[fits.bore], bores.high[fits.bore])
    widest = np.sqrt(np.maximum(radii[fits.body] ** 2 - beyond**2, 0.0))
    result: Floats = off_axis + widest - bores.radius[fits.bore]
    return result
