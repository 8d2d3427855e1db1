"""Point loads from above followed down to the foundation, level by level, by their place in plan.

What carries a header comes down on the wall below. There it needs as many full-height studs close beneath it as
brought it, wood through the depth of a floor panel between, and so on down to the lowest walls. A load that has
lost its way is reported once, where it does. Between levels without floor panels the floor is taken to be blocked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.catalog.structure_rows import LoadPathRule
from panelgen.checks.codes import found
from panelgen.checks.structure.headers import built_headers
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.sticks import FULL, WALLS, Sticks
from panelgen.geometry.frames import Vec3
from panelgen.model import Finding, Panel, PanelKind, Role

__all__ = ["load_paths"]

_BLOCKS = (Role.BLOCKING, Role.RIM, Role.JOIST, Role.HEADER)
_FILLS = 0.95
"""Share of a floor's depth that wood must take to carry a load through it."""


@dataclass(frozen=True, slots=True)
class _Load:
    """What `count` sticks bring down at a house `point`, mm; `panel` is where they stand, `parts` what they are."""

    words: str
    panel: int
    parts: tuple[str, ...]
    count: int
    point: Vec3


def load_paths(sticks: Sticks, rules: RuleSet) -> Iterator[Finding]:
    """One finding for each point load that does not come down to the lowest walls, where it is lost."""
    rule = rules.structure.load_path
    walls = Walls.of(sticks)
    if not len(walls.panel):
        return
    bearing = _Bearing.of(sticks, walls, rule)
    ground = float(walls.bottom.min())
    loads = list(_header_loads(sticks, rule))
    while loads:
        loads = [load for load in loads if load.point[2] > ground + rule.reach]
        if not loads:
            return
        over, local = walls.under(np.array([load.point for load in loads]))
        below = walls.top[None] <= np.array([load.point[2] for load in loads])[:, None] + rule.bearing_gap
        top = np.where(over & below, walls.top[None], -np.inf)
        highest = top.max(axis=1)
        onward = []
        for k, load in enumerate(loads):
            if not np.isfinite(highest[k]):
                yield _lost(sticks, load, "load.wall", rule)
                continue
            under = np.flatnonzero(top[k] > highest[k] - rule.reach).tolist()
            spots = [(int(walls.panel[w]), float(local[k, w, 0])) for w in under]
            fault = bearing.fault(load, spots, float(highest[k]))
            if fault is not None:
                code, panel, opening = fault
                yield _lost(sticks, load, code, rule, sticks.scene.panels[panel], opening)
                continue
            onward.append(replace(load, point=(*load.point[:2], float(walls.bottom[under].min()))))
        loads = onward


def _header_loads(sticks: Sticks, rule: LoadPathRule) -> Iterator[_Load]:
    """The ends of the headers of bearing walls."""
    for number, panel in enumerate(sticks.scene.panels):
        if panel.kind not in WALLS or not panel.bearing:
            continue
        for opening, header in built_headers(sticks, number, rule.bearing_gap):
            if header is None:
                continue
            for jacks in header.jacks:
                if not jacks:
                    continue
                places = [jack.frame.origin[0] - jack.thickness / 2 for jack in jacks]
                x = sum(places) / len(places)
                point = panel.frame.point(x, 0.0, panel.framing.thickness / 2)
                words = f"the header of opening {opening.id}"
                yield _Load(words, number, tuple(jack.id for jack in jacks), len(jacks), point)


@dataclass(frozen=True, slots=True, eq=False)
class _Bearing:
    """What can carry a load: full-height sticks by wall panel (left and right x), and floor panels."""

    sticks: Sticks
    rule: LoadPathRule
    carriers: dict[int, list[tuple[float, float]]]
    floors: tuple[int, ...]

    @classmethod
    def of(cls, sticks: Sticks, walls: Walls, rule: LoadPathRule) -> _Bearing:
        carriers: dict[int, list[tuple[float, float]]] = {int(panel): [] for panel in walls.panel}
        rows = sticks.rows(*sorted(FULL), in_wall=True)
        sides = zip(sticks.low[rows, 0].tolist(), sticks.high[rows, 0].tolist(), strict=True)
        for panel, pair in zip(sticks.scene.timber.panel[rows].tolist(), sides, strict=True):
            carriers[panel].append(pair)
        floors = tuple(n for n, panel in enumerate(sticks.scene.panels) if panel.kind is PanelKind.FLOOR)
        return cls(sticks, rule, carriers, floors)

    def fault(self, load: _Load, spots: list[tuple[int, float]], top: float) -> tuple[str, int, str] | None:
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

    def _unblocked(self, load: _Load, top: float) -> int | None:
        """The floor panel between a load and the wall top below it that has no wood through its depth there."""
        for number in self.floors:
            panel = self.sticks.scene.panels[number]
            x, y, z = panel.frame.to_local(np.array([load.point]))[0].tolist()
            framing = panel.framing
            if not (
                0.0 <= x <= panel.length and 0.0 <= y <= panel.height and abs(z - framing.z1) < load.point[2] - top
            ):
                continue
            low, high = self.sticks.low, self.sticks.high
            reach = self.rule.reach
            for row in self.sticks.span(number):
                member = self.sticks.member(row)
                if (
                    member.role in _BLOCKS
                    and low[row, 0] - reach <= x <= high[row, 0] + reach
                    and low[row, 1] - reach <= y <= high[row, 1] + reach
                    and high[row, 2] - low[row, 2] >= _FILLS * framing.thickness
                ):
                    break
            else:
                return number
        return None


def _lost(
    sticks: Sticks, load: _Load, code: str, rule: LoadPathRule, below: Panel | None = None, opening: str = ""
) -> Finding:
    panel = sticks.scene.panels[load.panel]
    words: dict[str, Any] = {"below": below.label if below else "", "opening": opening}
    return found(
        code,
        panel,
        parts=load.parts,
        point=panel.frame.to_local(np.array([(*load.point[:2], panel.frame.origin[2])]))[0],
        value=float(load.count),
        unit="",
        source=rule.cited,
        origin=load.words,
        **words,
    )
