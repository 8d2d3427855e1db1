"""Sheathing: real sheets cut from stock, upright, with joints on the framing and cut-outs at openings."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.sheathing.cutting import bearing_of, cut_sheets, unbacked
from panelgen.design.sheathing.faces import Side, gap_of, sheathing_on, top_line
from panelgen.design.sheathing.joints import Backing, Stick, joint_lines, rows, sticks_of
from panelgen.design.sheathing.rows import Facing, Stretch, cells_of, stretches_of
from panelgen.model import Finding, Layer, LayerKind, Member, Sheet, Sleeve, Why

__all__ = ["joint_heights", "sheets"]

_SIDES: tuple[Side, ...] = ("outer", "inner")

_PRACTICE = "common practice, no source"

_WHY = Why("sheet.layout", "upright stock sheet, joints on studs and staggered, fewest sheets", _PRACTICE)


def joint_heights(brief: PanelBrief, side: Side) -> tuple[float, ...]:
    """Heights (panel y, mm) of the horizontal joints of one face; empty where its sheets reach the top."""
    face = sheathing_on(brief, side)
    if face is None:
        return ()
    return tuple(row.y0 for row in rows(_height(brief, face), brief.catalog.sheet(face.product).sizes)[1:])


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
    others: list[Stretch] = []
    for side in _SIDES:
        face = sheathing_on(brief, side)
        if face is not None:
            facing = _facing(brief, sticks, face)
            stretches = stretches_of(facing, others)
            cut, faults = _one_face(facing, side, stretches, sleeves)
            placed += cut
            findings += faults
            others += stretches
    return tuple(placed), tuple(findings)


def _facing(brief: PanelBrief, sticks: Sequence[Stick], face: Layer) -> Facing:
    """The whole face, its joints on the sticks."""
    outside = face.z0 > 0.0
    bearing = bearing_of(brief, gap_of(brief, face) / 2)
    lines = partial(joint_lines, brief, sticks, outside, bearing=bearing)
    return Facing(brief, face, _span(brief, face), _height(brief, face), brief.joined, lines)


def _span(brief: PanelBrief, face: Layer) -> Span:
    return brief.outer_span if face.z0 > 0.0 else brief.inner_span


def _height(brief: PanelBrief, face: Layer) -> float:
    """How high a layer goes: where it laps the wall at its higher end, a raked one goes on above the framing."""
    return max(y for _, y in top_line(brief, _span(brief, face)))


def _one_face(
    facing: Facing, side: Side, stretches: Sequence[Stretch], sleeves: Sequence[Sleeve]
) -> tuple[list[Sheet], list[Finding]]:
    brief, face = facing.brief, facing.face
    cells = cells_of(facing, f"{brief.wall.id}/{side}-sheet", stretches)
    placed, findings = cut_sheets(brief, face, cells, brief.catalog.sheet(face.product).sizes, _WHY, sleeves)
    bare = [unbacked(brief, face, joint) for one in stretches for joint in one.joints if joint.backing is Backing.BARE]
    return placed, [*bare, *findings]
