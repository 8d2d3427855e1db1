"""Point loads from above followed down to the foundation, level by level, by their place in plan.

What carries a header, and the trimmers of an opening in a floor, come down on the wall below. There they need as many
full-height studs close beneath as brought the load, wood through the depth of a floor panel between, and so on down to
the lowest walls. A load that has lost its way is reported once, where it does. Between levels without floor panels the
floor is taken to be blocked.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.catalog.structure_rows import LoadPathRule
from panelgen.checks.codes import found, named
from panelgen.checks.structure.headers import Built
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.sticks import FULL, Sticks
from panelgen.geometry.frames import Floats, Vec3, add, dot, scaled
from panelgen.model import Finding, Member, Panel, PanelKind, Role

__all__ = ["load_paths"]

_BLOCKS = (Role.BLOCKING, Role.RIM, Role.JOIST, Role.HEADER, Role.TRIMMER)
_LEVEL = frozenset({PanelKind.FLOOR, PanelKind.CEILING})
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


def load_paths(sticks: Sticks, built: Built, rules: RuleSet) -> Iterator[Finding]:
    """One finding for each point load that does not come down to the lowest walls, where it is lost."""
    rule = rules.structure.load_path
    walls = Walls.of(sticks)
    if not len(walls.panel):
        return
    bearing = _Bearing.of(sticks, walls, rule)
    ground = float(walls.bottom.min())
    loads = [*_header_loads(sticks, built), *_trimmer_loads(sticks, walls, rules)]
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


def _header_loads(sticks: Sticks, built: Built) -> Iterator[_Load]:
    """The ends of the headers of bearing walls."""
    for number, (panel, openings) in enumerate(zip(sticks.scene.panels, built, strict=True)):
        if not panel.bearing or panel.dormer:  # what carries a dormer is left to an engineer
            continue
        for opening, header in openings:
            if header is None:
                continue
            for jacks in header.jacks:
                if not jacks:
                    continue
                places = [jack.frame.point(0.0, 0.0, jack.thickness / 2)[0] for jack in jacks]
                x = sum(places) / len(places)
                point = panel.frame.point(x, 0.0, panel.framing.thickness / 2)
                words = f"the header of opening {opening.id}"
                yield _Load(words, number, tuple(jack.id for jack in jacks), len(jacks), point)


def _trimmer_loads(sticks: Sticks, walls: Walls, rules: RuleSet) -> Iterator[_Load]:
    """The ends of the trimmers of level panels that lie on a wall, those side by side together."""
    gap, seat = rules.structure.load_path.bearing_gap, rules.structure.bearings["joist"].length / 2
    for plies in _side_by_side(sticks, gap):
        number = int(sticks.scene.timber.panel[plies[0]])
        panel = sticks.scene.panels[number]
        low, high = sticks.low[plies], sticks.high[plies]
        x, z = float(low[:, 0].min() + high[:, 0].max()) / 2, float(low[:, 2].min())
        members = [sticks.member(row) for row in plies]
        for y in (float(low[:, 1].max()) + seat, float(high[:, 1].min()) - seat):
            point = panel.frame.point(x, y, z)
            over, _ = walls.under(np.array([point]))
            if (over[0] & (np.abs(walls.top - point[2]) <= gap)).any():
                parts = tuple(member.id for member in members)
                yield _Load(named(members[0]), number, parts, len(plies), point)


def _side_by_side(sticks: Sticks, gap: float) -> list[list[int]]:
    """The rows of trimmers in level panels, those that touch along their length together."""
    scene, low, high = sticks.scene, sticks.low, sticks.high
    owner = scene.timber.panel
    rows = [row for row in sticks.rows(Role.TRIMMER, in_wall=False) if scene.panels[owner[row]].kind in _LEVEL]
    groups: list[list[int]] = []
    for row in sorted(rows, key=lambda row: (owner[row], low[row, 1], low[row, 0])):
        last = groups[-1][-1] if groups else row
        beside = owner[last] == owner[row] and low[row, 0] - high[last, 0] <= gap
        if groups and beside and abs(low[row, 1] - low[last, 1]) <= gap:
            groups[-1].append(int(row))
        else:
            groups.append([int(row)])
    return groups


@dataclass(frozen=True, slots=True, eq=False)
class _Bearing:
    """What can carry a load: left and right x of full-height sticks by wall panel, and wood in floor panels.

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
        for number in self.blocks:
            panel = self.sticks.scene.panels[number]
            away = add(load.point, scaled(panel.frame.origin, -1.0))
            x, y, z = dot(away, panel.frame.x), dot(away, panel.frame.y), dot(away, panel.frame.z)
            framing = panel.framing
            if not (
                0.0 <= x <= panel.length and 0.0 <= y <= panel.height and abs(z - framing.z1) < load.point[2] - top
            ):
                continue
            low, high = self.blocks[number]
            reach, at = self.rule.reach, np.array((x, y))
            near = ((low[:, :2] - reach <= at) & (at <= high[:, :2] + reach)).all(axis=1)
            if not (near & (high[:, 2] - low[:, 2] >= _FILLS * framing.thickness)).any():
                return number
        return None


def _blocks(sticks: Sticks) -> dict[int, tuple[Floats, Floats]]:
    """The boxes around sticks that may carry a load through each floor panel; the web of an I-joist does not."""
    rows = np.array(
        [row for row in sticks.rows(*_BLOCKS, in_wall=False) if not _has_web(sticks.member(row))], dtype=int
    )
    owner = sticks.scene.timber.panel[rows]
    floors = [n for n, panel in enumerate(sticks.scene.panels) if panel.kind is PanelKind.FLOOR]
    return {n: (sticks.low[rows[owner == n]], sticks.high[rows[owner == n]]) for n in floors}


def _has_web(member: Member) -> bool:
    return member.engineered and member.grade == "i-joist"


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
