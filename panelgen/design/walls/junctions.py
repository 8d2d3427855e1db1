"""Corners and tees: which wall runs through, which butts, and how far each layer reaches.

Airtightness leads the choice. The wall that runs through keeps its sheathing unbroken on the face the
other one meets; the wall that butts stops at that sheathing and laps its own far-side sheathing over
the end of the one that runs through. Nothing overlaps, and the sheathing lines close at every corner.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from panelgen.design.brief import Span, Tee
from panelgen.design.walls.plan import PlanWall
from panelgen.geometry.frames import Point2
from panelgen.model import Finding, Layer, LayerKind, Severity, WallRun

__all__ = ["Meeting", "ResolvedWall", "resolve"]

_REACH = 100.0
"""How far apart (mm, beyond half a wall's thickness) two drawn ends may be and still meet."""

_End = Literal["start", "end"]


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two walls meet: `kind` is ``corner`` or ``tee``; `at` is the plan point where their centre lines cross."""

    kind: Literal["corner", "tee"]
    through: str
    butt: str
    at: Point2


@dataclass(slots=True)
class ResolvedWall:
    """A wall with its ends settled, in its own wall coordinates (mm along it from the spec's start).

    `framing`, `outer`, `inner` and `straps` are the spans of those layers.
    """

    wall: PlanWall
    framing: Span
    outer: Span
    inner: Span
    straps: Span
    tees: list[Tee] = field(default_factory=list)

    def as_run(self) -> WallRun:
        """The wall as the model keeps it, with the framing it has now."""
        wall, (start, end) = self.wall, self.framing
        return WallRun(
            wall.id, wall.level.id, wall.frame, start, end - start, wall.framing.thickness, wall.exterior, wall.bearing
        )


@dataclass(frozen=True, slots=True)
class _Crossing:
    a: float
    b: float
    point: Point2
    sine: float


@dataclass(frozen=True, slots=True)
class _TwoEnds:
    """Two wall ends that meet, each as (index of the wall, which end)."""

    ends: tuple[tuple[int, _End], tuple[int, _End]]
    crossing: _Crossing


@dataclass(frozen=True, slots=True)
class _EndOnWall:
    """A wall end that meets the side of the wall with index `host`."""

    stem: tuple[int, _End]
    host: int
    crossing: _Crossing


def resolve(walls: Sequence[PlanWall]) -> tuple[tuple[ResolvedWall, ...], tuple[Meeting, ...], tuple[Finding, ...]]:
    """Settle the ends of the walls of one level against each other.

    Walls that cross are cut where they cross: the lesser one goes on beyond as a wall of the same id.
    Walls that meet at other than a right angle are cut square, short of the other wall, and reported.
    """
    resolved = [ResolvedWall(wall, span, span, span, span) for wall, span in _cut_crossings(walls)]
    corners, tees = _touching(resolved)
    meetings: list[Meeting] = []
    findings: list[Finding] = []
    settled: set[tuple[int, _End]] = set()
    for corner in corners:
        through, butt = sorted(corner.ends, key=lambda end: resolved[end[0]].wall.rank, reverse=True)
        if butt in settled:  # a third wall decided its end already: the free one butts instead
            through, butt = butt, through
        if butt in settled:
            continue
        wall, other = resolved[through[0]], resolved[butt[0]]
        _corner(wall, through[1], other, butt[1], through in settled)
        settled.update((through, butt))
        meetings.append(Meeting("corner", wall.wall.id, other.wall.id, corner.crossing.point))
        findings.extend(_angle_note(wall.wall, other.wall, corner.crossing))
    for tee in tees:
        if tee.stem in settled:
            continue
        settled.add(tee.stem)
        host, stem = resolved[tee.host], resolved[tee.stem[0]]
        _tee(stem, tee.stem[1], host)
        meetings.append(Meeting("tee", host.wall.id, stem.wall.id, tee.crossing.point))
        findings.extend(_angle_note(host.wall, stem.wall, tee.crossing))
    for one in resolved:
        one.tees.sort(key=lambda tee: tee.span)
    return tuple(resolved), tuple(meetings), tuple(findings)


def _touching(walls: Sequence[ResolvedWall]) -> tuple[list[_TwoEnds], list[_EndOnWall]]:
    """The pairs of walls that meet: end to end, and end to side."""
    corners: list[_TwoEnds] = []
    tees: list[_EndOnWall] = []
    for (i, one), (j, other) in itertools.combinations(enumerate(walls), 2):
        crossing = _crossing(one.wall, other.wall)
        if crossing is None:
            continue
        end_i, inside_i = _where(one, crossing.a, other.wall, crossing.sine)
        end_j, inside_j = _where(other, crossing.b, one.wall, crossing.sine)
        if end_i and end_j:
            corners.append(_TwoEnds(((i, end_i), (j, end_j)), crossing))
        elif end_i and inside_j:
            tees.append(_EndOnWall((i, end_i), j, crossing))
        elif end_j and inside_i:
            tees.append(_EndOnWall((j, end_j), i, crossing))
    return corners, tees


def _cut_crossings(walls: Sequence[PlanWall]) -> list[tuple[PlanWall, Span]]:
    """Each wall as one or more stretches of itself: the lesser of two crossing walls is cut in two."""
    stretches: list[tuple[PlanWall, Span]] = []
    for wall in walls:
        cuts = []
        for other in walls:
            if other is wall or other.rank < wall.rank:
                continue
            crossing = _crossing(wall, other)
            if crossing and _well_inside(wall, crossing.a, other) and _well_inside(other, crossing.b, wall):
                cuts.append(crossing.a)
        bounds = [0.0, *sorted(cuts), wall.length]
        stretches.extend((wall, span) for span in itertools.pairwise(bounds))
    return stretches


def _well_inside(wall: PlanWall, at: float, other: PlanWall) -> bool:
    reach = other.framing.thickness / 2 + _REACH
    return reach < at < wall.length - reach


def _crossing(a: PlanWall, b: PlanWall) -> _Crossing | None:
    """Where the framing centre lines of two walls cross, as wall x on each; None for parallel walls."""
    sine = a.direction[0] * b.direction[1] - a.direction[1] * b.direction[0]
    if abs(sine) < 1e-6:
        return None
    pa, pb = _centre(a), _centre(b)
    dx, dy = pb[0] - pa[0], pb[1] - pa[1]
    along_a = (dx * b.direction[1] - dy * b.direction[0]) / sine
    along_b = (dx * a.direction[1] - dy * a.direction[0]) / sine
    point = (pa[0] + a.direction[0] * along_a, pa[1] + a.direction[1] * along_a)
    return _Crossing(along_a, along_b, point, abs(sine))


def _centre(wall: PlanWall) -> Point2:
    half = wall.framing.thickness / 2
    return (wall.origin[0] - wall.direction[1] * half, wall.origin[1] + wall.direction[0] * half)


def _where(one: ResolvedWall, at: float, other: PlanWall, sine: float) -> tuple[_End | None, bool]:
    """Which end of `one` the wall x `at` is near, if any; and whether it lies between the ends."""
    thick = sum(layer.thickness for layer in other.layers)
    reach = (thick + one.wall.framing.thickness) / 2 / sine + _REACH
    lo, hi = one.framing
    near_start, near_end = abs(at - lo) <= reach, abs(at - hi) <= reach
    if near_start and near_end:
        near_start, near_end = abs(at - lo) <= abs(at - hi), abs(at - hi) < abs(at - lo)
    if near_start:
        return "start", False
    if near_end:
        return "end", False
    return None, lo < at < hi


def _face(layers: Sequence[Layer], name: str) -> tuple[float, float]:
    """Panel z of a layer, or of the framing face it would lie on."""
    for layer in layers:
        if layer.name == name:
            return layer.z0, layer.z1
    framing = next(layer for layer in layers if layer.kind is LayerKind.FRAMING)
    if name == "outer sheathing":
        return framing.z1, framing.z1
    low = min(layer.z0 for layer in layers if layer.kind is not LayerKind.STRAPPING)
    return low, low


def _meets(wall: PlanWall, other: PlanWall, z: float) -> Span:
    """Wall x, least and greatest, where the two framing edges of `wall` meet plane z of `other`."""
    nx, ny = other.direction[1], -other.direction[0]  # toward the weather side of `other`
    offset = z - other.framing.thickness  # from its outer framing face, weather side positive
    values = []
    for depth in (0.0, wall.framing.thickness):
        px = wall.origin[0] - wall.direction[1] * depth
        py = wall.origin[1] + wall.direction[0] * depth
        gap = offset - ((px - other.origin[0]) * nx + (py - other.origin[1]) * ny)
        values.append(gap / (wall.direction[0] * nx + wall.direction[1] * ny))
    return min(values), max(values)


def _short_of(wall: PlanWall, end: _End, other: PlanWall, z: float) -> float:
    """Wall x where `wall` ends, wholly on its own side of plane z of `other`."""
    return _meets(wall, other, z)[0 if end == "end" else 1]


def _covering(wall: PlanWall, end: _End, other: PlanWall, z: float) -> float:
    """Wall x where `wall` ends, reaching plane z of `other` over its whole depth."""
    return _meets(wall, other, z)[1 if end == "end" else 0]


def _set(span: Span, end: _End, value: float) -> Span:
    return (value, span[1]) if end == "start" else (span[0], value)


def _from_inside(one: ResolvedWall, other: PlanWall) -> bool:
    """True where the middle of `one` lies on the inner side of `other`."""
    middle = sum(one.framing) / 2
    cx, cy = _centre(one.wall)
    px, py = cx + one.wall.direction[0] * middle, cy + one.wall.direction[1] * middle
    side = other.direction[0] * (py - other.origin[1]) - other.direction[1] * (px - other.origin[0])
    return side > other.framing.thickness / 2


def _corner(through: ResolvedWall, t_end: _End, butt: ResolvedWall, b_end: _End, through_is_settled: bool) -> None:
    t, b = through.wall, butt.wall
    b_inside, t_inside = _from_inside(butt, t), _from_inside(through, b)
    b_outer, b_inner = _face(b.layers, "outer sheathing")[1], _face(b.layers, "inner sheathing")[0]
    if not through_is_settled:
        stop = _covering(t, t_end, b, b.framing.z1 if t_inside else b.framing.z0)
        through.framing = through.outer = through.inner = _set(through.framing, t_end, stop)
        if b_inside:
            strap_stop = _short_of(t, t_end, b, b_inner if t_inside else b_outer)
        else:
            strap_stop = stop if t_inside else _covering(t, t_end, b, b_inner)
        through.straps = _set(through.straps, t_end, strap_stop)
    t_outer, t_inner = _face(t.layers, "outer sheathing")[1], _face(t.layers, "inner sheathing")[0]
    met, far = (t_inner, t_outer) if b_inside else (t_outer, t_inner)
    stop = _short_of(b, b_end, t, met)
    butt.framing = _set(butt.framing, b_end, stop)
    lapped = _short_of(b, b_end, t, far)
    butt.outer = _set(butt.outer, b_end, lapped if t_inside else stop)
    butt.inner = _set(butt.inner, b_end, stop if t_inside else lapped)
    straps_meet = b_inside == t_inside  # the straps of both walls are on the same side of the corner
    strap_face = _face(t.layers, "strapping")[0]
    butt.straps = _set(
        butt.straps, b_end, _short_of(b, b_end, t, strap_face) if straps_meet else (stop if t_inside else lapped)
    )
    through.tees.append(_tee_on(through, butt, b_inside))
    if b_inside:
        through.straps = _short_of_tee(through, through.tees[-1])


def _short_of_tee(host: ResolvedWall, tee: Tee) -> Span:
    """The straps of a wall: they stop short of a wall that meets its inner sheathing beyond the end of its framing."""
    (first, last), (start, end) = host.straps, host.framing
    if tee.framing[0] >= end:
        last = min(last, tee.span[0])
    if tee.framing[1] <= start:
        first = max(first, tee.span[1])
    return first, last


def _tee(stem: ResolvedWall, end: _End, host: ResolvedWall) -> None:
    inside = _from_inside(stem, host.wall)
    layers = host.wall.layers
    if inside:
        stop = _short_of(stem.wall, end, host.wall, _face(layers, "inner sheathing")[0])
        strap_stop = _short_of(stem.wall, end, host.wall, _face(layers, "strapping")[0])
    else:
        stop = strap_stop = _short_of(stem.wall, end, host.wall, _face(layers, "outer sheathing")[1])
    stem.framing = _set(stem.framing, end, stop)
    stem.outer = _set(stem.outer, end, stop)
    stem.inner = _set(stem.inner, end, stop)
    stem.straps = _set(stem.straps, end, strap_stop)
    host.tees.append(_tee_on(host, stem, inside))


def _tee_on(host: ResolvedWall, other: ResolvedWall, inside: bool) -> Tee:
    """The stretch of `host` that the layers of `other` (but its straps) cover where it meets it."""
    h, o = host.wall, other.wall
    slabs = [layer for layer in o.layers if layer.kind is not LayerKind.STRAPPING]
    faces = [z for layer in slabs for z in (layer.z0, layer.z1)]
    span = [x for z in faces for x in _meets(h, o, z)]
    framing = [x for z in (o.framing.z0, o.framing.z1) for x in _meets(h, o, z)]
    return Tee(o.id, (min(span), max(span)), (min(framing), max(framing)), inside)


def _angle_note(through: PlanWall, butt: PlanWall, crossing: _Crossing) -> list[Finding]:
    if crossing.sine > 1 - 1e-6:
        return []
    return [
        Finding(
            "junction.angle",
            Severity.WARN,
            f"wall {butt.id} meets wall {through.id} at other than a right angle: it is cut square and the "
            "wedge between them is left for a site-cut filler",
            parts=(through.id, butt.id),
            house_point=(crossing.point[0], crossing.point[1], through.level.base),
            source="common practice, no source",
        )
    ]
