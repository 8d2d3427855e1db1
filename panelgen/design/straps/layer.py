"""Places straps one by one in the cavity layer, keeping each clear of everything placed before it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.extents import Extent, extent_of, is_sloping, is_upright
from panelgen.design.framing.raked import Row
from panelgen.design.framing.sticks import Stock, plumb_board, stick, stock_of
from panelgen.design.framing.tops import Slope, slopes
from panelgen.design.intervals import overlap, split_at, subtract
from panelgen.design.sheathing.faces import lower_than
from panelgen.design.straps.obstacles import obstacles_in
from panelgen.geometry.frames import Frame, Vec3
from panelgen.model import SQUARE, Box, EndCut, Finding, Layer, LayerKind, Member, Role, RunPart, Severity, Why
from panelgen.spec.assemblies import StrappingLayer
from panelgen.spec.services import BackingSpec

__all__ = ["STRAP_BEARING", "StrapLayer"]

_EPS = 1e-6
STRAP_BEARING = 10.0
"""Least wood (mm) behind a strap, both ways, that counts as something to nail to; common practice, no source."""

_ALONG: Vec3 = (1.0, 0.0, 0.0)
_UP: Vec3 = (0.0, 1.0, 0.0)
_BACK: Vec3 = (-1.0, 0.0, 0.0)


class StrapLayer:
    """Collects the straps of one panel; what is placed stays placed, and later straps stop at it.

    All straps lie flat on the inner sheathing. Heights are panel y of the lower edge, mm. They stop at
    what is `taken` from the first, such as walls under a ceiling.
    """

    def __init__(
        self,
        brief: PanelBrief,
        layer: Layer,
        spec: StrappingLayer,
        members: Sequence[Member],
        runs: Sequence[RunPart],
        boxes: Iterable[Box],
        taken: Iterable[Extent] = (),
    ) -> None:
        self.brief = brief
        self.stock = stock_of(brief.catalog, spec.stock, spec.species, spec.grade)
        self.members: list[Member] = []
        self.findings: list[Finding] = []
        self._layer = layer
        self._spec = spec
        self._slopes = slopes(brief)
        self._obstacles = obstacles_in(layer, runs, boxes)
        self._walls = [tee.span for tee in brief.tees if tee.inner_face]
        self._laid = list(taken)
        self._raked: list[tuple[Row, Span]] = []
        framing = next(one.name for one in brief.layers if one.kind is LayerKind.FRAMING)
        self._studs: list[Extent] = []
        self._wood: list[Extent] = []
        for member in members:
            extent = extent_of(member)
            if member.layer == framing and extent.z0 <= _EPS and not is_sloping(member):
                self._wood.append(extent)
                if is_upright(member):
                    self._studs.append(extent)

    def stock_for(self, request: BackingSpec) -> Stock:
        """The stock that a backing request names, or the layer's where that is thicker than the cavity is deep."""
        if request.stock is None:
            return self.stock
        stock = stock_of(self.brief.catalog, request.stock, self._spec.species, self._spec.grade)
        if stock.thickness <= self._layer.thickness + _EPS:
            return stock
        self._report(
            "strap.backing-thick",
            Severity.WARN,
            f"backing {request.id} of {stock.name} is thicker than the service cavity; {self.stock.name} is used",
            (request.id,),
            (request.start - self.brief.wall_start, request.height),
            stock.thickness,
            self._layer.thickness,
            f"spec backing {request.id}",
        )
        return self.stock

    def bearing_lines(self, band: Span) -> list[float]:
        """Centre lines (panel x) of the studs behind a band of heights, left to right."""
        return sorted((stud.x0 + stud.x1) / 2 for stud in self._studs if overlap(stud.y, band) >= STRAP_BEARING)

    def lay(
        self, name: str, y: float, span: Span, why: Why, *, stock: Stock | None = None, from_right: bool = False
    ) -> None:
        """Horizontal straps over `span`, joined on studs, full lengths first from the left or `from_right`.

        Nothing is laid where a strap would reach below the floor or over the top.
        """
        stock = stock or self.stock
        band = (y, y + stock.width)
        if y < -_EPS:
            return
        brief = self.brief
        span = (max(span[0], brief.strap_span[0]), min(span[1], brief.strap_span[1]))
        cuts = [*self._walls, *self._above(band[1])]
        cuts += [(hole.x0, hole.x1) for hole in brief.openings if overlap((hole.y0, hole.y1), band) > _EPS]
        cuts += [strap.x for strap in self._laid if overlap(strap.y, band) > _EPS]
        cuts += [row.stretch(band, piece) for row, piece in self._raked]
        for obstacle in self._obstacles:
            taken = obstacle.stretch(0, band) if obstacle.cuts_rows else None
            if taken:
                cuts.append(taken)
        for piece in subtract(span, cuts):
            for x0, x1 in self._stock_lengths(piece, band, from_right):
                frame = Frame((x0, y, self._layer.z1 - stock.thickness), _ALONG, _UP)
                box = Extent(x0, x1, *band, self._layer.z0, self._layer.z1)
                self._place(f"{name}@{self._at(x0)}", stock, x1 - x0, frame, why, box, self._wood)

    def slope(self, name: str, slope: Slope, why: Why) -> None:
        """Straps along a sloping stretch of the top, plumb cut, their upper edge on the top line."""
        brief, stock = self.brief, self.stock
        rise = slope.tangent
        stretch = hypot(1.0, rise)
        drop = stock.width * stretch
        drift = abs(rise) * stock.width
        high = max(slope.y0, slope.y1)
        cuts = list(self._walls)
        for obstacle in self._obstacles:
            near = obstacle.stretch(0, (min(slope.y0, slope.y1) - drop, high)) if obstacle.cuts_rows else None
            taken = near and obstacle.stretch(0, (min(slope.below(x, 0.0) for x in near) - drop, high))
            if taken:
                cuts.append(taken)
        span = (max(slope.x0, brief.strap_span[0]), min(slope.x1, brief.strap_span[1]))
        for piece in subtract(span, cuts):
            band = tuple(sorted(slope.below(x, stock.width) for x in piece))
            longest = (brief.shop.longest_stock - drift) / stretch
            for x0, x1 in split_at(piece, self.bearing_lines((0.0, band[0])), longest, brief.shop.shortest_member):
                low = slope.below(x0, stock.width)
                frame, length, cut = plumb_board(x0, x1, low, rise, stock.width, self._layer.z1 - stock.thickness)
                self._place(f"{name}@{self._at(x0)}", stock, length, frame, why, None, (), cut)

    def rake(self, name: str, row: Row, span: Span, why: Why, stock: Stock) -> None:
        """Straps along a row that rises or falls, over `span` and between what is laid already, joined on studs."""
        brief, stretch = self.brief, hypot(1.0, row.tangent)
        span = (max(span[0], brief.strap_span[0]), min(span[1], brief.strap_span[1]))
        cuts = [*self._walls, *row.beyond(brief.height, span)]
        cuts += [row.stretch(strap.y, strap.x) for strap in self._laid]
        cuts += [row.stretch((hole.y0, hole.y1), (hole.x0, hole.x1)) for hole in brief.openings]
        for obstacle in self._obstacles:
            near = obstacle.stretch(0, row.heights(span)) if obstacle.cuts_rows else None
            taken = near and obstacle.stretch(0, row.heights(near))
            if taken:
                cuts.append(taken)
        longest = (brief.shop.longest_stock - abs(row.tangent) * stock.width) / stretch
        for piece in subtract(span, cuts):
            lines = self.bearing_lines(row.heights(piece))
            for x0, x1 in split_at(piece, lines, longest, brief.shop.shortest_member):
                low = row.middle(x0) - row.half
                frame, length, cut = plumb_board(
                    x0, x1, low, row.tangent, stock.width, self._layer.z1 - stock.thickness
                )
                self._place(f"{name}@{self._at(x0)}", stock, length, frame, why, None, (), cut)
            self._raked.append((row, piece))

    def stand(self, name: str, x: float, span: Span, why: Why) -> None:
        """Upright straps with their left edge at x, over `span` of heights, fitted between what is laid.

        Nothing is stood off the layer or where another wall meets it. Places lower than a strap is wide
        stay empty: the strap next to them is near enough.
        """
        brief, stock = self.brief, self.stock
        across = (x, x + stock.width)
        lo, hi = brief.strap_span
        if across[0] < lo - _EPS or across[1] > hi + _EPS or any(overlap(wall, across) > _EPS for wall in self._walls):
            return
        span = (max(span[0], 0.0), min(span[1], self._ceiling(across)))
        cuts = [(hole.y0, hole.y1) for hole in brief.openings if overlap((hole.x0, hole.x1), across) > _EPS]
        cuts += [strap.y for strap in self._laid if overlap(strap.x, across) > _EPS]
        cuts += [row.heights(across) for row, piece in self._raked if overlap(piece, across) > _EPS]
        for obstacle in self._obstacles:
            taken = obstacle.stretch(1, across) if obstacle.cuts_columns else None
            if taken:
                cuts.append(taken)
        for y0, y1 in subtract(span, cuts, stock.width):
            frame = Frame((across[1], y0, self._layer.z1 - stock.thickness), _UP, _BACK)
            box = Extent(*across, y0, y1, self._layer.z0, self._layer.z1)
            self._place(f"{name}@{self._at(x)}-{round(y0)}", stock, y1 - y0, frame, why, box, self._studs)

    def _drop(self, slope: Slope) -> float:
        """How far straps stay below a stretch of the top, measured plumb: the depth of the strap along a slope."""
        return self.stock.width * hypot(1.0, slope.tangent) if abs(slope.tangent) > 1e-9 else 0.0

    def _ceiling(self, across: Span) -> float:
        """Height that upright straps over `across` may reach."""
        over = [slope for slope in self._slopes if overlap((slope.x0, slope.x1), across) > _EPS]
        if not over:  # beyond the ends of the framing, where the top is held level
            over = [self._slopes[0] if across[0] < self._slopes[0].x0 else self._slopes[-1]]
        return min(
            slope.below(min(max(x, slope.x0), slope.x1), 0.0) - self._drop(slope) for slope in over for x in across
        )

    def _above(self, height: float) -> list[Span]:
        """Stretches where `height` is over the top, or over the strap along a slope."""
        lo, hi = self.brief.strap_span
        spans = []
        for slope in self._slopes:
            x0 = min(slope.x0, lo) if slope is self._slopes[0] else slope.x0
            x1 = max(slope.x1, hi) if slope is self._slopes[-1] else slope.x1
            spans += lower_than(self.brief, height + self._drop(slope), (x0, x1))
        return spans

    def _stock_lengths(self, piece: Span, band: Span, from_right: bool) -> list[Span]:
        shop = self.brief.shop
        if piece[1] - piece[0] <= shop.longest_stock + _EPS:
            return [piece]
        lines = self.bearing_lines(band)
        if not from_right:
            return split_at(piece, lines, shop.longest_stock, shop.shortest_member)
        mirrored = split_at((-piece[1], -piece[0]), [-x for x in lines], shop.longest_stock, shop.shortest_member)
        return [(-b, -a) for a, b in reversed(mirrored)]

    def _place(
        self,
        name: str,
        stock: Stock,
        length: float,
        frame: Frame,
        why: Why,
        box: Extent | None = None,
        wood: Sequence[Extent] = (),
        cut: EndCut = SQUARE,
    ) -> None:
        """Place one piece, or report why not. `box` is where it lies, and must have some of `wood` behind it.

        A piece wholly past an end of the framing, over the end of the wall it laps, is fixed on site.
        """
        name = f"{self.brief.wall.id}/{name}"
        middle = frame.point(length / 2, stock.width / 2, 0.0)[:2]
        shortest = self.brief.shop.shortest_member
        if length < shortest - _EPS:
            words = f"strap {name} would be {length:.0f} mm long, shorter than the shop makes, and is left out"
            self._report(
                "strap.short", Severity.NOTE, words, (name,), middle, length, shortest, "spec shop.shortest_member"
            )
            return
        loose = False
        if box is not None:
            loose = overlap(box.x, (0.0, self.brief.length)) <= _EPS
            if not loose and not _bears(box, wood):
                words = f"strap {name} has no framing behind it to be nailed to, and is left out"
                self._report("strap.loose", Severity.WARN, words, (name,), middle, source="common practice, no source")
                return
            self._laid.append(box)
        self.members.append(stick(name, Role.STRAP, stock, length, frame, why, self._layer.name, cut, cut, loose))

    def _at(self, x: float) -> int:
        return round(self.brief.wall_start + x)

    def _report(
        self,
        code: str,
        severity: Severity,
        words: str,
        parts: tuple[str, ...],
        at: tuple[float, float],
        value: float | None = None,
        limit: float | None = None,
        source: str = "",
    ) -> None:
        point = (*at, self._layer.z0)
        self.findings.append(
            Finding(code, severity, words, self.brief.label, parts, point, value=value, limit=limit, source=source)
        )


def _bears(strap: Extent, wood: Iterable[Extent]) -> bool:
    """Whether some piece of wood backs a strap both ways."""
    left, right, low, high, _, _ = strap
    for x0, x1, y0, y1, _, _ in wood:
        if min(x1, right) - max(x0, left) >= STRAP_BEARING and min(y1, high) - max(y0, low) >= STRAP_BEARING:
            return True
    return False
