"""Strips split by their length alone: joints on the layout, the fewest panels the line can take, then the most even.

Joints fall on the layout, so both neighbours get an end stick and sheets meet on wood, and keep clear of
rough openings and of what meets the strip.
"""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.brief import Span
from panelgen.design.split.best import best_split, pieces

__all__ = ["legal_joints", "split"]

_PARTS = 1000
"""Lengths are weighed in whole thousandths of a mm, far below what a saw can cut."""


def legal_joints(
    layout: Sequence[float], framing: Span, keep_clear: Sequence[Span], clearance: float, shortest: float
) -> tuple[float, ...]:
    """Layout lines (mm along the strip) where a joint may fall.

    `keep_clear` are the spans of rough openings and of what meets the strip; a joint stays
    `clearance` away from each, and `shortest` away from both ends of the framing.
    """
    lo, hi = framing
    return tuple(
        x
        for x in layout
        if lo + shortest <= x <= hi - shortest and all(x <= a - clearance or x >= b + clearance for a, b in keep_clear)
    )


def split(framing: Span, joints: Sequence[float], longest: float, shortest: float) -> tuple[Span, ...] | None:
    """The panels of a strip: fewest, then least sum of squared lengths. None where no legal split keeps each
    within `longest`. A strip that has no joints may be shorter than `shortest`, mm.
    """
    stops = (framing[0], *joints, framing[1])

    def squared(i: int, j: int) -> tuple[int]:
        return (round((stops[j] - stops[i]) * _PARTS) ** 2,)

    best = best_split(stops, squared, pieces(stops, longest, shortest if joints else 0.0))
    return best.spans(stops) if best else None
