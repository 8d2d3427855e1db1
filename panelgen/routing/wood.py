"""Sticks of the framing: solid to legs along and across them, open where the rule set lets them be bored.

A stick may be bored through its wide face only. A hole keeps within the face, off the edges and the ends, off
other holes, and out of the sections of notches.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from panelgen.catalog import RuleSet
from panelgen.checks.codes import named
from panelgen.checks.holes.doubled import CONTACT
from panelgen.checks.holes.limits import HoleLimit, hole_limit
from panelgen.checks.holes.roles import STUDS, TOP_PLATES, is_bearing, is_unruled
from panelgen.design.extents import Extent, is_sloping
from panelgen.design.fastening.service_rods import bore_ends
from panelgen.geometry.frames import Vec3, add, scaled
from panelgen.model import Member, Panel
from panelgen.routing.bodies import ACROSS, Body, Cause, Obstacle, Slab, bars_all_but, stairs
from panelgen.routing.pipe import Pipe
from panelgen.routing.site import Site

__all__ = ["Crossing", "Wood"]

_AXIS = 1.0 - 1e-9
_HAIR = 1e-6
_CLEAR = 1e-3
"""mm. What a hole keeps inside its limits, so that no rounding takes it beyond them."""

_WEB = 3.0
"""Wood left between two holes in a stick, mm; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Crossing:
    """A stick that may be bored along `axis`: where it lies, and the limit that its holes come under.

    `tied` says that a hole of the pipe needs a steel tie across it.
    """

    member: Member
    panel: Panel
    axis: int
    low: Vec3
    high: Vec3
    limit: HoleLimit
    doubled: bool = False
    tied: bool = False

    def is_between(self, a: Vec3, b: Vec3) -> bool:
        """Whether a leg from a to b along the axis goes through the stick."""
        beside = all(self.low[k] < a[k] < self.high[k] for k in ACROSS[self.axis])
        near, far = sorted((a[self.axis], b[self.axis]))
        return beside and near < self.high[self.axis] - _HAIR and far > self.low[self.axis] + _HAIR


@dataclass(frozen=True, slots=True, eq=False)
class Wood:
    """The framing of a site as obstacles to a pipe; `crossings` are the sticks it may go through."""

    obstacles: tuple[Obstacle, ...]
    crossings: tuple[Crossing, ...]

    @classmethod
    def of(cls, site: Site, pipe: Pipe, rules: RuleSet, doubled: bool) -> Wood:
        """The framing of all panels of a site.

        `doubled` says whether the higher limit of doubled studs may be used.
        """
        obstacles: list[Obstacle] = []
        crossings: list[Crossing] = []
        for panel in site.panels:
            sticks = [
                _Stick(member, panel, site.extent(panel, member), _bored_axis(member))
                for member in panel.members
                if member.layer == panel.framing.name
            ]
            for stick in sticks:
                if is_sloping(stick.member) or stick.axis is None:
                    cause = Cause(stick.member.id, named(stick.member), ", which slopes")
                    obstacles += stairs(stick.member, (panel.wall_start, 0.0, 0.0), cause)
                    continue
                crossing, cause = _crossing(stick, pipe, rules)
                windows = [] if crossing is None else [_window(stick, pipe, crossing.limit)]
                if crossing is None and doubled:
                    crossing, windows = _through_doubled(stick, sticks, pipe, rules)
                windows = [window for window in windows if all(a <= b for a, b in zip(*window, strict=True))]
                if crossing is None or not windows:
                    obstacles.append(Body(stick.low, stick.high, cause))
                    continue
                crossings.append(crossing)
                obstacles += _bored(stick, pipe, crossing, windows)
        return cls(tuple(obstacles), tuple(crossings))


@dataclass(frozen=True, slots=True)
class _Stick:
    """A member with its box in wall coordinates and the axis square to its wide face."""

    member: Member
    panel: Panel
    box: Extent
    axis: int | None

    @property
    def low(self) -> Vec3:
        return (self.box.x0, self.box.y0, self.box.z0)

    @property
    def high(self) -> Vec3:
        return (self.box.x1, self.box.y1, self.box.z1)


_Window = tuple[Vec3, Vec3]


def _bored_axis(member: Member) -> int | None:
    return next((k for k, value in enumerate(member.frame.z) if abs(value) > _AXIS), None)


def _crossing(stick: _Stick, pipe: Pipe, rules: RuleSet) -> tuple[Crossing | None, Cause]:
    """How a stick may be bored for the pipe, or not; and what there is to say of it where it is in the way."""
    member, axis = stick.member, stick.axis
    assert axis is not None  # sticks without a bored axis are solid
    limit = hole_limit(member, stick.panel, rules)
    if pipe.bore is None:
        return None, _cause(stick, ", and a rectangular duct goes through no bore")
    if is_unruled(member):
        return None, _cause(stick, f", which no rule allows to be bored ({limit.source})")
    tied = member.role in TOP_PLATES and pipe.bore > limit.size + _HAIR
    if pipe.bore > limit.size + _HAIR and not tied:
        words = f": the bore would be {pipe.bore:.1f} mm and the rule allows {limit.size:.1f} mm"
        kind = "bearing" if is_bearing(stick.panel) else "nonbearing"
        return None, _cause(stick, f"{words} in a {kind} {member.role} ({limit.source})")
    if pipe.bore + 2 * _CLEAR > member.width - 2 * limit.edge:
        return None, _cause(stick, f": its wide face has no room for a bore of {pipe.bore:.1f} mm")
    crossing = Crossing(member, stick.panel, axis, stick.low, stick.high, limit, tied=tied)
    return crossing, _cause(stick, ", where it may not be bored")


