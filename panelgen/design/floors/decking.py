"""Sheets of a cassette: stock sheets across the joists, rows staggered, lapping the joints of cassettes.

Sheets that lap a joint are left off in the shop: they ship loose with the cassette on the left of it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from panelgen.design.brief import Span
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.sheathing.cutting import Cell, bearing_of, cut_sheets, unbacked
from panelgen.design.sheathing.faces import Side, gap_of, sheathing_on
from panelgen.design.sheathing.joints import Backing, JointLine, Row, choose_joints, joint_lines, rows, sticks_of
from panelgen.model import Finding, Layer, LayerKind, Member, Sheet, Sleeve, Why

__all__ = ["decking", "lapping_from_left"]

_SIDES: tuple[Side, ...] = ("outer", "inner")
_PRACTICE = "common practice, no source"
_DECK = Why("sheet.deck", "stock sheet across the joists, ends on joists and staggered, long edges tongued", _PRACTICE)
_LAP = Why("sheet.lap", "loose on delivery: laps the joint of two cassettes", _PRACTICE)


@dataclass(frozen=True, slots=True)
class _Face:
    """One face of a cassette: its layer, stock sizes as they lie (along x, up y), and half the gap between sheets."""

    layer: Layer
    side: Side
    sizes: tuple[tuple[float, float], ...]
    half: float


def decking(
    brief: CassetteBrief, members: Sequence[Member], sleeves: Sequence[Sleeve]
) -> tuple[tuple[Sheet, ...], tuple[Finding, ...]]:
    """The sheets of both faces, outer ones first, low row first, left to right; and what is not as it should be.

    Every second row of the outer face laps the joints with its neighbours where the cassettes allow it.
    """
    placed: list[Sheet] = []
    findings: list[Finding] = []
    for side in _SIDES:
        layer = sheathing_on(brief.panel, side)
        if layer is None:
            continue
        face = _face(brief, layer, side)
        cells, bare = _cells(brief, face, members)
        sheets, faults = cut_sheets(brief.panel, layer, cells, face.sizes, _DECK, sleeves)
        placed += [_named(sheet) for sheet in sheets]
        findings += [*bare, *faults]
    return tuple(placed), tuple(findings)


def _face(brief: CassetteBrief, layer: Layer, side: Side) -> _Face:
    sizes = tuple((long, wide) for wide, long in brief.panel.catalog.sheet(layer.product).sizes)
    return _Face(layer, side, sizes, gap_of(brief.panel, layer) / 2)


def _cells(brief: CassetteBrief, face: _Face, members: Sequence[Member]) -> tuple[list[Cell], list[Finding]]:
    panel = brief.panel
    framing = next(layer for layer in panel.layers if layer.kind is LayerKind.FRAMING)
    sticks, bearing = sticks_of(members, framing), bearing_of(panel, face.half)
    lying = rows(panel.height, face.sizes)
    cells: list[Cell] = []
    bare: list[Finding] = []
    below: list[float] = []
    for number, row in enumerate(lying):
        laps = brief.laps if number % 2 and face.side == "outer" else (0.0, 0.0)
        span = (laps[0], panel.length - laps[1])
        trims = (
            face.half if laps[0] or panel.joined[0] else 0.0,
            face.half,
            face.half if laps[1] or panel.joined[1] else 0.0,
        )
        lines = joint_lines(panel, sticks, face.side == "outer", row, span, bearing)
        joints = choose_joints(lines, span, row.widest, trims, below, panel.assembly.framing.spacing / 2)
        bare += [unbacked(panel, face.layer, joint) for joint in joints if joint.backing is Backing.BARE]
        y = _heights(brief, face, row, number == 0, number == len(lying) - 1)
        cells += _sheets(brief, face, number, span, joints, trims, y)
        below = [*(joint.x for joint in joints), *(x for x, lap in zip(span, laps, strict=True) if lap)]
        if laps[1]:
            cells.append(_lap(brief, face, number, panel.length, laps[1], y))
    return cells, bare


def _named(sheet: Sheet) -> Sheet:
    """A sheet that says why it is there, its stock as the catalog has it: width, then length."""
    width, length = sorted(sheet.stock_size)
    return replace(sheet, stock_size=(width, length), why=_LAP if sheet.loose else _DECK)


def lapping_from_left(brief: CassetteBrief) -> tuple[Sheet, ...]:
    """The loose sheets of the cassette on the left that lap onto this one, in its coordinates."""
    layer = sheathing_on(brief.panel, "outer")
    if layer is None or not brief.laps[0]:
        return ()
    face = _face(brief, layer, "outer")
    lying = rows(brief.panel.height, face.sizes)
    cells = [
        _lap(brief, face, number, 0.0, brief.laps[0], _heights(brief, face, row, False, number == len(lying) - 1))
        for number, row in enumerate(lying)
        if number % 2
    ]
    return tuple(cut_sheets(brief.panel, layer, cells, face.sizes, _LAP)[0])


def _lap(brief: CassetteBrief, face: _Face, number: int, joint: float, reach: float, y: Span) -> Cell:
    """The loose sheet that laps a joint at panel x in one row."""
    x0, x1 = joint - reach + face.half, joint + reach - face.half
    return Cell(f"{_name(brief, face, number)}-lap@{_at(brief, x0)}", x0, x1, *y, loose=True)


def _sheets(
    brief: CassetteBrief,
    face: _Face,
    number: int,
    span: Span,
    joints: Sequence[JointLine],
    trims: tuple[float, float, float],
    y: Span,
) -> list[Cell]:
    """The sheets of one row between its joints."""
    bounds = (span[0], *(joint.x for joint in joints), span[1])
    last = len(bounds) - 2
    left, half, right = trims
    return [
        Cell(
            f"{_name(brief, face, number)}@{_at(brief, x0)}",
            x0 + (half if n else left),
            x1 - (half if n < last else right),
            *y,
        )
        for n, (x0, x1) in enumerate(pairwise(bounds))
    ]


def _heights(brief: CassetteBrief, face: _Face, row: Row, is_first: bool, is_last: bool) -> Span:
    """What a row takes of y, gaps taken off: half where the next row or cassette is."""
    low = face.half if brief.meets[2] or not is_first else 0.0
    high = face.half if brief.meets[3] or not is_last else 0.0
    return row.y0 + low, row.y1 - high


def _name(brief: CassetteBrief, face: _Face, number: int) -> str:
    return f"{brief.panel.wall.id}/{face.side}-sheet-{brief.place}-{number + 1}"


def _at(brief: CassetteBrief, x: float) -> int:
    return round(brief.panel.wall_start + x)
