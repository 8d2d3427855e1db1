"""Where a wall is split into panels: the fewest panels the line can take, then the most even ones.

Joints fall on the stud layout, so both neighbours get an end stud and sheets meet on wood, and keep
clear of rough openings, tees and corners.
"""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.brief import Span

__all__ = ["legal_joints", "split"]


def legal_joints(
    layout: Sequence[float], framing: Span, keep_clear: Sequence[Span], clearance: float, shortest: float
) -> tuple[float, ...]:
    """Layout lines (wall x, mm) where a joint may fall.

    `keep_clear` are the spans of rough openings and of walls that meet this one; a joint stays
    `clearance` away from each, and `shortest` away from both ends of the framing.
    """
    lo, hi = framing
    return tuple(
        x
        for x in layout
        if lo + shortest <= x <= hi - shortest and all(x <= a - clearance or x >= b + clearance for a, b in keep_clear)
    )


def split(framing: Span, joints: Sequence[float], longest: float, shortest: float) -> tuple[Span, ...] | None:
    """The panels of a wall, as spans of wall x: fewest, then least sum of squared lengths.

    Exact, by dynamic programming over the legal joints. None where no legal split keeps every panel
    within `longest`.
    """
    stops = [framing[0], *joints, framing[1]]
    best: list[tuple[int, float, int] | None] = [(0, 0.0, -1)] + [None] * (len(stops) - 1)
    for j in range(1, len(stops)):
        for i in range(j - 1, -1, -1):
            length = stops[j] - stops[i]
            if length > longest + 1e-6:
                break
            so_far = best[i]
            if so_far is None or (length < shortest - 1e-6 and len(stops) > 2):
                continue
            candidate = (so_far[0] + 1, so_far[1] + length * length, i)
            current = best[j]
            if current is None or candidate[:2] < current[:2]:
                best[j] = candidate
    if best[-1] is None:
        return None
    spans: list[Span] = []
    j = len(stops) - 1
    while j > 0:
        step = best[j]
        assert step is not None  # every stop on the best path was reached
        spans.append((stops[step[2]], stops[j]))
        j = step[2]
    return tuple(reversed(spans))
