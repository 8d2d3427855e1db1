"""Walls across a slope: designed on a level plate, then set down on the sheathing that slopes through their depth.

The bottom plate lies flat on the slope, ripped where it would reach out of the wall, and the sticks on it are cut to
it. Nothing above the plate changes.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from panelgen.design.brief import OpeningBrief, PanelBrief, Span
from panelgen.design.framing.sticks import Stock
from panelgen.geometry.frames import Frame, Point2
from panelgen.geometry.rings import bends
from panelgen.model import Bay, EndCut, Fasteners, Member, Panel, Role, Sheet, Why

__all__ = ["Lining", "Slope", "level_brief", "set_down"]

_EPS = 1e-6
_SPARE = 0.5
"""What nails keep (mm) beyond the least distance from an edge: saw tolerance, common practice, no source."""

_BITE = 6.0
"""How deep (mm) a nail has to be in a plate that falls away behind it; common practice, no source."""

_PLATE = Why(
    "plate.slope", "lies flat on the sheathing of the roof below, under the whole wall", "common practice, no source"
)
_STANDING = (Role.STUD, Role.POST, Role.KING, Role.JACK, Role.CRIPPLE)


@dataclass(frozen=True, slots=True)
class Slope:
    """The roof under a wall: it rises by `tangent` per mm toward the weather side, or falls where that is negative.

    `depth` is that of the framing, `thickness` that of its bottom plate, mm.
    """

    tangent: float
    depth: float
    thickness: float

    @property
    def secant(self) -> float:
        """Length on the slope for a depth of 1."""
        return math.hypot(1.0, self.tangent)

    @property
    def lift(self) -> float:
        """How far the wall on its level plate is above the lowest place under it."""
        return abs(self.tangent) * self.depth + self.thickness * (self.secant - 1.0)

    @property
    def plate_width(self) -> float:
        """The width of a plate on the slope that is as deep as the wall, mm."""
        return self.depth * self.secant - self.thickness * abs(self.tangent)

    def fall(self, z: float) -> float:
        """How far the top of the plate is lower at panel z than where it is highest."""
        return abs(self.tangent) * (self.depth - z if self.tangent > 0.0 else z)

    @property
    def covered(self) -> float:
        """The height over the underside of the level plate up to which nails find the plate from its higher side."""
        set_in = self.thickness * abs(self.tangent) / self.secant
        return self.thickness - abs(self.tangent) * (set_in + _BITE)

    @property
    def lowest(self) -> float:
        """The height of the lowest edge of the plate over the lowest place under the wall."""
        return abs(self.tangent) * self.thickness * abs(self.tangent) / self.secant

    @property
    def edge(self) -> float:
        """The height over the underside of the level plate of its upper edge where it is low, once it is set down."""
        return self.thickness - abs(self.tangent) * self.depth

    def ground(self, z: float) -> float:
        """The slope at panel z, as a height over the lowest place under the framing."""
        return abs(self.tangent) * self.depth - self.fall(z)


@dataclass(frozen=True, slots=True)
class Lining:
    """How the inner sheets of a wall line the opening below it: over a stretch of panel x, and how deep, mm."""

    span: Span
    depth: float


def level_brief(brief: PanelBrief, slope: Slope) -> PanelBrief:
    """What a wall on a slope is asked to be above its level plate."""
    lift = slope.lift
    return replace(
        brief,
        frame=Frame(brief.frame.point(0.0, lift, 0.0), brief.frame.x, brief.frame.y),
        top=tuple((x, y - lift) for x, y in brief.top),
        openings=tuple(_lowered(hole, lift) for hole in brief.openings),
    )


def _lowered(hole: OpeningBrief, lift: float) -> OpeningBrief:
    return replace(hole, y0=hole.y0 - lift, y1=hole.y1 - lift)


def set_down(panel: Panel, slope: Slope, stock: Stock, edge: float, lining: Lining) -> Panel:
    """A wall designed by its `level_brief`, set down on its slope, y = 0 where that is lowest under the framing.

    The bottom plate is ripped from `stock`. `edge` is the least distance (mm) of nails from the edges of sheets, which
    keep the stock that they were cut from.
    """
    plates = {number for number, member in enumerate(panel.members) if member.role is Role.BOTTOM_PLATE}
    x0, x1 = 0.0, panel.length
    return replace(
        panel,
        frame=Frame(panel.frame.point(0.0, -slope.lift, 0.0), panel.frame.x, panel.frame.y),
        height=panel.height + slope.lift,
        profile=((x0, slope.lowest), (x1, slope.lowest), *((x, y + slope.lift) for x, y in panel.profile if y > _EPS)),
        members=tuple(_moved(_cut(member, slope, stock), slope.lift) for member in panel.members),
        sheets=tuple(_reaching(sheet, slope, lining) for sheet in panel.sheets),
        fasteners=tuple(_driven(batch, slope, plates, panel.sheets, edge) for batch in panel.fasteners),
        openings=tuple(replace(one, y0=one.y0 + slope.lift, y1=one.y1 + slope.lift) for one in panel.openings),
        bays=tuple(_filled(bay, slope) for bay in panel.bays),
        findings=tuple(
            one if one.point is None else replace(one, point=(one.point[0], one.point[1] + slope.lift, one.point[2]))
            for one in panel.findings
        ),
    )


def _cut(member: Member, slope: Slope, stock: Stock) -> Member:
    """A bottom plate turned onto the slope, or a stick on it cut to it; any other as it is."""
    if member.role is Role.BOTTOM_PLATE:
        return _plate(member, slope, stock)
    x, y, z = member.frame.origin
    if member.role not in _STANDING or abs(y - slope.thickness) > _EPS:
        return member
    drop = abs(slope.tangent) * slope.depth
    return replace(
        member,
        frame=Frame((x, y - drop, z), member.frame.x, member.frame.y),
        length=member.length + drop,
        start=EndCut(across_width=slope.tangent),
    )


def _plate(member: Member, slope: Slope, stock: Stock) -> Member:
    """The plate with its lower edges on the slope and its sides within the depth of the wall."""
    sine, cosine = abs(slope.tangent) / slope.secant, 1.0 / slope.secant
    set_in = member.thickness * sine
    width = min(stock.width, slope.plate_width)
    outward = math.copysign(1.0, slope.tangent)
    z = set_in if outward < 0.0 else slope.depth - set_in - width * cosine
    top = member.thickness - slope.fall(z)
    frame = Frame((member.frame.origin[0], top, z), (1.0, 0.0, 0.0), (0.0, outward * sine, cosine))
    return replace(member, stock=stock.name, width=width, frame=frame, why=_PLATE)


def _moved(member: Member, lift: float) -> Member:
    x, y, z = member.frame.origin
    return replace(member, frame=Frame((x, y + lift, z), member.frame.x, member.frame.y))


def _reaching(sheet: Sheet, slope: Slope, lining: Lining) -> Sheet:
    """A sheet that ends where it first meets the slope through its thickness, or lines the opening below."""
    x, y, z = sheet.frame.origin
    low = y if y > _EPS else _bottom(sheet, slope)
    drop = y - low
    outline: Sequence[Point2] = [(u, 0.0 if v < _EPS else v + drop) for u, v in sheet.outline]
    cutouts = tuple(tuple((u, v + drop) for u, v in ring) for ring in sheet.cutouts)
    width = max(u for u, _ in outline)
    left, right = max(0.0, lining.span[0] - x), min(width, lining.span[1] - x)
    if y <= _EPS and z < 0.0 and lining.depth > 0.0 and right > left:
        below = shapely.box(left, -lining.depth, right, 0.0)
        whole = shapely.geometry.polygon.orient(shapely.union(shapely.Polygon(outline), below))
        outline = [(u, v + lining.depth) for u, v in bends(list(whole.exterior.coords[:-1]))]
        cutouts = tuple(tuple((u, v + lining.depth) for u, v in ring) for ring in cutouts)
        low -= lining.depth
    first = min(range(len(outline)), key=lambda k: (outline[k][1], outline[k][0]))
    frame = Frame((x, low + slope.lift, z), sheet.frame.x, sheet.frame.y)
    return replace(sheet, outline=(*outline[first:], *outline[:first]), cutouts=cutouts, frame=frame)


def _bottom(sheet: Sheet, slope: Slope) -> float:
    """Where a sheet first meets the slope through its thickness, as a height over the underside of the level plate."""
    z = sheet.frame.origin[2]
    return max(slope.ground(z), slope.ground(z + sheet.thickness)) - slope.lift


def _driven(batch: Fasteners, slope: Slope, plates: set[int], sheets: Sequence[Sheet], edge: float) -> Fasteners:
    """Nails where they were; those in or through the bottom plate move with it.

    Sheets are nailed along their lower edges on the side where the slope is high, as far as they cover the plate, and
    under the plate's upper edge where it is low.
    """
    low = sorted(plates)
    into, points = np.isin(batch.into, low), batch.points.copy()
    heights = points[:, 1]
    falls = np.array([slope.fall(z) for z in points[:, 2].clip(0.0, slope.depth).tolist()])
    keep = np.ones(len(points), dtype=bool)
    if batch.fastens_sheets:
        bottoms = np.array([_bottom(sheet, slope) for sheet in sheets])[batch.fastened]
        high = into & (falls < slope.fall(slope.depth / 2))
        heights[high] = bottoms[high] + edge + _SPARE
        heights[into & ~high] = slope.edge - _BITE
        keep = ~high | (heights < slope.covered)
    else:
        through = np.isin(batch.fastened, low)
        heights -= np.where(into | through, falls, 0.0)
        heights -= np.where(through, slope.thickness * (slope.secant - 1.0), 0.0)
    heights += slope.lift
    return replace(batch, points=points[keep], fastened=batch.fastened[keep], into=batch.into[keep])


def _filled(bay: Bay, slope: Slope) -> Bay:
    """A bay on the plate reaches down to it, at the middle of its depth."""
    middle = slope.fall((bay.z0 + bay.z1) / 2)

    def at(point: Point2) -> Point2:
        x, y = point
        return x, y + slope.lift - (middle if abs(y - slope.thickness) < _EPS else 0.0)

    outline = tuple(map(at, bay.outline))
    more = (_area(outline) - _area(bay.outline)) * (bay.z1 - bay.z0) * 1e-9
    return replace(
        bay,
        outline=outline,
        holes=tuple(tuple(map(at, ring)) for ring in bay.holes),
        gross_volume=bay.gross_volume + more,
        net_volume=bay.net_volume + more,
    )


def _area(ring: tuple[Point2, ...]) -> float:
    return sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in zip(ring, (*ring[1:], ring[0]), strict=True)) / 2
