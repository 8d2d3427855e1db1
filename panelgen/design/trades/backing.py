"""Backing from what later trades will hang on a wall: rows of the right stock at the heights of the catalog.

On a face with a service cavity a row is a strap; where the load asks for it, blocking between the studs stands behind
it. On any other face it is blocking flush with that face. What a trade cannot be given is a finding.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf
from typing import Literal

from panelgen.catalog import Catalog, RuleSet
from panelgen.catalog.trades import TradeBacking
from panelgen.design.bays.footprints import Footprint, footprint_of
from panelgen.design.brief import PanelBrief, Span
from panelgen.design.extents import Extent, extent_of
from panelgen.design.framing.raked import Row
from panelgen.design.intervals import overlap, subtract
from panelgen.design.walls.junctions import ResolvedWall
from panelgen.model import Finding, LayerKind, Member, Severity
from panelgen.spec import HouseSpec
from panelgen.spec.services import BackingSpec
from panelgen.spec.trades import TradeSpec

__all__ = ["TradeRow", "trade_rows", "unbacked"]

_EPS = 1e-6
_BAND = 12.0
"""Wood this far (mm) above and below the middle of a row backs it; common practice, no source."""
_GAP = 100.0
"""Longest stretch (mm) of a row that may lack wood; common practice, no source."""


@dataclass(frozen=True, slots=True)
class TradeRow:
    """A row that must be backed once the panel is built, wall coordinates, mm.

    `height` is its middle, at its start where it rises to `end_height`; None for a board up to the top, whose upper
    edge and corners are looked at.
    """

    id: str
    words: str
    face: Literal["inner", "outer"]
    span: Span
    height: float | None
    is_board: bool
    source: str
    end_height: float | None = None

    @property
    def rises(self) -> bool:
        """Whether it rises or falls."""
        return self.end_height is not None and self.end_height != self.height


def trade_rows(
    spec: HouseSpec, walls: Sequence[ResolvedWall], catalog: Catalog
) -> tuple[tuple[BackingSpec, ...], dict[str, list[TradeRow]], tuple[Finding, ...]]:
    """Backing for the trades of a spec, the rows to look at again by wall, and what the catalog has no row for."""
    backing: list[BackingSpec] = []
    rows: dict[str, list[TradeRow]] = {}
    findings: list[Finding] = []
    for trade in spec.trades:
        stretches = [one for one in walls if one.wall.id == trade.wall]
        chosen = _rows_for(trade, catalog)
        if not chosen:
            findings.append(_beyond(trade))
        first, last = min(one.framing[0] for one in stretches), max(one.framing[1] for one in stretches)
        span = (first if trade.start is None else trade.start, last if trade.end is None else trade.end)
        is_strapped = trade.face == "inner" and stretches[0].wall.assembly.strapping is not None
        for row in chosen:
            height = row.height if trade.height is None else trade.height
            has_height = trade.hang != "board" or trade.height is not None
            words = trade.reason or (f"{trade.hang}, {row.row}" if has_height else trade.hang)
            source = f"spec trades {trade.id}; {row.cited}"
            if has_height:
                backing.extend(_requests(trade, row, span, height, words, is_strapped))
            if is_strapped or trade.hang == "board":
                at = height if has_height else None
                found = TradeRow(trade.id, words, trade.face, span, at, trade.hang == "board", source, trade.end_height)
                rows.setdefault(trade.wall, []).append(found)
    return tuple(backing), rows, tuple(findings)


def _rows_for(trade: TradeSpec, catalog: Catalog) -> list[TradeBacking]:
    """All rows of a trade; of those by load the lightest that carries it."""
    rows = [row for row in catalog.trade_backing if row.trade == trade.hang and (trade.mass or 0.0) <= row.load]
    return rows[:1] if trade.mass is not None else rows


def _requests(
    trade: TradeSpec, row: TradeBacking, span: Span, height: float, words: str, is_strapped: bool
) -> Iterator[BackingSpec]:
    """A strap where there is a service cavity, and blocking where there is none or the load asks for it too."""
    name = f"{trade.id}.{row.row.replace(' ', '-')}"
    kinds: list[Literal["strap", "blocking"]] = ["blocking"]
    if is_strapped:
        kinds = ["strap", "blocking"] if row.behind else ["strap"]
    for kind in kinds:
        yield BackingSpec(
            id=name if kind == kinds[0] else f"{name}.behind",
            wall=trade.wall,
            start=span[0],
            end=span[1],
            height=height,
            end_height=trade.end_height,
            kind=kind,
            face=trade.face,
            stock=row.stock,
            reason=words,
        )


def _beyond(trade: TradeSpec) -> Finding:
    return Finding(
        "backing.load",
        Severity.STOP,
        f"no row of backing carries {trade.mass:.0f} kg of {trade.hang} {trade.id}: needs an engineer",
        parts=(trade.id,),
        value=trade.mass,
        unit="kg",
        source=f"spec trades {trade.id}",
    )


def unbacked(
    brief: PanelBrief, members: Sequence[Member], rows: Sequence[TradeRow], rules: RuleSet
) -> tuple[Finding, ...]:
    """Where the rows of a panel's wall have no wood behind them once every stick is placed.

    The edge of a board beside another wall must find wood as far in as the rule set puts its fasteners. Raises
    CatalogError where the rule set does not say how the interior board is fastened.
    """
    if not rows:
        return ()
    findings: list[Finding] = []
    for face in ("inner", "outer"):
        own = [row for row in rows if row.face == face]
        wood = _wood_at(brief, members, face) if own else []
        for row in own:
            findings.extend(_up(brief, members, row) if row.rises else _along(brief, wood, row))
            if row.is_board:
                findings.extend(_at_edges(brief, wood, row, rules))
    return tuple(findings)


def _wood_at(brief: PanelBrief, members: Sequence[Member], face: str) -> list[Extent]:
    """The boxes around the sticks that `_sticks_at` finds."""
    return [extent_of(member) for member in _sticks_at(brief, members, face)]


def _sticks_at(brief: PanelBrief, members: Sequence[Member], face: str) -> list[Member]:
    """The sticks a fastener finds from a face: the straps of a service cavity, or the framing behind that face."""
    straps = next((layer.name for layer in brief.layers if layer.kind is LayerKind.STRAPPING), None)
    if straps is not None and face == "inner":
        return [member for member in members if member.layer == straps]
    depth = brief.framing_depth

    def is_there(box: Extent) -> bool:
        return box.z0 < _EPS if face == "inner" else box.z1 > depth - _EPS

    return [member for member in members if member.layer != straps and is_there(extent_of(member))]


def _along(brief: PanelBrief, wood: Sequence[Extent], row: TradeRow) -> Iterator[Finding]:
    """Stretches of a row without wood; a board's upper edge where the row has no height."""
    lo, hi = row.span[0] - brief.wall_start, row.span[1] - brief.wall_start
    span = (max(0.0, brief.strap_span[0], lo), min(brief.length, brief.strap_span[1], hi))
    if row.height is None and not brief.is_level:
        return  # along a rake the sloping plates and straps back it
    plate = brief.catalog.stock(brief.assembly.framing.stock).thickness
    height = brief.height - plate / 2 if row.height is None else row.height
    # A loose cap of the next panel may lie on top at a joint: the plate below it backs the edge of the board too.
    heights = (height, height - plate) if row.height is None else (height,)
    band = (height - _BAND, height + _BAND)
    walls = [tee.span for tee in brief.tees if tee.inner_face == (row.face == "inner")]
    backed = [box.x for box in wood if any(box.y0 <= y - _BAND + _EPS and box.y1 >= y + _BAND - _EPS for y in heights)]
    for x0, x1 in subtract(span, [*backed, *walls], _GAP):
        holes = (hole for hole in brief.openings if overlap((hole.y0, hole.y1), band) > _EPS)
        opening = next((hole for hole in holes if overlap((hole.x0, hole.x1), (x0, x1)) > _EPS), None)
        why = f"opening {opening.id} is in the way" if opening else "something is in the way"
        words = f"{row.words} lacks backing for {x1 - x0:.0f} mm at {height:.0f} mm: {why}"
        yield _gap(brief, row, words, ((x0 + x1) / 2, height), x1 - x0)


