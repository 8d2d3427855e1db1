"""Point loads from above followed down to the foundation, level by level, by their place in plan.

A load comes down on the wall below. There it needs as many full-height studs close beneath as brought it, in that wall
or one beside it at a corner, wood through the depth of a floor or ceiling panel between, and so on down to the lowest
walls. A load that has lost its way is reported once, where it does. Between levels without floor panels the floor is
taken to be blocked. Walls around the house stand on their foundation; one inside may stand on a beam of the lowest
floor.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.catalog.structure_rows import LoadPathRule
from panelgen.checks.codes import found
from panelgen.checks.structure.beams import Beam
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.point_loads import PointLoad
from panelgen.checks.structure.sticks import FULL, LEVEL, Sticks
from panelgen.geometry.frames import Floats, add, dot, scaled
from panelgen.model import Finding, Member, PanelKind, Role

__all__ = ["load_paths"]

_BLOCKS = (Role.BLOCKING, Role.RIM, Role.JOIST, Role.HEADER, Role.TRIMMER)
_FILLS = 0.95
"""Share of a floor's depth that wood must take to carry a load through it."""


def load_paths(
    loads: Iterable[PointLoad], sticks: Sticks, walls: Walls, beams: Sequence[Beam], rules: RuleSet
) -> Iterator[Finding]:
    """One finding for each point load that does not come down to the lowest walls, where it is lost."""
    rule = rules.structure.load_path
    if not len(walls.panel):
        return
    bearing = _Bearing.of(sticks, walls, rule)
    ground = float(walls.bottom.min())
    going = list(loads)
    while going:
        for load in going:
            beam = _beam_under(load, beams, rule) if load.is_inside and load.point[2] <= ground + rule.reach else None
            if beam is not None:
                yield _lost(sticks, load, "load.beam", rule, beam=beam.place.beam)
        going = [load for load in going if load.point[2] > ground + rule.reach]
        if not going:
            return
        points = np.array([load.point for load in going])
        over, local = walls.under(points)
        beside, _ = walls.under(points, rule.reach)
        below = walls.top[None] <= points[:, 2, None] + rule.bearing_gap
        top = np.where(over & below, walls.top[None], -np.inf)
        highest = top.max(axis=1)
        onward = []
        for k, load in enumerate(going):
            beam = _beam_under(load, beams, rule)
            if beam is not None and beam.top >= highest[k]:
                yield _lost(sticks, load, "load.beam", rule, beam=beam.place.beam)
                continue
            if not np.isfinite(highest[k]):
                yield _lost(sticks, load, "load.wall", rule)
                continue
            under = np.flatnonzero(top[k] > highest[k] - rule.reach).tolist()
            level = np.abs(walls.top - highest[k]) < rule.reach
            near = [w for w in np.flatnonzero(beside[k] & level).tolist() if w not in under]
            spots = [(int(walls.panel[w]), float(local[k, w, 0])) for w in (*under, *near)]
            fault = bearing.fault(load, spots, float(highest[k]))
            if fault is not None:
                code, panel, opening = fault
                yield _lost(sticks, load, code, rule, below=sticks.scene.panels[panel].label, opening=opening)
                continue
            kinds = {sticks.scene.panels[int(walls.panel[w])].kind for w in under}
            onward.append(load.down_to(float(walls.bottom[under].min()), kinds == {PanelKind.INTERIOR_WALL}))
        going = onward


def _beam_under(load: PointLoad, beams: Sequence[Beam], rule: LoadPathRule) -> Beam | None:
    """The highest beam that a load stands over."""
    under = (beam for beam in beams if beam.top <= load.point[2] + rule.bearing_gap and beam.is_under(load.point))
    return max(under, key=lambda beam: beam.top, default=None)


@dataclass(frozen=True, slots=True, eq=False)
class _Bearing:
    """What can carry a load: left and right x of full-height sticks by wall panel, and wood in level panels.

    The latter are the boxes around solid sticks, low and high corners (n, 3), panel coordinates, mm.
    """

    sticks: Sticks
    rule: LoadPathRule
    carriers: dict[int, list[tuple[float, float]]]
    blocks: dict[int, tuple[Floats, Floats]]

    @classmethod
    def of(cls, sticks: Sticks, walls: Walls, rule: LoadPathRule) -> _Bearing:
        carriers: dict[int, list[tuple[float, float]]] = {int(panel): [] for panel in walls.panel}
        rows = sticks.rows(*sorted(FULL), in_wall=True)
        sides = zip(sticks.low[rows, 0].tolist(), sticks.high[rows, 0].tolist(), strict=True)
        for panel, pair in zip(sticks.scene.timber.panel[rows].tolist(), sides, strict=True):
            carriers[panel].append(pair)
        return cls(sticks, rule, carriers, _blocks(sticks))

    def fault(self, load: PointLoad, spots: list[tuple[int, float]], top: float) -> tuple[str, int, str] | None:
        """What stops a load over these places (wall panel, panel x): code, panel, opening; None where all is well."""
        floor = self._unblocked(load, top)
        if floor is not None:
            return "load.block", floor, ""
        reach = self.rule.reach
        near = sum(left - reach <= x <= right + reach for panel, x in spots for left, right in self.carriers[panel])
        if near >= load.count:
            return None
        for panel, x in spots:
            for hole in self.sticks.scene.panels[panel].openings:
                if hole.x0 < x < hole.x1:
                    return "load.header", panel, hole.id
        return "load.path", spots[0][0], ""

    def _unblocked(self, load: PointLoad, top: float) -> int | None:
        """The level panel between a load and the wall top below it that has no wood through its depth there."""
        for number, (low, high) in self.blocks.items():
            panel = self.sticks.scene.panels[number]
            frame, framing = panel.frame, panel.framing
            if abs(load.point[2] - frame.origin[2] - framing.z1) >= load.point[2] - top:
                continue
            away = add(load.point, scaled(frame.origin, -1.0))
            x, y = dot(away, frame.x), dot(away, frame.y)
            if not (0.0 <= x <= panel.length and 0.0 <= y <= panel.height):
                continue
            reach, at = self.rule.reach, np.array((x, y))
            near = ((low[:, :2] - reach <= at) & (at <= high[:, :2] + reach)).all(axis=1)
            if not (near & (high[:, 2] - low[:, 2] >= _FILLS * framing.thickness)).any():
                return number
        return None


def _blocks(sticks: Sticks) -> dict[int, tuple[Floats, Floats]]:
    """The boxes around sticks that may carry a load through each level panel; the web of an I-joist does not."""
    rows = np.array(
        [row for row in sticks.rows(*_BLOCKS, in_wall=False) if not _has_web(sticks.member(row))], dtype=int
    )
    owner = sticks.scene.timber.panel[rows]
    floors = [n for n, panel in enumerate(sticks.scene.panels) if panel.kind in LEVEL]
    return {n: (sticks.low[rows[owner == n]], sticks.high[rows[owner == n]]) for n in floors}


def _has_web(member: Member) -> bool:
    return member.engineered and member.grade == "i-joist"


def _lost(sticks: Sticks, load: PointLoad, code: str, rule: LoadPathRule, **words: Any) -> Finding:
    panel = sticks.scene.panels[load.panel]
    return found(
        code,
        panel,
        parts=load.parts,
        point=panel.frame.to_local(np.array([load.start]))[0],
        value=float(load.count),
        unit="",
        source=rule.cited,
        origin=load.words,
        **words,
    )
