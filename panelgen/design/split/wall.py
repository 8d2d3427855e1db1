"""How a wall is split into panels: the best of all legal splits, or the reasons why there is none.

Fewest panels first, then the least waste of both sheathings, then the least sum of squared masses: for as many panels
of the same wall that is the most even split. All three are sums over the panels, so the split found is the optimum.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, reduce

from panelgen.catalog import RuleSet
from panelgen.design.brief import PanelBrief, Span
from panelgen.design.framing.wall import frame_panel
from panelgen.design.split.best import BestSplit, Cost, best_split
from panelgen.design.split.joints import Keep, joint_places, kept_clear
from panelgen.design.split.limits import LINE, limits_of, with_crane
from panelgen.design.split.masses import StretchMasses, stretch_masses
from panelgen.design.split.services import joints_on_services
from panelgen.design.split.sheets import SheetWaste
from panelgen.design.split.stops import stops_between
from panelgen.geometry.rods import Bools
from panelgen.model import Finding, Member, Partition, Severity, ShopLimits, SplitCost

__all__ = ["WallPieces", "WallSplit", "split_wall"]

_EPS = 1e-6
_CM2 = 100.0  # mm2
_M2 = 1e6  # mm2
_TENTHS = 10  # of a kg


@dataclass(frozen=True, slots=True)
class WallSplit:
    """The panels of a wall as stretches of it, panel x of the whole wall (mm), and what is said of them."""

    spans: tuple[Span, ...]
    partition: Partition
    findings: tuple[Finding, ...]


class WallPieces:
    """Every panel that a wall may be split into: between which stops, within which limits, at what cost.

    `whole` is the brief of the wall as if it were one panel. `stops` are its ends and the places where panels may
    meet, panel x in mm; `pins` those where they must; `keeps` and `forbidden` stretches where they must not.
    """

    def __init__(
        self,
        whole: PanelBrief,
        rules: RuleSet,
        limits: ShopLimits,
        keeps: Sequence[Keep] = (),
        pins: Sequence[float] = (),
        forbidden: Sequence[Span] = (),
    ) -> None:
        self.whole = whole
        self.rules = rules
        self.keeps = (*kept_clear(whole, rules), *keeps)
        places = joint_places(whole, self.keeps, forbidden)
        stops = stops_between((0.0, whole.length), places, pins)
        self.stops = stops.at
        self.pins = tuple(stops.at[n] for n in stops.pins)
        self.limits = limits_of(whole, limits, stops, lambda: self.masses)
        self._any = stops.allowed(0.0)

    @cached_property
    def members(self) -> tuple[Member, ...]:
        """The sticks of the wall framed as one panel."""
        return frame_panel(self.whole, self.rules).members

    @cached_property
    def masses(self) -> StretchMasses:
        """What the panel between any two stops weighs."""
        return stretch_masses(self.whole, self.members, self.stops)

    @cached_property
    def _waste(self) -> SheetWaste:
        return SheetWaste(self.whole, self.members)

    def cost(self, i: int, j: int) -> Cost:
        """Waste (cm2) and squared mass (in tenths of a kg) of the panel from stop i to j."""
        waste = self._waste.between(self.stops[i], self.stops[j])
        return round(waste / _CM2), round(float(self.masses.mass[i, j]) * _TENTHS) ** 2

    def allowed(self, names: Iterable[str]) -> Bools:
        """(n, n) True where a panel from stop i to j keeps the limits with these names."""
        return reduce(lambda one, name: one & self.limits[name], names, self._any)

    def best(self, names: Iterable[str]) -> BestSplit | None:
        """The best split within the limits with these names."""
        return best_split(self.stops, self.cost, self.allowed(names))

    def binding(self) -> list[str]:
        """The limits each of which alone stands in the way of a split; all where only several do together."""
        lifted = [name for name in self.limits if self.can_be_split([one for one in self.limits if one != name])]
        return lifted or list(self.limits)

    def can_be_split(self, names: Iterable[str]) -> bool:
        """Whether any split keeps the limits with these names."""
        return best_split(self.stops, _free, self.allowed(names)) is not None


def split_wall(pieces: WallPieces, beside_services: Callable[[], WallPieces] | None = None) -> WallSplit:
    """The best legal split. Where there is none, the best that the line takes, or one with no joints but the
    pinned ones, and a finding that says which limits stand in the way.

    Before that, joints may fall on services: `beside_services` are the same pieces where these bar no joint, and a
    finding names those that have to make way.
    """
    findings = list(_pinned(pieces))
    best = legal = pieces.best(pieces.limits)
    if best is None and beside_services is not None:
        anywhere = beside_services()
        legal = anywhere.best(anywhere.limits)
        if legal is not None:
            joints = [stop for _, stop in legal.spans(anywhere.stops)[:-1]]
            findings += joints_on_services(f"wall {pieces.whole.wall.id}", joints, pieces.keeps, pieces.whole.frame)
            best, pieces = legal, anywhere
    if best is None:
        findings.append(_no_split(pieces))
        best = pieces.best((LINE,)) or pieces.best(())
    assert best is not None  # without limits every set of joints will do
    whole = pieces.whole
    spans = best.spans(pieces.stops)
    partition = Partition(
        whole.wall.id,
        whole.wall_start,
        whole.length,
        tuple(whole.wall_start + stop for _, stop in spans[:-1]),
        len(pieces.stops) - 2,
        legal.legal if legal else 0,
        legal.fewest if legal else 0,
        SplitCost(len(spans), legal.cost[0] * _CM2 / _M2, legal.cost[1] / _TENTHS**2) if legal and legal.cost else None,
        least=len(spans) if legal else max(1, math.ceil(whole.length / whole.shop.line_length - _EPS)),
    )
    return WallSplit(spans, partition, tuple(findings))


def _free(_start: int, _stop: int) -> Cost:
    return ()


def _pinned(pieces: WallPieces) -> Iterator[Finding]:
    """What the joints that the spec asks for fall on or come too near to."""
    whole = pieces.whole
    for pin in pieces.pins:
        near = [keep.what for keep in pieces.keeps if keep.start + _EPS < pin < keep.stop - _EPS]
        if near:
            yield Finding(
                "panel.pin",
                Severity.WARN,
                f"the joint asked for in wall {whole.wall.id} is on or too near {', '.join(near)}: move it",
                parts=(whole.wall.id,),
                house_point=whole.frame.point(pin, 0.0, 0.0),
                source="spec joints",
            )


def _no_split(pieces: WallPieces) -> Finding:
    whole = pieces.whole
    binding = pieces.binding()
    ways = "move an opening or a service, or allow a smaller joint clearance"
    ways = with_crane(ways, binding)
    return Finding(
        "panel.no-joint",
        Severity.STOP,
        f"wall {whole.wall.id} cannot be split: no set of joints on the stud layout, clear of openings, corners and "
        f"services, keeps every panel within {' and '.join(binding)}; {ways}",
        parts=(whole.wall.id,),
        house_point=whole.frame.point(0.0, 0.0, 0.0),
        value=whole.length,
        limit=whole.shop.line_length if binding == [LINE] else None,
        source="spec shop, joints, no_joints",
    )
