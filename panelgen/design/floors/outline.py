"""A floor or ceiling before it is split: its outline, openings and the walls under and on it, in its own coordinates.

x runs across the joists and y along them, z up; the origin is the corner of least x and y of the box around
the outline, at the bottom of the framing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.design.brief import OpeningBrief
from panelgen.design.walls.junctions import ResolvedWall
from panelgen.design.walls.plan import layer_stack
from panelgen.geometry.frames import Frame, Point2, dot
from panelgen.geometry.rectangles import Rect
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, Layer, LayerKind, PanelKind, Severity, WallRun
from panelgen.model.layers import underside
from panelgen.spec.assemblies import Assembly
from panelgen.spec.floors import CeilingSpec, DeckBeam, DeckOpening, DeckSpec
from panelgen.spec.house import HouseSpec
from panelgen.spec.walls import Level

__all__ = ["CRACK", "Deck", "WallBand", "decks_of", "seat_findings"]

CRACK = 50.0
"""Walls that leave less than this (mm) between them carry what lies over it; common practice, no source."""

_SEATED = 1.0
"""A deck may stand so far (mm) above a wall that carries it: saw tolerance, common practice, no source."""

_SQUARE = 1e-9
_ROUNDING = 1e-3
"""Corners that differ by less (mm) are in line, as the spec takes them."""


@dataclass(frozen=True, slots=True)
class WallBand:
    """What a wall under or on a deck takes up of it, in the deck's coordinates, mm: its framing and all its layers.

    `is_along` is True where the wall runs along the joists, False where it crosses them. A beam is taken for
    a wall that bears: `beam` is True.
    """

    wall: str
    rect: Rect
    body: Rect
    bearing: bool
    is_along: bool
    beam: bool = False


@dataclass(frozen=True, slots=True)
class Deck:
    """A floor or ceiling as it is asked for. `ring` runs counter-clockwise; `below` carry it, `above` stand on it.

    `below` holds all walls whose top is at the underside; those that carry it are `bearing`. `frame` is
    in the house.
    """

    spec: DeckSpec
    kind: PanelKind
    level: Level
    assembly: Assembly
    layers: tuple[Layer, ...]
    frame: Frame
    ring: tuple[Point2, ...]
    openings: tuple[OpeningBrief, ...]
    below: tuple[WallBand, ...]
    above: tuple[WallBand, ...]

    @property
    def id(self) -> str:
        """What the spec calls it."""
        return self.spec.id

    @property
    def framing(self) -> Layer:
        """The framing layer."""
        return next(layer for layer in self.layers if layer.kind is LayerKind.FRAMING)

    @property
    def run(self) -> WallRun:
        """The deck as panels refer to what they are a part of: a wall that lies."""
        return WallRun(
            self.spec.id,
            self.level.id,
            self.frame,
            0.0,
            max(x for x, _ in self.ring),
            self.framing.thickness,
            exterior=False,
            bearing=True,
        )

    def across(self, place: float) -> float:
        """A plan coordinate across the joists, as x of the deck, mm."""
        (ox, oy, _), (_, dy, _) = self.frame.origin, self.frame.x
        return oy - place if dy else place - ox


def decks_of(spec: HouseSpec, walls: Sequence[ResolvedWall], catalog: Catalog) -> tuple[Deck, ...]:
    """The floors of a house, then its ceilings, as the spec lists them."""
    levels = {level.id: level for level in spec.levels}
    return tuple(_deck(spec, one, levels[one.level], walls, catalog) for one in (*spec.floors, *spec.ceilings))


def _deck(spec: HouseSpec, one: DeckSpec, level: Level, walls: Sequence[ResolvedWall], catalog: Catalog) -> Deck:
    assembly = spec.assemblies[one.assembly]
    layers = layer_stack(assembly, catalog)
    kind = PanelKind.CEILING if isinstance(one, CeilingSpec) else PanelKind.FLOOR
    if kind is PanelKind.CEILING:
        z = level.base + level.height - underside(layers)
    else:
        z = level.base - max(layer.z1 for layer in layers)
    plan = one.ring(level)
    frame = _frame(plan, one.joists, z)
    seat = z + underside(layers)
    lower = _level_below(spec, kind, level)
    under = [wall for wall in walls if _bears(one, wall, seat - _top_of(wall), lower)]
    over = [wall for wall in walls if kind is PanelKind.FLOOR and wall.wall.level.id == level.id]
    return Deck(
        one,
        kind,
        level,
        assembly,
        layers,
        frame,
        _snapped([_in_deck(frame, point) for point in plan]),
        tuple(sorted((_opening(frame, hole) for hole in one.openings), key=lambda hole: (hole.x0, hole.y0))),
        (
            *(_band(frame, wall, _carries(one, wall)) for wall in under if _is_square(wall)),
            *(_beam(frame, beam) for beam in one.beams),
        ),
        tuple(_band(frame, wall, wall.wall.bearing) for wall in over if _is_square(wall)),
    )


def seat_findings(spec: HouseSpec, decks: Sequence[Deck], walls: Sequence[ResolvedWall]) -> list[Finding]:
    """Where a wall that should carry a deck ends below its underside or reaches into it."""
    findings = []
    for deck in decks:
        below = _level_below(spec, deck.kind, deck.level)
        seat = deck.frame.origin[2] + underside(deck.layers)
        for wall in walls:
            gap = seat - _top_of(wall)
            if wall.wall.level is below and _carries(deck.spec, wall) and not _seated(gap) and _is_under(deck, wall):
                findings.append(_off_seat(deck, wall, gap))
    return findings


def _level_below(spec: HouseSpec, kind: PanelKind, level: Level) -> Level | None:
    """The level whose walls carry a deck."""
    if kind is PanelKind.CEILING:
        return level
    return max((one for one in spec.levels if one.base < level.base), key=lambda one: one.base, default=None)


def _seated(gap: float) -> bool:
    """Whether a deck that stands `gap` (mm) above a wall lies on it."""
    return -TOLERANCE <= gap <= _SEATED


def _bears(one: DeckSpec, wall: ResolvedWall, gap: float, below: Level | None) -> bool:
    """Whether a wall lies under a deck: one that carries it does even where its height is wrong."""
    return _seated(gap) or (wall.wall.level is below and _carries(one, wall) and math.isfinite(gap))


def _off_seat(deck: Deck, wall: ResolvedWall, gap: float) -> Finding:
    fault = f"stands {gap:.0f} mm above" if gap > 0.0 else f"reaches {-gap:.0f} mm below"
    start, end = wall.framing
    return Finding(
        "deck.seat",
        Severity.STOP,
        f"the underside of {deck.kind} {deck.spec.id} {fault} the top of wall {wall.wall.id} that carries it: "
        "change the height of the wall or the elevation of the level",
        parts=(deck.spec.id, wall.wall.id),
        house_point=wall.wall.frame.point((start + end) / 2, max(y for _, y in wall.wall.top), 0.0),
        value=abs(gap),
        limit=_SEATED,
        source="common practice, no source",
    )


def _carries(one: DeckSpec, wall: ResolvedWall) -> bool:
    return wall.wall.id in one.bears_on if one.bears_on else wall.wall.bearing


def _is_under(deck: Deck, wall: ResolvedWall) -> bool:
    """Whether a wall lies under the box around a deck, however high."""
    x0, y0, x1, y1 = _band(deck.frame, wall, True).rect
    wide, long = (max(point[axis] for point in deck.ring) for axis in (0, 1))
    return _is_square(wall) and x0 < wide and x1 > 0.0 and y0 < long and y1 > 0.0


def _top_of(wall: ResolvedWall) -> float:
    """Height of a wall's top in the house; infinite where it is not level, so that nothing lies on it."""
    heights = [y for _, y in wall.wall.top]
    return wall.wall.level.base + heights[0] if max(heights) - min(heights) < _SQUARE else math.inf


