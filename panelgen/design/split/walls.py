"""The splits of all walls of a house; a wall of which nothing that matters to its split has changed keeps it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from panelgen.catalog import RuleSet
from panelgen.design.brief import PanelBrief, Span
from panelgen.design.limits import shop_limits
from panelgen.design.split.joints import Keep, service_keeps, space_of
from panelgen.design.split.wall import WallPieces, WallSplit, split_wall
from panelgen.design.trades.requests import Requests
from panelgen.model import Finding, Partition, RunPart
from panelgen.spec import HouseSpec

__all__ = ["Splits", "WallToSplit", "split_walls"]


class WallToSplit(NamedTuple):
    """All that the split of a wall follows from: its brief as if it were one panel, where its services bar joints,
    and where the spec asks for joints and forbids them, panel x of the whole wall (mm)."""

    whole: PanelBrief
    keeps: tuple[Keep, ...]
    pins: tuple[float, ...]
    forbidden: tuple[Span, ...]

    def pieces(self, rules: RuleSet) -> WallPieces:
        """Every panel that the wall may be split into."""
        return WallPieces(self.whole, rules, shop_limits(self.whole.shop), self.keeps, self.pins, self.forbidden)

    def split(self, rules: RuleSet) -> WallSplit:
        """The best split of the wall."""
        beside = self._replace(keeps=()) if self.keeps else None
        return split_wall(self.pieces(rules), (lambda: beside.pieces(rules)) if beside else None)


@dataclass(frozen=True, slots=True)
class Splits:
    """How each wall of a house is split, and what from, in the order of the walls."""

    asked: tuple[WallToSplit, ...]
    walls: tuple[WallSplit, ...]

    @property
    def spans(self) -> tuple[tuple[Span, ...], ...]:
        """The panels of each wall as stretches of its framing, mm from where that begins."""
        return tuple(one.spans for one in self.walls)

    @property
    def partitions(self) -> tuple[Partition, ...]:
        """The splits as the model keeps them."""
        return tuple(one.partition for one in self.walls)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Walls that cannot be split within the limits, and joints asked for in bad places."""
        return tuple(finding for one in self.walls for finding in one.findings)

    def again(self, spec: HouseSpec, requests: Requests, rules: RuleSet) -> Splits:
        """The splits of the same walls with other services."""
        return split_walls(spec, [one.whole for one in self.asked], requests, rules, self)


def split_walls(
    spec: HouseSpec, wholes: Sequence[PanelBrief], requests: Requests, rules: RuleSet, before: Splits | None = None
) -> Splits:
    """The best split of every wall, given the brief of each as if it were one panel.

    Walls of which the same is asked as in `before`, the splits of a house much like this one, keep their split.
    """
    runs = requests.runs_in([space_of(whole) for whole in wholes])
    asked = tuple(
        _asked(spec, whole, _service_keeps(whole, parts, requests)) for whole, parts in zip(wholes, runs, strict=True)
    )
    known = {(one.whole.wall.id, one.whole.wall_start): n for n, one in enumerate(before.asked)} if before else {}
    walls = []
    for one in asked:
        n = known.get((one.whole.wall.id, one.whole.wall_start))
        if before is not None and n is not None and one == before.asked[n]:
            walls.append(before.walls[n])
        else:
            walls.append(one.split(rules))
    return Splits(asked, tuple(walls))


def _service_keeps(whole: PanelBrief, runs: Sequence[RunPart], requests: Requests) -> tuple[Keep, ...]:
    stud = whole.catalog.stock(whole.assembly.framing.stock).thickness
    space = space_of(whole)
    return service_keeps(whole.wall.id, whole.wall_start, stud, space, runs, requests, whole.catalog)


def _asked(spec: HouseSpec, whole: PanelBrief, keeps: tuple[Keep, ...]) -> WallToSplit:
    wall, start = whole.wall.id, whole.wall_start
    return WallToSplit(
        whole,
        keeps,
        tuple(joint.at - start for joint in spec.joints if joint.wall == wall),
        tuple((one.start - start, one.end - start) for one in spec.no_joints if one.wall == wall),
    )