def _up(brief: PanelBrief, members: Sequence[Member], row: TradeRow) -> Iterator[Finding]:
    """Stretches without wood of a row that rises or falls."""
    if row.height is None or row.end_height is None:
        return
    (start, end), first = row.span, brief.wall_start
    line = Row((start - first, row.height), (end - first, row.end_height), 0.0)
    lo, hi = start - first, end - first
    span = (max(0.0, brief.strap_span[0], lo), min(brief.length, brief.strap_span[1], hi))
    walls = [tee.span for tee in brief.tees if tee.inner_face == (row.face == "inner")]
    backed = [_held(footprint_of(member), line) for member in _sticks_at(brief, members, row.face)]
    for x0, x1 in subtract(span, [*backed, *walls], _GAP):
        x = (x0 + x1) / 2
        words = f"{row.words} lacks backing for {x1 - x0:.0f} mm along its slope: something is in the way"
        yield _gap(brief, row, words, (x, line.middle(x)), x1 - x0)


def _held(stick: Footprint, line: Row) -> Span:
    """Where along a sloping line a stick lies behind it, with wood above and below; nowhere if not all along itself."""
    xs = [x for x, _ in stick.ring]
    across = (min(xs), max(xs))
    low0, low1, high0, high1 = stick.edges(*across)
    inside = all(
        low <= line.middle(x) - _BAND + _EPS and high >= line.middle(x) + _BAND - _EPS
        for x, low, high in ((across[0], low0, high0), (across[1], low1, high1))
    )
    return across if inside else (-inf, -inf)