def _is_square(wall: ResolvedWall) -> bool:
    """Whether a wall runs along x or y of the house; others cross joists at a slant and carry none here."""
    return min(map(abs, wall.wall.direction)) < _SQUARE


def _frame(plan: Sequence[Point2], joists: str, z: float) -> Frame:
    xs, ys = [x for x, _ in plan], [y for _, y in plan]
    if joists == "y":
        return Frame((min(xs), min(ys), z), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    return Frame((min(xs), max(ys), z), (0.0, -1.0, 0.0), (1.0, 0.0, 0.0))


def _in_deck(frame: Frame, point: Point2) -> Point2:
    """A plan point in a deck's coordinates; differences only, so that equal plan coordinates stay equal."""
    x, y = point[0] - frame.origin[0], point[1] - frame.origin[1]
    return (x, y) if frame.x[0] else (-y, x)


def _snapped(ring: Sequence[Point2]) -> tuple[Point2, ...]:
    """A ring whose sides are exactly square: coordinates nearer than rounding are one."""
    xs, ys = (_levels([point[axis] for point in ring]) for axis in (0, 1))
    return tuple((xs[x], ys[y]) for x, y in ring)


def _levels(values: Sequence[float]) -> dict[float, float]:
    """Each value, and the least one of those that differ from it by rounding only."""
    levels: dict[float, float] = {}
    base = -math.inf
    for value in sorted(values):
        base = value if value - base > _ROUNDING else base
        levels[value] = base
    return levels


def _rect(frame: Frame, one: Point2, other: Point2) -> Rect:
    (xa, ya), (xb, yb) = _in_deck(frame, one), _in_deck(frame, other)
    return (min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb))


def _band(frame: Frame, wall: ResolvedWall, bearing: bool) -> WallBand:
    own, layers = wall.wall.frame, wall.wall.layers
    start, end = wall.framing
    rects = [
        _rect(frame, own.point(start, 0.0, z0)[:2], own.point(end, 0.0, z1)[:2])
        for z0, z1 in (
            (0.0, wall.wall.framing.thickness),
            (min(layer.z0 for layer in layers), max(layer.z1 for layer in layers)),
        )
    ]
    is_along = abs(dot(own.x, frame.y)) > abs(dot(own.x, frame.x))
    return WallBand(wall.wall.id, rects[0], rects[1], bearing, is_along)


def _beam(frame: Frame, beam: DeckBeam) -> WallBand:
    (xa, ya), (xb, yb) = beam.start, beam.end
    half = beam.width / 2
    aside, up = (half, 0.0) if abs(yb - ya) > abs(xb - xa) else (0.0, half)
    rect = _rect(frame, (min(xa, xb) - aside, min(ya, yb) - up), (max(xa, xb) + aside, max(ya, yb) + up))
    is_along = (abs(yb - ya) > abs(xb - xa)) is (frame.y[1] != 0.0)
    return WallBand(beam.id, rect, rect, True, is_along, beam=True)


def _opening(frame: Frame, hole: DeckOpening) -> OpeningBrief:
    (x, y), (wide, long) = hole.at, hole.size
    x0, y0, x1, y1 = _rect(frame, (x, y), (x + wide, y + long))
    return OpeningBrief(hole.id, hole.kind, x0, x1, y0, y1, x1 - x0, y1 - y0)
