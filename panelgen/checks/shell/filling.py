"""What fills a joint where its own two panels do not meet: parts of a third panel that do."""

from __future__ import annotations

import numpy as np

from panelgen.checks.shell.meeting import REACH, SUNK, Meeting
from panelgen.checks.shell.patches import ACROSS, Patches
from panelgen.checks.shell.standing import Standing
from panelgen.checks.shell.ways import Ways
from panelgen.geometry.boxes import Boxes, Ints, spread
from panelgen.geometry.cover import Lines, uncovered
from panelgen.geometry.facing import Facing, opposite
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.geometry.tolerance import TOLERANCE

__all__ = ["are_bare", "fillers"]

_FREE = 0.5
"""A way leads along an axis of the house if its unit vector is this long or longer along it."""


def fillers(standing: Standing, meeting: Meeting, ways: Ways, patches: Patches, asked: Ints) -> Lines:
    """Where faces of a third panel meet one of those of the ways `asked`, on the side of the other: by way.

    Taken are those at the patches of a way; where it has none, anywhere between its panels.
    """
    sides = np.concatenate((ways.one[asked], ways.other[asked]))
    met = np.flatnonzero(meeting.faces.gap <= TOLERANCE)
    count = len(met)
    owner = np.concatenate((meeting.one[met], meeting.other[met]))
    order = np.argsort(owner, kind="stable")
    first, last = (np.searchsorted(owner[order], sides, side) for side in ("left", "right"))
    number, place = spread(first, last - first)
    way, row = np.tile(asked, 2)[number], np.tile(met, 2)[order[place]]
    outward = np.where(order[place] < count, 1.0, -1.0) * np.repeat((1.0, -1.0), len(asked))[number]
    toward = outward * _senses(standing, ways, patches)[way]
    meets = toward * np.einsum("kc,kc->k", meeting.faces.normal[row], ways.across[way]) >= ways.share[way]
    meets &= meeting.one[row] + meeting.other[row] != ways.one[way] + ways.other[way]  # one of the two is the same
    way, row = way[meets], row[meets]
    boxes, places = _shared(meeting.faces.take(row), REACH), _places(standing, ways, patches).take(way)
    here = ((boxes.low < places.high) & (boxes.high > places.low)).all(axis=1)
    way, row = way[here], row[here]
    found = opposite(meeting.faces.take(row), ways.along[way], ACROSS)
    ahead = found.gap.min(axis=1, initial=0.0) >= -SUNK
    closed = (found.high > found.low) & ahead & (found.gap.max(axis=1, initial=0.0) <= TOLERANCE)
    return way[closed], found.low[closed], found.high[closed]


def are_bare(standing: Standing, ways: Ways, patches: Patches, apart: Ints, filled: Lines) -> Bools:
    """(a,) whether ways `apart`, of panels without faces that meet, are open: `filled` over less than a half.

    Panels that only touch where their corners are, or of which none is across the other, are not.
    """
    places = _places(standing, ways, patches)
    size = np.where(np.isfinite(places.low), places.high - places.low, 0.0)
    whole = (size * np.abs(ways.along)).sum(axis=1)
    none = np.empty(0, dtype=np.int64), np.empty(0), np.empty(0)
    way, low, high = uncovered(filled, none)
    taken = np.bincount(way, high - low, minlength=len(ways))
    across = np.all(size >= 0.0, axis=1)
    bare: Bools = across[apart] & np.less(2 * taken, whole)[apart]
    return bare


def _senses(standing: Standing, ways: Ways, patches: Patches) -> Floats:
    """(w,) 1 where the second panel of a way lies ahead along it, else -1: by their faces, or else by their middles."""
    one, other = _around(standing, ways)
    middle = other.low + other.high - one.low - one.high
    ahead = np.where(ways.other < len(standing.scene.panels), (middle * ways.across).sum(axis=1), -1.0)
    facing = patches.sense * (patches.faces.normal * ways.across[patches.way]).sum(axis=1)
    told = np.bincount(patches.way, facing, minlength=len(ways))
    result: Floats = np.where(np.where(told, told, ahead) >= 0.0, 1.0, -1.0)
    return result


def _around(standing: Standing, ways: Ways) -> tuple[Boxes, Boxes]:
    """The boxes around both panels of each way; of the ground, that around the panel on it."""
    panels = standing.boxes.around_groups(standing.owner, len(standing.origins))
    other = np.where(ways.other < len(standing.scene.panels), ways.other, ways.one)
    return panels.take(ways.one), panels.take(other)


def _places(standing: Standing, ways: Ways, patches: Patches) -> Boxes:
    """The boxes around the patches of each way; where it has none, what its panels have in common across the way."""
    around = _shared(patches.faces, REACH).around_groups(patches.way, len(ways))
    one, other = _around(standing, ways)
    free = np.where(np.abs(ways.across) >= _FREE, np.inf, 0.0)
    low, high = np.maximum(one.low, other.low) - free, np.minimum(one.high, other.high) + free
    none = np.any(around.low > around.high, axis=1)[:, None]
    return Boxes(np.where(none, low, around.low), np.where(none, high, around.high))


def _shared(faces: Facing, ahead: float) -> Boxes:
    """(k,) what the boxes around two faces share when grown by so much along their normal, mm."""
    grown = np.abs(faces.normal) * ahead
    near, far = (Boxes.around(corners) for corners in (faces.near, faces.far))
    return Boxes(np.maximum(near.low, far.low) - grown, np.minimum(near.high, far.high) + grown)
