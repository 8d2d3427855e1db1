"""Straps of the service cavity: a run may cross one, which is then cut back, but never lie along or turn in one.

What a crossing leaves of a strap must be long enough for the shop and have framing behind it, or nothing is
left on that side. So a strap is barred to crossings near its ends and wherever a short piece would be left.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from panelgen.checks.codes import named
from panelgen.design.brief import Span
from panelgen.design.extents import Extent, is_sloping, is_upright
from panelgen.design.intervals import overlap
from panelgen.design.straps.layer import STRAP_BEARING
from panelgen.design.straps.obstacles import STRAP_CLEARANCE
from panelgen.geometry.frames import Vec3
from panelgen.model import Layer, LayerKind, Member, Panel
from panelgen.routing.bodies import Body, Cause, Obstacle, Slab, bars_all_but, stairs
from panelgen.routing.pipe import Pipe
from panelgen.routing.site import Site

__all__ = ["Strap", "strap_obstacles", "straps_of"]

_EPS = 1e-6


@dataclass(frozen=True, slots=True)
class Strap:
    """A straight strap in one piece: its members, and where it lies in wall coordinates, mm.

    It lies `along` an axis (0 level, 1 upright), over `span`; `band` is what it covers of the other axis.
    `droppable` is the longest piece that is left out without a word. A piece needs one of the `backers`,
    spans along it with framing behind, unless it `is_loose`.
    """

    members: tuple[Member, ...]
    along: int
    span: Span
    band: Span
    droppable: float
    backers: tuple[Span, ...]
    is_loose: bool

    def keeps(self, piece: Span, shortest: float) -> bool:
        """Whether a piece of the strap is one that can stay, or is too small to matter."""
        length = piece[1] - piece[0]
        if length <= self.droppable:
            return True
        backed = self.is_loose or any(overlap(piece, backer) >= STRAP_BEARING - _EPS for backer in self.backers)
        return backed and length >= shortest - _EPS

    def is_crossed(self, a: Vec3, b: Vec3, reach: float) -> bool:
        """Whether a leg from a to b, at a right angle to the strap, cuts it; `reach` is cut free to either side."""
        across = 1 - self.along
        if a[across] == b[across]:
            return False
        beside = self.span[0] - reach < a[self.along] < self.span[1] + reach
        return beside and overlap((min(a[across], b[across]), max(a[across], b[across])), self.band) > -reach

    def cut(self, at: float, reach: float) -> tuple[Strap, ...]:
        """What is left of the strap where a run crosses it."""
        pieces = ((self.span[0], at - reach), (at + reach, self.span[1]))
        return tuple(replace(self, span=piece) for piece in pieces if piece[1] - piece[0] > self.droppable)

    def barred(self, reach: float, shortest: float) -> list[Span]:
        """Open spans along the strap where no run may cross it that is cut free by `reach` to either side."""
        start, end = self.span
        behind = [(low, high) for low, high in self.backers if overlap(self.span, (low, high)) >= STRAP_BEARING]
        nearest = [max(start, low) + STRAP_BEARING for low, _ in behind]
        farthest = [min(end, high) - STRAP_BEARING for _, high in behind]
        left, right = start + shortest, end - shortest
        if not self.is_loose:
            left, right = max(left, min(nearest, default=end)), min(right, max(farthest, default=start))
        spans = [
            (start + reach + self.droppable, left + reach),
            (right - reach, end - reach - self.droppable),
            (end - reach - self.droppable - _EPS, start + reach + self.droppable + _EPS),
        ]
        return [span for span in spans if span[0] < span[1]]


def straps_of(site: Site) -> tuple[Strap, ...]:
    """The straight straps of a site; pieces joined end to end are one."""
    layer = site.layer(LayerKind.STRAPPING)
    if layer is None:
        return ()
    return tuple(strap for panel in site.panels for strap in _in_panel(site, panel, layer))


def strap_obstacles(site: Site, pipe: Pipe, straps: Sequence[Strap]) -> Iterator[Obstacle]:
    """The straps of a site as obstacles to a pipe."""
    layer = site.layer(LayerKind.STRAPPING)
    if layer is None:
        return
    for panel in site.panels:
        for member in panel.members:
            if member.layer == layer.name and is_sloping(member):
                shift = (panel.wall_start, 0.0, 0.0)
                yield from stairs(member, shift, Cause(member.id, named(member), ", which slopes"))
    shortest = site.house.limits.shortest_member
    for strap in straps:
        across = 1 - strap.along
        first = strap.members[0]
        lengthwise = Cause(first.id, named(first), ", which a run may cross but not lie along or turn in")
        low, high = _box(strap.along, strap.span, strap.band, (layer.z0, layer.z1))
        yield Body(low, high, lengthwise, STRAP_CLEARANCE, bars_all_but(across))
        half = pipe.half[across]
        reach = half[strap.along] + STRAP_CLEARANCE
        aside = half[across] + STRAP_CLEARANCE
        short = Cause(first.id, named(first), ", of which a crossing there would leave too short a piece")
        for span in strap.barred(reach, shortest):
            band = (strap.band[0] - aside, strap.band[1] + aside)
            low, high = _box(strap.along, span, band, (layer.z0 - half[2], layer.z1 + half[2]))
            yield Slab(across, low, high, short)


def _box(
    along: int, span: Span, band: Span, depth: Span
) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    x, y = (span, band) if along == 0 else (band, span)
    return (x[0], y[0], depth[0]), (x[1], y[1], depth[1])


def _in_panel(site: Site, panel: Panel, layer: Layer) -> Iterator[Strap]:
    framing = [
        (site.extent(panel, member), is_upright(member))
        for member in panel.members
        if member.layer == panel.framing.name and not is_sloping(member)
    ]
    wood = [(box, upright) for box, upright in framing if box.z0 <= _EPS]
    places: dict[tuple[int, Span, float], list[tuple[Span, Member]]] = {}
    for member in panel.members:
        if member.layer == layer.name and not is_sloping(member):
            box, upright = site.extent(panel, member), is_upright(member)
            span, band = (box.y, box.x) if upright else (box.x, box.y)
            places.setdefault((int(upright), band, member.width), []).append((span, member))
    whole = (panel.wall_start, panel.wall_start + panel.length)
    for (along, band, width), pieces in places.items():
        behind = [box for box, upright in wood if upright or along == 0]
        for span, members in _joined(pieces):
            x = span if along == 0 else band
            yield Strap(
                members,
                along,
                span,
                band,
                width if along else _EPS,
                tuple(_backers(behind, along, band)),
                overlap(x, whole) <= _EPS,
            )


def _backers(wood: Sequence[Extent], along: int, band: Span) -> Iterator[Span]:
    """The spans along a strap where framing is behind enough of its band."""
    for box in wood:
        span, across = (box.x, box.y) if along == 0 else (box.y, box.x)
        if overlap(across, band) >= STRAP_BEARING and span[1] - span[0] >= STRAP_BEARING:
            yield span


def _joined(pieces: Sequence[tuple[Span, Member]]) -> Iterator[tuple[Span, tuple[Member, ...]]]:
    """Pieces end to end as one, in order."""
    ordered = sorted(pieces, key=lambda piece: piece[0])
    span, members = ordered[0][0], [ordered[0][1]]
    for other, member in ordered[1:]:
        if other[0] - span[1] <= _EPS:
            span = (span[0], max(span[1], other[1]))
            members.append(member)
        else:
            yield span, tuple(members)
            span, members = other, [member]
    yield span, tuple(members)
