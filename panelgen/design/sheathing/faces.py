"""The face of a panel that a layer covers: its outline, and where it is at least so high."""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from panelgen.design.brief import PanelBrief, Span
from panelgen.geometry.frames import Point2
from panelgen.model import Layer, LayerKind

__all__ = ["Side", "face_ring", "gap_of", "lower_than", "sheathing_on", "top_line"]

Side = Literal["outer", "inner"]

_EPS = 1e-6


def sheathing_on(brief: PanelBrief, side: Side) -> Layer | None:
    """The sheathing on that side of the framing; None where there is none."""
    for layer in brief.layers:
        if layer.kind is LayerKind.SHEATHING and (layer.z0 > 0.0) is (side == "outer"):
            return layer
    return None


def gap_of(brief: PanelBrief, face: Layer) -> float:
    """What the spec leaves between neighbouring sheets of a sheathing layer, mm."""
    spec = brief.assembly.outer_sheathing if face.z0 > 0.0 else brief.assembly.inner_sheathing
    return 0.0 if spec is None else spec.gap


def top_line(brief: PanelBrief, span: Span) -> tuple[Point2, ...]:
    """The top of the panel over `span` (panel x, mm) as (x, y) from left to right.

    Its slopes go on beyond its ends, but not higher than its wall.
    """
    bends = (x for x, _ in brief.top if span[0] + _EPS < x < span[1] - _EPS)
    return tuple((x, min(brief.top_at(x), brief.highest)) for x in (span[0], *bends, span[1]))


def face_ring(brief: PanelBrief, span: Span) -> tuple[Point2, ...]:
    """The face from the floor to the top over `span`, counter-clockwise from its bottom-left corner."""
    return ((span[0], 0.0), (span[1], 0.0), *reversed(top_line(brief, span)))


def lower_than(brief: PanelBrief, height: float, span: Span) -> list[Span]:
    """The stretches of `span` over which the top is lower than `height` (mm), left to right."""
    low: list[Span] = []
    points = top_line(brief, span)
    for (xa, ya), (xb, yb) in pairwise(points):
        if max(ya, yb) <= height - _EPS:
            stretch = (xa, xb)
        elif min(ya, yb) >= height - _EPS:
            continue
        else:
            x = xa + (xb - xa) * (height - ya) / (yb - ya)
            stretch = (xa, x) if ya < yb else (x, xb)
        if low and stretch[0] - low[-1][1] < _EPS:
            stretch = (low.pop()[0], stretch[1])
        low.append(stretch)
    return low
