"""Insulation of the airtight shell by area: what of each panel is insulated, what is wood, and what is neither, why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from panelgen.envelope.cover import Cover, airtight_panels, covers
from panelgen.model import House, Panel, PanelKind

__all__ = ["CoverRow", "InsulationCover", "cover_record", "cover_text", "insulation_cover"]

_M2_PER_MM2 = 1e-6
_TRACE = 100.0
"""Areas below this (mm2), 1 cm2, are rounding at the corners of sticks; common practice, no source."""

_PARTS = ("area", "insulated", "wood", "slivers", "bare")


@dataclass(frozen=True, slots=True)
class CoverRow:
    """A panel, or the whole: areas of its framing face without openings, m2; the last four add up to `area`.

    `products` are what is blown in, and `why` says why something is bare or thin, empty where nothing is.
    """

    label: str
    kind: PanelKind | None
    products: tuple[str, ...]
    area: float
    insulated: float
    wood: float
    slivers: float
    bare: float
    why: str


@dataclass(frozen=True, slots=True)
class InsulationCover:
    """The airtight panels of a house, or some of them."""

    rows: tuple[CoverRow, ...]

    @property
    def total(self) -> CoverRow:
        """All panels in one row."""
        products = tuple(dict.fromkeys(name for row in self.rows for name in row.products))
        return CoverRow(
            "all",
            None,
            products,
            area=sum(row.area for row in self.rows),
            insulated=sum(row.insulated for row in self.rows),
            wood=sum(row.wood for row in self.rows),
            slivers=sum(row.slivers for row in self.rows),
            bare=sum(row.bare for row in self.rows),
            why="",
        )


def insulation_cover(house: House, panels: Sequence[Panel] | None = None) -> InsulationCover:
    """What covers the panels of a house that carry its air barrier, or those of `panels` that do."""
    chosen = [panel for panel in airtight_panels(house) if panels is None or panel in panels]
    return InsulationCover(tuple(map(_row, covers(house, chosen))))


def _row(cover: Cover) -> CoverRow:
    panel = cover.panel
    return CoverRow(
        panel.label,
        panel.kind,
        tuple(dict.fromkeys(bay.product for bay in panel.bays)),
        area=cover.area * _M2_PER_MM2,
        insulated=cover.insulated * _M2_PER_MM2,
        wood=cover.wood * _M2_PER_MM2,
        slivers=cover.slivers * _M2_PER_MM2,
        bare=cover.bare * _M2_PER_MM2,
        why=_why(cover),
    )


def _why(cover: Cover) -> str:
    if cover.bare > _TRACE:
        return "a void without a bay" if cover.panel.bays else "its assembly asks for no insulation"
    return "too thin to fill" if cover.slivers > _TRACE else ""


def cover_text(cover: InsulationCover) -> str:
    """A table of the panels and the whole."""
    lines = [f"{'panel':8s}{'kind':15s}" + "".join(f"{name:>11s}" for name in ("m2", *_PARTS[1:]))]
    lines += [
        f"{row.label:8s}{row.kind or '':15s}"
        + "".join(f"{getattr(row, part):11.2f}" for part in _PARTS)
        + (f"  {row.why}" if row.why else "")
        for row in (*cover.rows, *([cover.total] if cover.rows else []))
    ]
    return (
        "\n".join([*lines, "", "m2 of airtight panels, rough openings left out; wood is what sticks alone take."])
        + "\n"
    )


def cover_record(cover: InsulationCover) -> dict[str, Any]:
    """The same for a JSON document, m2."""

    def areas(row: CoverRow) -> dict[str, float]:
        return {f"{part}_m2": getattr(row, part) for part in _PARTS}

    panels = [
        {"panel": row.label, "kind": row.kind, "products": row.products, **areas(row), "why": row.why}
        for row in cover.rows
    ]
    return {"panels": panels, "house": areas(cover.total)}
