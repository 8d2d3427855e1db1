"""Where joists, trimmers and rafters bear in the house as it stands, found from the sticks and walls themselves.

A bearing is the top of a wall that the stick runs over, the deck on that wall, a beam, or a header, rim, ridge, hip
or valley of its own panel that an end meets. Distances are measured in plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.sticks import Sticks
from panelgen.geometry.boxes import Ints
from panelgen.geometry.frames import Floats, Vec3
from panelgen.geometry.rods import Bools
from panelgen.model import Member, Panel, Role
from panelgen.model.layers import underside

__all__ = ["TOUCH", "Borne", "Place", "borne_sticks", "house_lines", "over_walls"]

_BORNE = (Role.JOIST, Role.TRIMMER, Role.RAFTER)
_HOLD = (Role.HEADER, Role.RIM, Role.RIDGE, Role.HIP, Role.VALLEY)
_PUSHED = (Role.RIDGE, Role.HIP)
TOUCH = 2.0
"""Faces nearer than this (mm) meet; saw and setting tolerance, common practice, no source."""
_SEAT = 0.5
"""A bearing lies no higher in a stick than this share of its depth: a birdsmouth is shallower."""

Place = tuple[float, float]
"""Where a bearing begins and ends along a stick, mm in plan."""


@dataclass(frozen=True, slots=True)
class Borne:
    """A joist, trimmer or rafter with its bearings from start to end, distances in plan along it, mm.

    `start` and `end` are the ends of its middle line in the house. `walls` are all walls and beams it lies on,
    `carriers` those that are made to carry; `partition` is a wall that it lies on and that is not. `hung` says at which
    ends a stick of its own panel holds it, `leans` whether its upper end does so on a ridge or hip. `spacing` is its
    share of the layout, mm.
    """

    row: int
    member: Member
    panel: Panel
    start: Vec3
    end: Vec3
    length: float
    walls: tuple[Place, ...]
    carriers: tuple[Place, ...]
    partition: str
    hung: tuple[bool, bool]
    leans: bool
    spacing: float

    def clear(self, walls: tuple[Place, ...]) -> Place:
        """The widest clear span between `walls` and what holds the ends, and where its middle is; 0 with less than two.

        `walls` are the stick's own, or some of them.
        """
        held = [(at, at) for at, is_hung in zip((0.0, self.length), self.hung, strict=True) if is_hung]
        places = _merged([*walls, *held])
        gaps = [(b[0] - a[1], (b[0] + a[1]) / 2) for a, b in pairwise(places)]
        return max(gaps, default=(0.0, 0.0))


def borne_sticks(sticks: Sticks, walls: Walls, rules: RuleSet) -> Iterator[Borne]:
    """The joists, trimmers and rafters of level and roof panels with their bearings."""
    rows = sticks.rows(*_BORNE, in_wall=False)
    if not len(rows):
        return
    scene, timber = sticks.scene, sticks.scene.timber
    panel = timber.panel[rows]
    ends, (start, end) = _middle_lines(sticks, rows)
    reach = end - start
    length = np.hypot(reach[:, 0], reach[:, 1])
    level = length / np.maximum(np.linalg.norm(reach, axis=1), 1e-9)
    under = np.array([-underside(one.layers) for one in scene.panels])[panel]
    bears, first, last = over_walls(walls, start, end, timber.sizes[rows, 1], under, rules)
    hung = np.stack([_held(sticks, panel, one, _HOLD) for one in ends])
    upper = np.where((reach[:, 2] >= 0.0)[:, None], ends[1], ends[0])
    leans = _held(sticks, panel, upper, _PUSHED)
    spacing = _spacing(sticks, rows, panel)
    for k, row in enumerate(rows.tolist()):
        one, whole = scene.panels[panel[k]], float(length[k])
        over = np.flatnonzero(bears[k]).tolist()
        lies = [(float(first[k, w]) * whole, float(last[k, w]) * whole) for w in over]
        beams = _over_beams(one, sticks.low[row], sticks.high[row], float(ends[0, k, 1]), float(level[k]))
        carried = [place for place, w in zip(lies, over, strict=True) if walls.carries[w]]
        yield Borne(
            row,
            sticks.member(row),
            one,
            _vec(start[k]),
            _vec(end[k]),
            whole,
            _merged([*lies, *beams]),
            _merged([*carried, *beams]),
            next((scene.panels[walls.panel[w]].wall for w in over if not walls.carries[w]), ""),
            (bool(hung[0, k]), bool(hung[1, k])),
            bool(leans[k]),
            float(spacing[k]),
        )


def house_lines(sticks: Sticks, rows: Ints) -> tuple[Floats, Floats]:
    """Starts and ends (n, 3) of the middle lines of sticks between their cuts, in the house, mm."""
    _, (start, end) = _middle_lines(sticks, rows)
    return start, end


def _middle_lines(sticks: Sticks, rows: Ints) -> tuple[Floats, Floats]:
    """Ends of the middle lines of n sticks, in their panels and in the house, (2, n, 3) each, mm."""
    scene, timber = sticks.scene, sticks.scene.timber
    panel = timber.panel[rows]
    origins, axes = scene.frames()
    cuts = np.array([_ends_of(sticks.member(row)) for row in rows.tolist()]).reshape(-1, 2)
    middle = timber.origins[rows] + 0.5 * (
        timber.axes[rows, 1] * timber.sizes[rows, 1, None] + timber.axes[rows, 2] * timber.sizes[rows, 2, None]
    )
    ends = middle + timber.axes[rows, 0] * cuts.T[:, :, None]
    return ends, np.einsum("eni,nij->enj", ends, axes[panel]) + origins[panel]


def _ends_of(member: Member) -> Place:
    """Where the middle line of a stick begins and ends between its cuts, mm along it."""
    if member.has_square_ends:
        return 0.0, member.length
    y, z = member.width / 2, member.thickness / 2
    return member.end_x(member.start, False, y, z), member.end_x(member.end, True, y, z)


def over_walls(
    walls: Walls, start: Floats, end: Floats, depth: Floats, under: Floats, rules: RuleSet
) -> tuple[Bools, Floats, Floats]:
    """Which walls n sticks bear on, (n, w), and the first and last share of their length that lies over each.

    `start` and `end` (n, 3) are those of their middle lines in the house, `depth` (n,) is the width of the sticks,
    `under` (n,) the sheathing between the stick and the wall, mm.
    """
    reach = end - start
    in_plan = np.hypot(reach[:, 0], reach[:, 1]) / np.maximum(np.linalg.norm(reach, axis=1), 1e-9)
    first, last = walls.crossings(start, end)
    rise = reach[:, 2, None]
    gap = rules.structure.load_path.bearing_gap + under[:, None]
    plumb = (depth / np.maximum(in_plan, 1e-9))[:, None]
    with np.errstate(invalid="ignore"):
        heights = np.stack((start[:, 2, None] + rise * first, start[:, 2, None] + rise * last)) - plumb / 2
    low, high = np.minimum(*heights), np.maximum(*heights)
    bears = np.zeros(first.shape, dtype=bool)
    for top in (walls.top, walls.deck_top):
        bears |= (top >= low - gap) & (top <= high + _SEAT * plumb)
    return bears & (first < last), first, last


def _over_beams(panel: Panel, low: Floats, high: Floats, start: float, level: float) -> list[Place]:
    """Where along a stick with the corners `low` and `high`, from its `start` up, beams carry it, mm in plan.

    `level` is what a length along it is in plan.
    """
    length = float(high[1] - low[1]) * level
    beams = (b for b in panel.bearings if b.x0 < high[0] and low[0] < b.x1)
    places = (((b.y0 - start) * level, (b.y1 - start) * level) for b in beams)
    return [(max(first, 0.0), min(last, length)) for first, last in places if first < length and last > 0.0]


def _held(sticks: Sticks, panel: Ints, ends: Floats, roles: tuple[Role, ...]) -> Bools:
    """Whether a stick of these roles in the same panel meets each of the `ends` (n, 3), panel coordinates."""
    holders = sticks.rows(*roles, in_wall=False)
    same = sticks.scene.timber.panel[holders][None] == panel[:, None]
    low, high = sticks.low[holders] - TOUCH, sticks.high[holders] + TOUCH
    inside = ((ends[:, None] >= low[None]) & (ends[:, None] <= high[None])).all(axis=2)
    result: Bools = (inside & same).any(axis=1)
    return result


def _spacing(sticks: Sticks, rows: Ints, panel: Ints) -> Floats:
    """Half the distance to the neighbours on both sides, across the panel, mm; a stick at an edge has one."""
    centre = (sticks.low[rows, 0] + sticks.high[rows, 0]) / 2
    is_trimmer = np.array([sticks.member(row).role is Role.TRIMMER for row in rows.tolist()], dtype=bool)
    share = np.zeros(len(rows))
    for number in np.unique(panel).tolist():
        own = np.flatnonzero((panel == number) & ~is_trimmer)
        if not len(own):
            continue
        places, back = np.unique(centre[own].round(1), return_inverse=True)
        apart = np.diff(places, prepend=places[0], append=places[-1])
        share[own] = ((apart[:-1] + apart[1:]) / 2)[back]
    return share


def _merged(places: list[Place]) -> tuple[Place, ...]:
    """Bearings in order, those that meet as one."""
    merged: list[Place] = []
    for first, last in sorted(places):
        if merged and first <= merged[-1][1] + TOUCH:
            merged[-1] = (merged[-1][0], max(merged[-1][1], last))
        else:
            merged.append((first, last))
    return tuple(merged)


def _vec(point: Floats) -> Vec3:
    x, y, z = point.tolist()
    return (x, y, z)
