"""Sheathing: real sheets cut from stock, upright, with joints on the framing and cut-outs at openings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.faces import Side, gap_of, lower_than, sheathing_on
from panelgen.design.intervals import overlap, subtract
from panelgen.design.sheet_cutting import Cell, bearing_of, cut_sheets, unbacked
from panelgen.design.sheet_joints import (
    Backing,
    JointLine,
    Row,
    Stick,
    choose_joints,
    joint_lines,
    rows,
    sticks_of,
)
from panelgen.model import Finding, Layer, LayerKind, Member, Sheet, Sleeve, Why

__all__ = ["joint_heights", "sheets"]

_SIDES: tuple[Side, ...] = ("outer", "inner")

_EPS = 1e-6
_PRACTICE = "common practice, no source"

_WHY = Why("sheet.layout", "upright stock sheet, joints on studs and staggered, fewest sheets", _PRACTICE)


@dataclass(frozen=True, slots=True)
class _Stretch:
    """A run of neighbouring sheets in one row: its span and the vertical joints in it."""

    row: Row
    number: int
    span: Span
    joints: tuple[JointLine, ...]


def joint_heights(brief: PanelBrief, side: Side) -> tuple[float, ...]:
    """Heights (panel y, mm) of the horizontal joints of one face; empty where its sheets reach the top."""
    face = sheathing_on(brief, side)
    if face is None:
        return ()
    return tuple(row.y0 for row in rows(brief.height, brief.catalog.sheet(face.product).sizes)[1:])


def sheets(
    brief: PanelBrief, members: Sequence[Member], sleeves: Sequence[Sleeve]
) -> tuple[tuple[Sheet, ...], tuple[Finding, ...]]:
    """The sheets of both faces, outer ones first, bottom row first, left to right; and what is not as it should be.

    Sheets cover a face from the floor to the top over the layer's span, less the rough openings and
    the gap at every joint; where the wall goes on in another panel, half the gap is left at that end.
    The inner layer's joints keep off the outer one's where they can. Each sleeve gets its hole.
    """
    framing = next(layer for layer in brief.layers if layer.kind is LayerKind.FRAMING)
    sticks = sticks_of(members, framing)
    placed: list[Sheet] = []
    findings: list[Finding] = []
    others: list[_Stretch] = []
    for side in _SIDES:
        face = sheathing_on(brief, side)
        if face is not None:
            stretches = _stretches(brief, sticks, face, others)
            cut, faults = _one_face(brief, face, side, stretches, sleeves)
            placed += cut
            findings += faults
            others += stretches
    return tuple(placed), tuple(findings)


def _one_face(
    brief: PanelBrief, face: Layer, side: Side, stretches: Sequence[_Stretch], sleeves: Sequence[Sleeve]
) -> tuple[list[Sheet], list[Finding]]:
    cells = _cells(brief, face, side, stretches)
    placed, findings = cut_sheets(brief, face, cells, brief.catalog.sheet(face.product).sizes, _WHY, sleeves)
    bare = [unbacked(brief, face, joint) for one in stretches for joint in one.joints if joint.backing is Backing.BARE]
    return placed, [*bare, *findings]


def _span(brief: PanelBrief, face: Layer) -> Span:
    return brief.outer_span if face.z0 > 0.0 else brief.inner_span


def _trims(brief: PanelBrief, face: Layer, stretch: Span) -> tuple[float, float, float]:
    """What sheets lose to the gap at the left end of a stretch, at each side of a joint, and at the right end."""
    half = gap_of(brief, face) / 2
    lo, hi = _span(brief, face)
    left = half if brief.joined[0] and stretch[0] <= lo + _EPS else 0.0
    right = half if brief.joined[1] and stretch[1] >= hi - _EPS else 0.0
    return left, half, right


def _stretches(brief: PanelBrief, sticks: Sequence[Stick], face: Layer, others: Sequence[_Stretch]) -> list[_Stretch]:
    """The rows of one face with their joints, which keep off those of `others` and of the row below."""
    half = gap_of(brief, face) / 2
    bearing = bearing_of(brief, half)
    whole = _span(brief, face)
    placed: list[_Stretch] = []
    for number, row in enumerate(rows(brief.height, brief.catalog.sheet(face.product).sizes)):
        near = [one for one in placed if one.number == number - 1]
        near += [one for one in others if overlap((one.row.y0, one.row.y1), (row.y0, row.y1)) > 0]
        avoid = [joint.x for one in near for joint in one.joints]
        for span in subtract(whole, lower_than(brief, row.y0 + half, whole) if number else ()):
            lines = joint_lines(brief, sticks, face.z0 > 0.0, row, span, bearing)
            trims = _trims(brief, face, span)
            joints = choose_joints(lines, span, row.widest, trims, avoid, brief.assembly.framing.spacing / 2)
            placed.append(_Stretch(row, number, span, tuple(joints)))
    return placed


def _cells(brief: PanelBrief, face: Layer, side: Side, stretches: Sequence[_Stretch]) -> Iterator[Cell]:
    top = stretches[-1].number
    for stretch in stretches:
        left, half, right = _trims(brief, face, stretch.span)
        bounds = (stretch.span[0], *(joint.x for joint in stretch.joints), stretch.span[1])
        last = len(bounds) - 2
        for n, (x0, x1) in enumerate(pairwise(bounds)):
            yield Cell(
                f"{brief.wall.id}/{side}-sheet-{stretch.number + 1}@{round(brief.wall_start + x0)}",
                x0 + (half if n else left),
                x1 - (half if n < last else right),
                stretch.row.y0 + (half if stretch.number else 0.0),
                stretch.row.y1 - (half if stretch.number < top else 0.0),
            )