def _at_edges(brief: PanelBrief, wood: Sequence[Extent], row: TradeRow, rules: RuleSet) -> Iterator[Finding]:
    """Edges of a board at inside corners and around openings that have nothing to be fastened to."""
    strapping = brief.assembly.strapping
    spacing = strapping.spacing if strapping is not None and row.face == "inner" else brief.assembly.framing.spacing
    board = brief.catalog.sheet(brief.design.interior_board)
    edge = rules.sheet_nailing(board.thickness, board.kind).edge_distance
    reach = (max(0.0, row.span[0] - brief.wall_start), min(brief.length, row.span[1] - brief.wall_start))
    upright = [(f"up the corner with wall {wall}", x, (0.0, brief.top_at(x))) for wall, x in _corners(brief, row, edge)]
    level = []
    for hole in brief.openings:
        upright += [(f"beside opening {hole.id}", x, (hole.y0, hole.y1)) for x in (hole.x0 - edge, hole.x1 + edge)]
        level += [(f"above opening {hole.id}", hole.y1 + edge, (hole.x0, hole.x1))]
        if not hole.to_floor:
            level += [(f"below opening {hole.id}", hole.y0 - edge, (hole.x0, hole.x1))]
    for where, x, along in upright:
        found = [box.y for box in wood if box.x0 <= x + _EPS and box.x1 >= x - _EPS]
        if reach[0] <= x <= reach[1]:
            for y0, y1 in subtract(along, found, spacing):
                words = f"{row.words} lacks backing for {y1 - y0:.0f} mm {where}: add wood there"
                yield _gap(brief, row, words, (x, (y0 + y1) / 2), y1 - y0)
    for where, y, along in level:
        found = [box.x for box in wood if box.y0 <= y + _EPS and box.y1 >= y - _EPS]
        across = (max(along[0], reach[0]), min(along[1], reach[1]))
        for x0, x1 in subtract(across, found, spacing):
            words = f"{row.words} lacks backing for {x1 - x0:.0f} mm {where}: add wood there"
            yield _gap(brief, row, words, ((x0 + x1) / 2, y), x1 - x0)


def _corners(brief: PanelBrief, row: TradeRow, edge: float) -> Iterator[tuple[str, float]]:
    """The walls that meet the face of a row, and where a board that ends at each is fastened."""
    for tee in (*brief.tees, *brief.corners):
        if tee.inner_face != (row.face == "inner"):
            continue
        for x in (tee.span[0] - edge, tee.span[1] + edge):
            if max(0.0, row.span[0] - brief.wall_start) <= x <= min(brief.length, row.span[1] - brief.wall_start):
                yield tee.wall, x


def _gap(brief: PanelBrief, row: TradeRow, words: str, at: tuple[float, float], value: float) -> Finding:
    return Finding(
        "backing.gap",
        Severity.WARN,
        words,
        brief.label,
        (row.id,),
        (*at, 0.0),
        value=value,
        limit=_GAP,
        source=row.source,
    )
