"""Stretches of a line: what is left of one when others are cut out of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from panelgen.design.brief import Span

__all__ = ["overlap", "split_at", "subtract"]


def overlap(a: Span, b: Span) -> float:
    """Length that two spans share, mm; negative where they are apart."""
    return min(a[1], b[1]) - max(a[0], b[0])


def subtract(span: Span, cuts: Iterable[Span], least: float = 1e-6) -> list[Span]:
    """What is left of `span` without `cuts` (in any order, overlapping or not), left to right.

    Leftovers no longer than `least` (mm) are rounding and are not returned.
    """
    left = []
    at, stop = span
    for lo, hi in sorted(cuts):
        if hi <= at:
            continue
        if lo >= stop:
            break
        if lo - at > least:
            left.append((at, lo))
        at = hi
    if stop - at > least:
        left.append((at, stop))
    return left


def split_at(span: Span, joints: Sequence[float], longest: float, least: float = 1.0) -> list[Span]:
    """A span in pieces no longer than `longest`, each cut at the farthest of `joints` within reach.

    Both ends of a cut are at least `least` (mm) away from the piece's other end. Where no joint is
    within reach, the piece is cut at its greatest length.
    """
    at, stop = span
    pieces = []
    while stop - at > longest + 1e-6:
        far = min(at + longest, stop - least)
        cut = max((x for x in joints if at + least <= x <= far), default=far)
        pieces.append((at, cut))
        at = cut
    pieces.append((at, stop))
    return pieces
