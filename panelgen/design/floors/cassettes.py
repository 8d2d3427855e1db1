"""Where a deck is split: into columns across the joists, and each column over the walls that carry it.

Where joists would be longer than the line or the rack, they meet over a wall that carries the whole column.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.design.brief import OpeningBrief, Span
from panelgen.design.floors.columns import split_field
from panelgen.design.floors.fields import fields
from panelgen.design.floors.outline import CRACK, Deck
from panelgen.design.intervals import overlap, subtract
from panelgen.design.sheathing.joints import LEAST_STRIP
from panelgen.design.split.lengths import split
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


@dataclass(frozen=True, slots=True)
class _Column:
    span: Span
    rows: tuple[Span, ...]


def cassettes(
    deck: Deck, shop: Shop, limits: ShopLimits, longest_joist: float, mass: float, catalog: Catalog
) -> tuple[tuple[Cassette, ...], tuple[Partition, ...], tuple[Finding, ...]]:
    """The cassettes of a deck that weighs about `mass` kg/m2, left to right, then up, and how each field was split.

    They are the outline, and do not overlap. A field, column or joist that cannot be split as the shop
    needs stays whole and is a finding.
    """
    placed: list[tuple[Rect, tuple[bool, bool], tuple[float, float]]] = []
    findings: list[Finding] = []
    partitions: list[Partition] = []
    longest = min(limits.line_length, limits.truck.length, longest_joist)
    for field in fields(deck.ring):
        parted = split_field(deck, field, mass, longest, shop, limits, catalog)
        partitions.append(parted.partition)
        if not parted.is_legal:
            findings.append(_no_joint(deck, field, field[2] - field[0], None, "across its joists"))
        columns = [
            _Column(span, _rows(deck, span, (field[1], field[3]), longest, shop, findings)) for span in parted.spans
        ]
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


def _rows(
    deck: Deck, column: Span, field: Span, longest: float, shop: Shop, findings: list[Finding]
) -> tuple[Span, ...]:
    """The stretches of y into which a column is split: over walls that carry the whole of it."""
    if field[1] - field[0] <= longest + _EPS:
        return (field,)
    low, high = field[0] + shop.shortest_panel, field[1] - shop.shortest_panel
    closed = [
        (hole.y0 - shop.joint_clearance, hole.y1 + shop.joint_clearance)
        for hole in deck.openings
        if overlap((hole.x0, hole.x1), column) > _EPS
    ]
    lines = sorted({(band.rect[1] + band.rect[3]) / 2 for band in deck.below if band.bearing and not band.is_along})
    joints = [
        y for y in lines if low <= y <= high and _is_carried(deck, column, y) and not any(a < y < b for a, b in closed)
    ]
    rows = split(field, joints, longest, shop.shortest_panel)
    if rows is None:
        rect = (column[0], field[0], column[1], field[1])
        where = "along its joists, over walls that carry it"
        findings.append(_no_joint(deck, rect, field[1] - field[0], longest, where))
        return (field,)
    return rows


def _is_carried(deck: Deck, column: Span, y: float) -> bool:
    """Whether walls carry a column over its whole width along a line across the joists."""
    under = [(band.rect[0], band.rect[2]) for band in deck.below if band.bearing and band.rect[1] <= y <= band.rect[3]]
    return not subtract(column, under, CRACK)


def _lap(deck: Deck, left: _Column, right: _Column, row: Span) -> float:
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


def _no_joint(deck: Deck, rect: Rect, size: float, limit: float | None, where: str) -> Finding:
    x0, y0, x1, y1 = rect
    return Finding(
        "deck.no-joint",
        Severity.STOP,
        f"{deck.kind} {deck.spec.id} cannot be split {where}: no joint keeps every cassette within the shop's limits; "
        "move an opening, add a bearing wall below, or allow a smaller joint clearance",
        parts=(deck.spec.id,),
        house_point=deck.frame.point((x0 + x1) / 2, (y0 + y1) / 2, 0.0),
        value=size,
        limit=limit,
        source="spec shop",
    )
