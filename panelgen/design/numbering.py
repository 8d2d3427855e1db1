"""Printed marks: sequential inside a panel, read left to right, bottom to top, outside in."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.changing import changing
from panelgen.design.extents import extent_of
from panelgen.geometry.frames import Point2
from panelgen.model import Bay, Member, Sheet

__all__ = ["mark_bays", "mark_members", "mark_sheets"]

_marked_bay = changing(Bay, "mark")
_marked_member = changing(Member, "mark")
_marked_sheet = changing(Sheet, "mark")


def mark_members(label: str, members: Sequence[Member]) -> tuple[Member, ...]:
    """Members in reading order, marked ``1W07-23``: by layer as given, then by their low left corner."""
    layers = {name: place for place, name in enumerate(dict.fromkeys(member.layer for member in members))}

    def place(member: Member) -> tuple[float | str, ...]:
        x, _, y, _, z, _ = extent_of(member)
        return (layers[member.layer], round(x, 1), round(y, 1), round(z, 1), member.id)

    return tuple(_marked_member(one, f"{label}-{n:02d}") for n, one in enumerate(sorted(members, key=place), start=1))


def mark_sheets(label: str, sheets: Sequence[Sheet]) -> tuple[Sheet, ...]:
    """Sheets marked by layer letter: ``1W07-O01`` outer, ``1W07-I01`` inner, left to right, then up."""
    counts: dict[str, int] = {}
    marked = []
    for sheet in sorted(sheets, key=lambda s: (s.layer != "outer sheathing", _rounded(s.frame.origin[:2]), s.id)):
        letter = sheet.layer[0].upper()
        counts[letter] = counts.get(letter, 0) + 1
        marked.append(_marked_sheet(sheet, f"{label}-{letter}{counts[letter]:02d}"))
    return tuple(marked)


def mark_bays(label: str, bays: Sequence[Bay]) -> tuple[Bay, ...]:
    """Bays marked ``1W07-B01``, left to right, then up."""
    ordered = sorted(bays, key=lambda bay: (*_low_left(bay.outline), bay.z0))
    return tuple(_marked_bay(bay, f"{label}-B{n:02d}") for n, bay in enumerate(ordered, start=1))


def _low_left(outline: Sequence[Point2]) -> Point2:
    return _rounded((min(x for x, _ in outline), min(y for _, y in outline)))


def _rounded(point: Point2) -> Point2:
    return (round(point[0], 1), round(point[1], 1))
