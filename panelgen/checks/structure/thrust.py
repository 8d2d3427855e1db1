"""Rafters that lean on a ridge or hip push the walls apart: ties across the plates, or beams that carry, hold them.

A tie is a joist of a floor or ceiling that runs along the rafters, near enough to each, from over its wall inward, no
higher than the rule set allows.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import hypot

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.catalog.structure_rows import RafterTieRule
from panelgen.checks.codes import found
from panelgen.checks.structure.bearings import Borne
from panelgen.checks.structure.sticks import LEVEL
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Bools
from panelgen.model import Finding, Panel, Role

__all__ = ["thrust"]

_PARALLEL = 0.999
_AT_SEAT = 300.0
"""A tie begins this near (mm) to the bearing of its rafter; common practice, no source."""
_INWARD = 0.5
"""A tie reaches over at least this share of its rafter's run; common practice, no source."""


@dataclass(frozen=True, slots=True, eq=False)
class _Ties:
    """m joists of floors and ceilings: `start` and `reach` (m, 2) in plan, `low` and `high` (m,) house heights, mm."""

    start: Floats
    reach: Floats
    low: Floats
    high: Floats

    @classmethod
    def of(cls, joists: Sequence[Borne]) -> _Ties:
        """The joists as arrays."""
        start = np.array([one.start for one in joists]).reshape(-1, 3)
        end = np.array([one.end for one in joists]).reshape(-1, 3)
        half = np.array([one.member.width for one in joists]) / 2
        return cls(start[:, :2], (end - start)[:, :2], start[:, 2] - half, start[:, 2] + half)

    def hold(self, rafters: Sequence[Borne], rule: RafterTieRule) -> Bools:
        """(n,) whether a tie holds each rafter of one plane: all of them run the same way."""
        start, end = (np.array([one.start for one in rafters]), np.array([one.end for one in rafters]))
        falls = (start[:, 2] > end[:, 2])[:, None]
        low, high = np.where(falls, end, start), np.where(falls, start, end)
        ahead = (high - low)[0, :2] / np.linalg.norm((high - low)[0, :2])
        run = (high - low)[:, :2] @ ahead
        share = np.array([_seat(one) for one in rafters]) / np.maximum(run, 1e-9)
        seat = low + (high - low) * share[:, None]
        depth = np.array([one.member.width for one in rafters]) * np.linalg.norm(high - low, axis=1) / run
        top = (seat[:, 2] - depth / 2) + rule.height * (high[:, 2] - seat[:, 2])
        along = np.abs(self.reach @ ahead) >= _PARALLEL * np.linalg.norm(self.reach, axis=1)
        ties = np.flatnonzero(along & (self.high >= seat[:, 2].min() - 2 * depth.max()) & (self.low <= top.max()))
        aside = self.start[ties] @ np.array((-ahead[1], ahead[0]))
        near = np.abs(aside[None] - (seat[:, :2] @ np.array((-ahead[1], ahead[0])))[:, None]) <= rule.spacing
        ends = np.stack((self.start[ties] @ ahead, (self.start[ties] + self.reach[ties]) @ ahead))
        begins, stops = (one[None] - (seat[:, :2] @ ahead)[:, None] for one in (ends.min(axis=0), ends.max(axis=0)))
        near &= (begins <= _AT_SEAT) & (stops >= (_INWARD * (run - share * run))[:, None])
        near &= (self.high[ties][None] >= (seat[:, 2] - 2 * depth)[:, None]) & (self.low[ties][None] <= top[:, None])
        result: Bools = near.any(axis=1)
        return result


def thrust(borne: Sequence[Borne], rules: RuleSet) -> Iterator[Finding]:
    """For every roof plane: rafters without ties, ties to be nailed, or ridges that must be beams.

    Dormers are left out: an engineer says what holds them.
    """
    ties = _Ties.of([one for one in borne if one.panel.kind in LEVEL and one.member.role is Role.JOIST])
    planes: dict[str, list[Borne]] = {}
    for one in borne:
        if one.member.role is Role.RAFTER and not one.panel.dormer and _pushes(one):
            planes.setdefault(one.panel.wall, []).append(one)
    tie, beam = rules.structure.rafter_tie, rules.structure.roof_beam
    for plane, rafters in planes.items():
        if _slope(rafters[0].panel) < beam.least_slope - 1e-9:
            yield _finding(
                "roof.beam", plane, rafters[:1], beam.cited, value=_slope(rafters[0].panel), limit=beam.least_slope
            )
            continue
        tied = ties.hold(rafters, tie)
        loose = [one for one, is_tied in zip(rafters, tied.tolist(), strict=True) if not is_tied]
        if loose:
            yield _finding("roof.thrust", plane, loose, tie.cited, value=len(loose), limit=0.0, of=len(rafters))
        else:
            yield _finding("roof.tied", plane, rafters[:1], tie.cited)


def _pushes(rafter: Borne) -> bool:
    """Whether a rafter bears on a wall near its foot only, and leans on a board at its upper end."""
    rises = rafter.end[2] >= rafter.start[2]
    reached = [last if rises else rafter.length - first for first, last in rafter.walls]
    return rafter.leans and bool(reached) and max(reached) <= rafter.length / 2


def _seat(rafter: Borne) -> float:
    """How far up its run, mm, the middle of a rafter's bearing is."""
    first, last = rafter.walls[0]
    middle = (first + last) / 2
    return middle if rafter.end[2] >= rafter.start[2] else rafter.length - middle


def _slope(panel: Panel) -> float:
    x, y, z = panel.frame.y
    return abs(z) / max(hypot(x, y), 1e-9)


def _finding(
    code: str,
    plane: str,
    rafters: Sequence[Borne],
    source: str,
    *,
    value: float | None = None,
    limit: float | None = None,
    of: int = 0,
) -> Finding:
    first = rafters[0]
    point = first.member.frame.point(first.member.length / 2, first.member.width / 2, first.member.thickness / 2)
    count = f"{len(rafters)} of the {of} rafters"
    return found(
        code,
        first.panel,
        parts=(plane,),
        point=point,
        value=value,
        limit=limit,
        unit="",
        source=source,
        plane=plane,
        count=count,
    )
