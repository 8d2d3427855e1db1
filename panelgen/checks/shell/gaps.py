"""How far apart the panels of each joint stand, by the faces of their sticks and sheets as built.

At every place along a joint the nearest two faces count that face one another in a direction in which the panels
must meet there. Where a third part fills what is between, nothing is open: tie plates, and decking that laps.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from panelgen.checks.shell.filling import are_bare, fillers
from panelgen.checks.shell.meeting import meetings
from panelgen.checks.shell.patches import Patches
from panelgen.checks.shell.standing import Standing
from panelgen.checks.shell.ways import Ways
from panelgen.geometry.boxes import Ints
from panelgen.geometry.cover import Lines, uncovered
from panelgen.geometry.frames import Floats, Vec3
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Joint, Panel

__all__ = ["Gap", "joint_gaps"]

_LEAST = 30.0
"""What is open over less than this (mm) is the joint of two sheets: a stick is thicker; common practice, no source."""

_SEAT = 160.0
"""Rafters over a raked wall are seated on the wall at its end, over the thickness (mm) of that. So is the plate of a
wall on a slope on one edge, and the sheathing that it faces stands behind what it does not reach."""


@dataclass(frozen=True, slots=True)
class Gap:
    """The widest place of a joint, at `point` in the house: how far apart (mm) its panels are there.

    `width` is 0 where they meet all along, and infinite where no faces of them are near. `panel` is the first of the
    two.
    """

    joint: Joint
    panel: Panel
    width: float
    point: Vec3


def joint_gaps(standing: Standing, joints: Sequence[Joint]) -> Iterator[Gap]:
    """The gap at every joint of two panels, and of a panel with the foundation, in the order of the joints.

    Joints that something else fills, as a floor does between two walls, have none.
    """
    panels = standing.scene.panels
    ways = Ways.of(panels, joints)
    on_ground = np.flatnonzero(ways.other >= len(panels)).tolist()
    grounds = [(int(ways.one[way]), joints[ways.joint[way]].point[2]) for way in on_ground]
    meeting = meetings(standing, grounds)
    patches = Patches.of(meeting, ways)
    apart = _without_faces(ways, patches)
    closed = patches.lines(patches.closed)
    asked = np.union1d(_left_open(ways, patches, closed)[0], apart)
    filled = fillers(standing, meeting, ways, patches, asked)
    way, low, high = (np.concatenate(pair) for pair in zip(closed, filled, strict=True))
    worst = {joint: (0.0, joints[joint].point) for joint in ways.joint.tolist()}
    for number, width, point in _widest(ways, patches, _left_open(ways, patches, (way, low, high))):
        joint = int(ways.joint[number])
        worst[joint] = max(worst[joint], (width, point))
    bare = are_bare(standing, ways, patches, apart, filled)
    for joint in ways.joint[apart[~bare]].tolist():
        worst.pop(joint, None)
    for joint in ways.joint[apart[bare]].tolist():
        worst[joint] = (np.inf, joints[joint].point)
    first = dict(zip(ways.joint.tolist(), ways.one.tolist(), strict=True))
    for joint, (width, point) in sorted(worst.items()):
        yield Gap(joints[joint], panels[first[joint]], width, point)


def _without_faces(ways: Ways, patches: Patches) -> Ints:
    """The ways of which a joint has no patches though it needs some."""
    met = np.zeros(len(ways), dtype=bool)
    met[patches.way] = True
    joints = int(ways.joint.max(initial=-1)) + 1
    has = np.bincount(ways.joint[met], minlength=joints) > 0
    result: Ints = np.flatnonzero(~met & (~ways.spare | ~has[ways.joint]))
    return result


def _left_open(ways: Ways, patches: Patches, closed: Lines) -> Lines:
    """The stretches of ways where nothing closes them."""
    way, low, high = uncovered(patches.lines(np.flatnonzero(patches.carries)), closed)
    least = np.full(len(ways), _LEAST)
    least[patches.slanting(ways)] = least[ways.sloping] = _SEAT
    long = high - low >= least[way]
    return way[long], low[long], high[long]


def _widest(ways: Ways, patches: Patches, left: Lines) -> Iterator[tuple[int, float, Vec3]]:
    """The widest place of each stretch that is `left` open: its way, how wide (mm) and where in the house.

    Between two ends of faces the nearest pair of them counts, by its wider end.
    """
    for way, low, high in zip(*(column.tolist() for column in left), strict=True):
        rows = np.flatnonzero((patches.way == way) & (patches.low < high) & (patches.high > low))
        begin, end, gap = patches.low[rows], patches.high[rows], patches.gap[rows]
        places = np.unique(np.concatenate(((low, high), begin, end)).clip(low, high))
        share = ((places[:, None] - begin) / (end - begin)).clip(0.0, 1.0)
        apart = gap[:, 0] + share * (gap[:, 1] - gap[:, 0])
        there = (begin < places[1:, None]) & (end > places[:-1, None])
        ends = np.where(there, np.stack((apart[:-1], apart[1:])), np.inf)
        widths = ends.max(axis=0).min(axis=1)
        at = _lasting(widths, np.diff(places))
        nearest = int(ends[:, at].max(axis=0).argmin())
        place = places[at + int(ends[1, at, nearest] > ends[0, at, nearest])]
        middle, along = patches.faces.near[rows[nearest]].mean(axis=0), ways.along[way]
        x, y, z = (middle + (place - along @ middle) * along).tolist()
        yield way, float(widths[at]), (x, y, z)


def _lasting(widths: Floats, sizes: Floats) -> int:
    """The number of the widest of some neighbours that, with those beside it as wide or wider, is `_LEAST` long."""
    for at in np.argsort(-widths, kind="stable").tolist():
        wide = widths >= widths[at] - TOLERANCE
        before, after = np.flatnonzero(~wide[:at]), np.flatnonzero(~wide[at:])
        first = before[-1] + 1 if len(before) else 0
        last = at + after[0] if len(after) else len(widths)
        if sizes[first:last].sum() >= _LEAST:
            break
    return int(at)
