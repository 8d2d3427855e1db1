"""Blocks between joists: over bearing walls, at joints over them, under and over walls that run along the joists."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, dist

from panelgen.design.brief import Span
from panelgen.design.extents import Extent, extent_of, is_upright
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.floors.ceiling_lines import ceiling_lines
from panelgen.design.floors.outline import WallBand
from panelgen.design.floors.stocks import BLOCKS_APART, NAILERS_APART
from panelgen.design.framing.sticks import Stock, flat, on_edge
from panelgen.design.intervals import overlap, subtract
from panelgen.geometry.frames import Vec3
from panelgen.model import Finding, Member, Role, RunPart, Severity, Why
from panelgen.model.pieces import half_extents

__all__ = ["blocks"]

_EPS = 1e-6
_PRACTICE = "common practice, no source"
_CRACK = 6.0
"""Places narrower than this (mm) between two sticks need no block; common practice, no source."""

_BEARING = Why("block.bearing", "holds the joists upright over a wall that carries them", "IRC R502.7")
_JOINT = Why("block.joint", "closes the cassette over the wall where joists meet, and holds them upright", "IRC R502.7")
_UNDER = Why("block.under-wall", "carries a wall that stands between two joists", "IRC R502.4")
_OVER = Why("block.over-wall", "takes the top of a wall between two joists, and the ceiling beside it", _PRACTICE)
_BESIDE = Why("block.ceiling-line", "takes the edge of the ceiling beside a wall that a joist runs over", _PRACTICE)


class _Placing:
    """Places blocks one by one, clear of every stick placed before; those that a run would go through are left out."""

    def __init__(self, brief: CassetteBrief, members: Sequence[Member], runs: Sequence[RunPart]) -> None:
        self.brief = brief
        self.placed: list[Member] = []
        self.findings: list[Finding] = []
        self._legs = [
            (run, _around(run, a, b)) for run in runs for a, b in pairwise(run.path) if not _can_be_bored_for(run, a, b)
        ]
        self._half = brief.stocks.joist.thickness / 2
        self._sticks = [(is_upright(member), extent_of(member)) for member in members]

    def spaces(self, band: Span, depth: Span, within: Span) -> list[Span]:
        """The stretches of x between two neighbouring joists that are free over `band` of y and `depth` of z.

        Only those of which half or more lies `within`, or that hold all of it but for half a joist.
        """
        panel = self.brief.panel
        here = [
            (stands, box)
            for stands, box in self._sticks
            if overlap(box.y, band) > _EPS and overlap((box.z0, box.z1), depth) > _EPS
        ]
        holes = [(hole.x0, hole.x1) for hole in panel.openings if overlap((hole.y0, hole.y1), band) > _EPS]
        joists = [box for stands, box in here if stands and overlap(box.y, band) > band[1] - band[0] - _EPS]
        free = subtract((0.0, panel.length), [*(box.x for _, box in here), *holes], _CRACK)
        return [
            (x0, x1)
            for x0, x1 in free
            if x1 - x0 >= panel.shop.shortest_member - _EPS
            and overlap((x0, x1), within) >= min((x1 - x0) / 2, within[1] - within[0] - self._half) - _EPS
            and any(abs(box.x1 - x0) < _EPS for box in joists)
            and any(abs(box.x0 - x1) < _EPS for box in joists)
        ]

    def full(self, name: str, stock: Stock, y: float, within: Span, why: Why) -> None:
        """Blocks as deep as the joists, their low side at y."""
        z = self.brief.stocks.z(stock)
        for x0, x1 in self.spaces((y, y + stock.thickness), (z, z + stock.width), within):
            self._add(flat(self._id(name, x0, y), Role.BLOCKING, stock, x0, x1, y + stock.thickness, z, why))

    def stock_at(self, low: float, high: float) -> Stock:
        """The stock of blocks between two places along the joists: solid where a bearing wall stands on them."""
        stocks = self.brief.stocks
        loaded = any(
            band.bearing and not band.is_along and overlap((band.rect[1], band.rect[3]), (low, high)) > _EPS
            for band in self.brief.above
        )
        return stocks.header if loaded and stocks.joist.flange else stocks.joist

    def nailer(self, name: str, middle: float, within: Span, why: Why) -> None:
        """Boards that lie flat, flush with the underside of the joists."""
        stock = self.brief.stocks.nailer
        y = middle - stock.width / 2
        for x0, x1 in self.spaces((y, y + stock.width), (0.0, stock.thickness), within):
            self._add(on_edge(self._id(name, x0, y), Role.BACKING, stock, x0, x1, y, 0.0, why))

    def is_carried(self, band: WallBand) -> bool:
        """Whether half of a joist, or more of it, stands under or over a wall that runs along it."""
        across, along = _across(band), (band.rect[1], band.rect[3])
        return any(
            stands and overlap(box.x, across) >= (box.x1 - box.x0) / 2 - _EPS and overlap(box.y, along) > _EPS
            for stands, box in self._sticks
        )

    def bare_lines(self, band: WallBand) -> list[Span]:
        """The lines beside a wall where the edge of a ceiling finds no joist."""
        along = (band.rect[1], band.rect[3])
        joists = [box.x for stands, box in self._sticks if stands and overlap(box.y, along) > _EPS]
        return [
            line
            for line in ceiling_lines(band, self.brief.panel.assembly)
            if overlap(line, (0.0, self.brief.panel.length)) > line[1] - line[0] - _EPS
            and all(overlap(line, across) < line[1] - line[0] - _EPS for across in joists)
        ]

    def _id(self, name: str, x: float, y: float) -> str:
        panel = self.brief.panel
        return f"{panel.wall.id}/{name}@{round(panel.wall_start + x)}-{round(panel.wall_base + y)}"

    def _add(self, block: Member) -> None:
        box = extent_of(block)
        for run, leg in self._legs:
            if overlap(box.x, leg.x) > 0.0 < overlap(box.y, leg.y) and overlap(box[4:], leg[4:]) > 0.0:
                self.findings.append(self._left_out(block, run, box))
                return
        self.placed.append(block)
        self._sticks.append((False, box))

    def _left_out(self, block: Member, run: RunPart, box: Extent) -> Finding:
        return Finding(
            "blocking.left-out",
            Severity.NOTE,
            f"{block.role} {block.id} is left out: run {run.run} goes through its place; fit one around it on site",
            self.brief.panel.label,
            (block.id, run.run),
            ((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2, (box.z0 + box.z1) / 2),
            source=block.why.source,
        )


def blocks(
    brief: CassetteBrief, members: Sequence[Member], runs: Sequence[RunPart]
) -> tuple[tuple[Member, ...], tuple[Finding, ...]]:
    """The blocks of a cassette, those that carry most first, and what is left out for a run."""
    placing = _Placing(brief, members, runs)
    common, height = brief.stocks.joist, brief.panel.height
    for low, at_rim in zip((True, False), brief.rims, strict=True):
        if not at_rim:
            stock = placing.stock_at(*((0.0, common.thickness) if low else (height - common.thickness, height)))
            end = 0.0 if low else height - stock.thickness
            placing.full("joint-block", stock, end, (0.0, brief.panel.length), _JOINT)
    for band in brief.below:
        low_side, high_side = band.rect[1], band.rect[3]
        if band.bearing and not band.is_along and common.thickness < low_side < high_side < height - common.thickness:
            stock = placing.stock_at(low_side, high_side)
            y = (low_side + high_side - stock.thickness) / 2
            placing.full(f"bearing-block-{band.wall}", stock, y, _across(band), _BEARING)
    for band in brief.above:
        if band.is_along and not placing.is_carried(band):
            for y in _places(band, common.thickness, BLOCKS_APART):
                placing.full(f"block-under-{band.wall}", common, y, _across(band), _UNDER)
    for band in brief.below:
        if not band.is_along:
            continue
        if placing.is_carried(band):
            lines = placing.bare_lines(band)
            name, why = f"edge-nailer-{band.wall}", _BESIDE
        else:
            lines = [_across(band)]
            name, why = f"nailer-{band.wall}", _OVER
        for line in lines:
            for y in _places(band, brief.stocks.nailer.width, NAILERS_APART):
                placing.nailer(name, y + brief.stocks.nailer.width / 2, line, why)
    return tuple(placing.placed), tuple(placing.findings)


def _can_be_bored_for(run: RunPart, a: Vec3, b: Vec3) -> bool:
    """Whether a leg of a run goes through blocks from face to face, so that they are bored for it."""
    return run.section is None and abs(b[1] - a[1]) >= dist(a, b) / 2


def _around(run: RunPart, a: Vec3, b: Vec3) -> Extent:
    """The box around a leg of a run, with room for the hole that a block would need."""
    (x0, x1), (y0, y1), (z0, z1) = (
        (min(p, q) - half - _CRACK, max(p, q) + half + _CRACK)
        for p, q, half in zip(a, b, half_extents(run, a, b), strict=True)
    )
    return Extent(x0, x1, y0, y1, z0, z1)


def _across(band: WallBand) -> Span:
    return (band.rect[0], band.rect[2])


def _places(band: WallBand, size: float, apart: float) -> list[float]:
    """The low sides of blocks of a `size` along a wall, at both its ends and no farther `apart` between."""
    low, high = band.rect[1], band.rect[3] - size
    if high < low:
        return []
    count = max(1, ceil((high - low) / apart - _EPS))
    return [low + (high - low) * n / count for n in range(count + 1)]
