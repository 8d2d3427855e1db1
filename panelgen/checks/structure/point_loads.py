"""Point loads of walls, decks and trusses: ends of headers, of trimmers of deck openings and of girder trusses."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.codes import named
from panelgen.checks.structure.headers import Built
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.sticks import LEVEL, Sticks
from panelgen.geometry.frames import Vec3
from panelgen.model import PanelKind, Role, Truss

__all__ = ["PointLoad", "header_loads", "side_by_side", "trimmer_loads", "truss_loads"]


@dataclass(frozen=True, slots=True)
class PointLoad:
    """What `count` sticks bring down at a house `point`, mm; `panel` is where they stand, `parts` what they are.

    It begins at `start`; `is_inside` says whether it stands in walls inside the house, which have no foundation of
    their own.
    """

    words: str
    panel: int
    parts: tuple[str, ...]
    count: int
    start: Vec3
    point: Vec3
    is_inside: bool = False

    @classmethod
    def at(
        cls, point: Vec3, words: str, panel: int, parts: tuple[str, ...], count: int, *, is_inside: bool = False
    ) -> PointLoad:
        """A load where it begins."""
        return cls(words, panel, parts, count, point, point, is_inside)

    def down_to(self, height: float, is_inside: bool) -> PointLoad:
        """The load carried down to a house height, mm, by walls inside or around the house."""
        return replace(self, point=(*self.point[:2], height), is_inside=is_inside)


def header_loads(sticks: Sticks, built: Built) -> Iterator[PointLoad]:
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
                parts, is_inside = tuple(jack.id for jack in jacks), panel.kind is PanelKind.INTERIOR_WALL
                yield PointLoad.at(point, words, number, parts, len(jacks), is_inside=is_inside)


def trimmer_loads(sticks: Sticks, walls: Walls, rules: RuleSet) -> Iterator[PointLoad]:
    """The ends of the trimmers of level panels that lie on a wall or a beam, those side by side together."""
    gap, seat = rules.structure.load_path.bearing_gap, rules.structure.bearings["joist"].length / 2
    scene = sticks.scene
    rows = [
        row for row in sticks.rows(Role.TRIMMER, in_wall=False) if scene.panels[scene.timber.panel[row]].kind in LEVEL
    ]
    for plies in side_by_side(sticks, rows, gap):
        number = int(scene.timber.panel[plies[0]])
        panel = scene.panels[number]
        low, high = sticks.low[plies], sticks.high[plies]
        x, z = float(low[:, 0].min() + high[:, 0].max()) / 2, float(low[:, 2].min())
        members = [sticks.member(row) for row in plies]
        for y in (float(low[:, 1].max()) + seat, float(high[:, 1].min()) - seat):
            point = panel.frame.point(x, y, z)
            over, _ = walls.under(np.array([point]))
            on_beam = any(beam.x0 <= x <= beam.x1 and beam.y0 <= y <= beam.y1 for beam in panel.bearings)
            if on_beam or (over[0] & (np.abs(walls.top - point[2]) <= gap)).any():
                parts = tuple(member.id for member in members)
                yield PointLoad.at(point, named(members[0]), number, parts, len(plies))


def truss_loads(trusses: Sequence[Truss], walls: Walls, rules: RuleSet) -> Iterator[PointLoad]:
    """The ends of girder trusses, which are several plies thick; single ones are what the tables call a roof."""
    gap, seat = rules.structure.load_path.bearing_gap, rules.structure.bearings["joist"].length / 2
    for truss in trusses:
        for x in (seat, truss.span - seat) if truss.plies > 1 else ():
            point = truss.frame.point(x, 0.0, 0.0)
            over, _ = walls.under(np.array([point]))
            below = np.flatnonzero(over[0] & (np.abs(walls.top - point[2]) <= gap))
            if len(below):
                panel = int(walls.panel[below[0]])
                yield PointLoad.at(point, f"girder truss {truss.id}", panel, (truss.id,), truss.plies)


def side_by_side(sticks: Sticks, rows: Sequence[int], gap: float) -> list[list[int]]:
    """Rows of sticks that run up their panels, those that touch along their length together."""
    owner, low, high = sticks.scene.timber.panel, sticks.low, sticks.high
    groups: list[list[int]] = []
    for row in sorted(rows, key=lambda row: (owner[row], low[row, 1], low[row, 0])):
        last = groups[-1][-1] if groups else row
        beside = owner[last] == owner[row] and low[row, 0] - high[last, 0] <= gap
        if groups and beside and abs(low[row, 1] - low[last, 1]) <= gap:
            groups[-1].append(int(row))
        else:
            groups.append([int(row)])
    return groups
