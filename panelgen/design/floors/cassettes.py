"""Where a deck is split: into columns across the joists, and each column over the walls that carry it.

Where joists would be longer than the line or the rack, they meet over a wall that carries the whole column.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from panelgen.catalog import Catalog
from panelgen.design.brief import OpeningBrief, Span
from panelgen.design.floors.columns import Columns, FieldPieces, split_field
from panelgen.design.floors.fields import fields
from panelgen.design.floors.outline import Deck
from panelgen.design.floors.stocks import Stocks
from panelgen.design.intervals import overlap
from panelgen.design.sheathing.joints import LEAST_STRIP
from panelgen.design.split.grid import Column
from panelgen.design.split.joints import Keep
from panelgen.design.split.limits import with_crane
from panelgen.design.split.lying import RACK, SIZE
from panelgen.design.split.services import joints_on_services
from panelgen.geometry.rectangles import Rect
from panelgen.model import Finding, Severity, ShopLimits
from panelgen.model.partition import Partition
from panelgen.spec.house import Shop

__all__ = ["Cassette", "cassettes"]

_EPS = 1e-6
_LAP = 609.6
"""Sheets that lap a joint reach no farther than this (mm) beyond it: two feet, common practice, no source."""

_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Cassette:
    """A panel's place in its deck, mm. `rims` says whether the joists end at a rim at its low and at its high end.

    `meets` says whether other cassettes are on its left and right, and at its low and high end. `laps` are
    how far sheets reach across its left and right joint, 0 where they end there.
    """

    rect: Rect
    rims: tuple[bool, bool]
    meets: tuple[bool, bool, bool, bool] = (False, False, False, False)
    laps: tuple[float, float] = (0.0, 0.0)


def cassettes(
    deck: Deck,
    stocks: Stocks,
    shop: Shop,
    limits: ShopLimits,
    longest_joist: float,
    catalog: Catalog,
    keeps: Sequence[Keep] = (),
) -> tuple[tuple[Cassette, ...], tuple[Partition, ...], tuple[Finding, ...]]:
    """The cassettes of a deck, left to right, then up, and how each field was split.

    They are the outline, and do not overlap. Joints keep off the services in `keeps` where any split can, and where a
    field cannot be split as the shop needs is a finding.
    """
    placed: list[tuple[Rect, tuple[bool, bool], tuple[float, float]]] = []
    findings: list[Finding] = []
    partitions: list[Partition] = []
    for field in fields(deck.ring):
        pieces = partial(FieldPieces, deck, field, stocks, shop, limits, longest_joist, catalog)
        parted = split_field(pieces(keeps), pieces if keeps else None)
        partitions.append(parted.partition)
        if parted.on_services:
            joints, middle = parted.partition.joints, (field[1] + field[3]) / 2
            findings += joints_on_services(f"{deck.kind} {deck.id}", joints, keeps, deck.frame, middle)
        findings += _unsplit(deck, field, parted, limits, longest_joist)
        columns = parted.columns
        for n, column in enumerate(columns):
            for low, high in column.rows:
                left = _lap(deck, columns[n - 1], column, (low, high)) if n else 0.0
                right = _lap(deck, column, columns[n + 1], (low, high)) if n + 1 < len(columns) else 0.0
                rect = (column.span[0], low, column.span[1], high)
                placed.append((rect, (low <= field[1] + _EPS, high >= field[3] - _EPS), (left, right)))
    placed.sort()
    rects = [rect for rect, _, _ in placed]
    findings += [_on_joint(deck, hole) for hole in deck.openings if not any(_holds(rect, hole) for rect in rects)]
    found = tuple(Cassette(rect, rims, _meets(rect, rects), laps) for rect, rims, laps in placed)
    return found, tuple(partitions), tuple(findings)


def _lap(deck: Deck, left: Column, right: Column, row: Span) -> float:
    """How far sheets lap the joint of two columns in a row: whole bays, clear of openings; 0 where they end there."""
    if row not in left.rows or row not in right.rows or deck.assembly.outer_sheathing is None:
        return 0.0
    spacing = deck.assembly.framing.spacing
    joint = left.span[1]
    reach = max(1, math.floor(_LAP / spacing + _EPS)) * spacing
    if min(left.span[1] - left.span[0], right.span[1] - right.span[0]) < 2 * reach + LEAST_STRIP:
        return 0.0
    if abs(joint - round(joint / spacing) * spacing) > _EPS:
        return 0.0
    around = (joint - reach, joint + reach)
    if any(overlap((h.x0, h.x1), around) > -LEAST_STRIP and overlap((h.y0, h.y1), row) > _EPS for h in deck.openings):
        return 0.0
    return reach


def _meets(rect: Rect, rects: Sequence[Rect]) -> tuple[bool, bool, bool, bool]:
    """Whether others touch the left, right, low and high side of a rectangle."""
    x0, y0, x1, y1 = rect
    beside = [other for other in rects if overlap((y0, y1), (other[1], other[3])) > _EPS]
    in_line = [other for other in rects if overlap((x0, x1), (other[0], other[2])) > _EPS]
    return (
        any(abs(other[2] - x0) < _EPS for other in beside),
        any(abs(other[0] - x1) < _EPS for other in beside),
        any(abs(other[3] - y0) < _EPS for other in in_line),
        any(abs(other[1] - y1) < _EPS for other in in_line),
    )


def _holds(rect: Rect, hole: OpeningBrief) -> bool:
    x0, y0, x1, y1 = rect
    return x0 <= hole.x0 + _EPS and hole.x1 <= x1 + _EPS and y0 <= hole.y0 + _EPS and hole.y1 <= y1 + _EPS


def _on_joint(deck: Deck, hole: OpeningBrief) -> Finding:
    return Finding(
        "deck.opening-joint",
        Severity.STOP,
        f"opening {hole.id} of {deck.kind} {deck.spec.id} lies across a joint of its cassettes, which can carry no "
        "header there: move it, or pin the joints beside it",
        parts=(hole.id,),
        house_point=deck.frame.point((hole.x0 + hole.x1) / 2, (hole.y0 + hole.y1) / 2, 0.0),
        source=_PRACTICE,
    )


def _unsplit(deck: Deck, field: Rect, parted: Columns, limits: ShopLimits, longest_joist: float) -> Iterator[Finding]:
    """What stands in the way of a legal split: joists that nothing parts, or what the whole field breaks."""
    x0, y0, x1, y1 = field
    if not parted.binding:
        return
    for column in parted.too_long:
        longest = min(max(limits.line_length, limits.line_height), longest_joist)
        where = "along its joists, over walls that carry it"
        yield _no_joint(deck, (column.span[0], y0, column.span[1], y1), y1 - y0, longest, where, (SIZE, RACK))
    if not parted.too_long:
        yield _no_joint(deck, field, x1 - x0, None, "across its joists", parted.binding)


def _no_joint(deck: Deck, rect: Rect, size: float, limit: float | None, where: str, names: Sequence[str]) -> Finding:
    x0, y0, x1, y1 = rect
    ways = "move an opening, add a bearing wall below, or allow a smaller joint clearance"
    ways = with_crane(ways, names)
    return Finding(
        "deck.no-joint",
        Severity.STOP,
        f"{deck.kind} {deck.spec.id} cannot be split {where}: no joint keeps every cassette within "
        f"{' and '.join(names)}; {ways}",
        parts=(deck.spec.id,),
        house_point=deck.frame.point((x0 + x1) / 2, (y0 + y1) / 2, 0.0),
        value=size,
        limit=limit,
        source="spec shop",
    )