def _cause(stick: _Stick, why: str) -> Cause:
    return Cause(stick.member.id, named(stick.member), why)


def _window(stick: _Stick, pipe: Pipe, limit: HoleLimit) -> _Window:
    """Where the centre of a hole may be: a box as thick as the stick, empty where low is above high."""
    member, half = stick.member, (pipe.bore or 0.0) / 2 + _CLEAR
    corners = [(y, z) for y in (0.0, member.width) for z in (0.0, member.thickness)]
    near = max(member.end_x(member.start, False, y, z) for y, z in corners) + half
    far = min(member.end_x(member.end, True, y, z) for y, z in corners) - half
    aside = half + limit.edge
    if near > far or aside > member.width / 2:
        return stick.high, stick.low
    a = member.frame.point(near, aside, 0.0)
    b = member.frame.point(far, member.width - aside, member.thickness)
    (x0, x1), (y0, y1), (z0, z1) = (sorted(pair) for pair in zip(a, b, strict=True))
    shift = stick.panel.wall_start
    return (x0 + shift, y0, z0), (x1 + shift, y1, z1)


def _through_doubled(
    stick: _Stick, sticks: Sequence[_Stick], pipe: Pipe, rules: RuleSet
) -> tuple[Crossing | None, list[_Window]]:
    """The higher limit of a bearing stud, over the stretches where another stud lies flat against it."""
    member, axis = stick.member, stick.axis
    if member.role not in STUDS or not is_bearing(stick.panel) or pipe.bore is None or axis is None:
        return None, []
    limit = hole_limit(member, stick.panel, rules, doubled=True)
    if pipe.bore > limit.size + _HAIR:
        return None, []
    low, high = _window(stick, pipe, limit)
    windows = []
    for other in sticks:
        if other is stick or other.member.role not in STUDS or other.axis != axis:
            continue
        gaps = (other.low[axis] - stick.high[axis], stick.low[axis] - other.high[axis])
        if min(map(abs, gaps)) <= CONTACT:
            half = pipe.bore / 2
            least, most = list(low), list(high)
            for k in ACROSS[axis]:
                least[k], most[k] = max(low[k], other.low[k] + half), min(high[k], other.high[k] - half)
            windows.append(((least[0], least[1], least[2]), (most[0], most[1], most[2])))
    crossing = Crossing(member, stick.panel, axis, stick.low, stick.high, limit, doubled=True)
    return crossing, windows


def _bored(stick: _Stick, pipe: Pipe, crossing: Crossing, windows: Sequence[_Window]) -> Iterator[Obstacle]:
    """A stick that may be bored: solid but to legs square to its wide face in one of the windows.

    The windows lie one after the other along the stick.
    """
    axis, limit = crossing.axis, crossing.limit
    cause = _cause(stick, f", where a hole would be too near an edge or end ({limit.source})")
    yield Body(stick.low, stick.high, cause, bars=bars_all_but(axis))
    low, high = _grown(stick, pipe.half[axis])
    for k in ACROSS[axis]:
        if abs(stick.member.frame.y[k]) > _AXIS:
            ends = [low[k], max(least[k] for least, _ in windows), min(most[k] for _, most in windows), high[k]]
        else:
            ends = [low[k], *(side for window in sorted((a[k], b[k]) for a, b in windows) for side in window), high[k]]
        for span in zip(ends[::2], ends[1::2], strict=True):
            yield _slab(axis, low, high, {k: span}, cause)
    yield from _cuts(stick, pipe, axis)


def _grown(stick: _Stick, half: Vec3) -> tuple[Vec3, Vec3]:
    return add(stick.low, scaled(half, -1.0)), add(stick.high, half)


def _slab(axis: int, low: Vec3, high: Vec3, spans: Mapping[int, tuple[float, float]], cause: Cause) -> Slab:
    """The box with some of its sides set anew."""
    least, most = list(low), list(high)
    for k, (a, b) in spans.items():
        least[k], most[k] = a, b
    return Slab(axis, (least[0], least[1], least[2]), (most[0], most[1], most[2]), cause)


def _cuts(stick: _Stick, pipe: Pipe, axis: int) -> Iterator[Slab]:
    """Room around the holes of other runs in a stick, and the sections of its notches."""
    member, shift = stick.member, (stick.panel.wall_start, 0.0, 0.0)
    half = (pipe.bore or 0.0) / 2
    for bore in member.bores:
        if bore.run != pipe.run:
            away = half + bore.diameter / 2 + _WEB
            ends = [add(end, shift) for end in bore_ends(member, bore)]
            spans = {k: (min(end[k] for end in ends) - away, max(end[k] for end in ends) + away) for k in ACROSS[axis]}
            cause = _cause(stick, f", too near the hole for run {bore.run}")
            yield _slab(axis, stick.low, stick.high, spans, cause)
    for notch in member.notches:
        sides = [add(member.frame.point(x, 0.0, 0.0), shift) for x in (notch.x0 - half, notch.x1 + half)]
        along = next(k for k in ACROSS[axis] if abs(member.frame.x[k]) > _AXIS)
        low, high = _grown(stick, pipe.half[axis])
        span = {along: (min(side[along] for side in sides), max(side[along] for side in sides))}
        yield _slab(axis, low, high, span, _cause(stick, ", in the section of a notch"))
