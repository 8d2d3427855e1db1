"""What is left over when the parts of some panels are cut plainly: a first estimate, not a cutting plan.

Sticks are cut from full sticks of the rack, longest first, each where it first fits. Sheets are ripped into strips
the length of a stock sheet, widest first, each from the first sheet with room. Saw cuts are taken to be of no width.
A cutting plan that looks for better ways leaves less.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from panelgen.model import Member, Panel, Sheet
from panelgen.model.volumes import sheet_volume

__all__ = ["Offcut", "offcuts"]

_FIT = 1e-6  # mm


@dataclass(frozen=True, slots=True)
class Offcut:
    """One stock: how many full pieces are taken, and the share (0 to 1) of them that ends up in no part.

    `kind` is ``stick`` or ``sheet``; `size` is that of a full piece, mm: its length, or both sides.
    """

    kind: str
    name: str
    size: tuple[float, ...]
    pieces: int
    share: float


def offcuts(panels: Iterable[Panel], longest_stock: float) -> tuple[Offcut, ...]:
    """What each stock of some panels leaves over: sticks first, then sheets, by name.

    `longest_stock` is the length of the sticks in the rack, mm. Longer parts are left out: they cannot be cut from it.
    """
    panels = tuple(panels)
    sticks: dict[str, list[Member]] = {}
    sheets: dict[tuple[str, float, float], list[Sheet]] = {}
    for panel in panels:
        for member in panel.members:
            if member.length <= longest_stock + _FIT:
                sticks.setdefault(member.stock, []).append(member)
        for sheet in panel.sheets:
            width, height = sorted(sheet.stock_size)
            sheets.setdefault((sheet.product, width, height), []).append(sheet)
    return (*_sticks(sticks, longest_stock), *_sheets(sheets))


def _sticks(by_stock: Mapping[str, Sequence[Member]], stock_length: float) -> Iterable[Offcut]:
    for name in sorted(by_stock):
        lengths = [member.length for member in by_stock[name]]
        taken = _first_fit(lengths, stock_length)
        yield Offcut("stick", name, (stock_length,), taken, 1.0 - sum(lengths) / (taken * stock_length))


def _sheets(by_stock: Mapping[tuple[str, float, float], Sequence[Sheet]]) -> Iterable[Offcut]:
    for product, width, height in sorted(by_stock):
        pieces = by_stock[product, width, height]
        taken = _first_fit([_rip(sheet, width, height) for sheet in pieces], width)
        used = sum(sheet_volume(sheet) / sheet.thickness for sheet in pieces)
        yield Offcut("sheet", product, (width, height), taken, 1.0 - used / (taken * width * height))


def _rip(sheet: Sheet, width: float, height: float) -> float:
    """The width of the strip that a piece takes, mm: of its two sides the one that can lie across the stock."""
    along, up = zip(*sheet.outline, strict=True)
    short, long = sorted(float(max(side) - min(side)) for side in (along, up))
    return short if long <= max(width, height) + _FIT else long


def _first_fit(sizes: Iterable[float], room: float) -> int:
    """How many stocks of size `room` are taken when the largest goes first and each where it first fits."""
    left: list[float] = []
    for size in sorted(sizes, reverse=True):
        for place, rest in enumerate(left):
            if size <= rest + _FIT:
                left[place] = rest - size
                break
        else:
            left.append(room - size)
    return len(left)
