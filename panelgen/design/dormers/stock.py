"""Stock for sheets that reach farther down than the wall that they were laid out for."""

from __future__ import annotations

from dataclasses import replace

from panelgen.catalog import Catalog
from panelgen.model import Finding, Panel, Severity, Sheet

__all__ = ["held"]

_EPS = 1e-6


def held(panel: Panel, catalog: Catalog) -> tuple[tuple[Sheet, ...], tuple[Finding, ...]]:
    """The sheets of a panel, each from the least stock that holds it, upright or lying; and those that none holds."""
    sheets: list[Sheet] = []
    findings: list[Finding] = []
    for sheet in panel.sheets:
        width, height = (max(point[axis] for point in sheet.outline) for axis in (0, 1))
        sizes = catalog.sheet(sheet.product).sizes
        fitting = [
            size
            for size in (*sizes, *(size[::-1] for size in sizes))
            if size[0] > width - _EPS and size[1] > height - _EPS
        ]
        if not fitting:
            findings.append(_too_long(panel, sheet, height))
        sheets.append(
            replace(
                sheet, stock_size=min(fitting, key=lambda size: (size[0] * size[1], size), default=sheet.stock_size)
            )
        )
    return tuple(sheets), tuple(findings)


def _too_long(panel: Panel, sheet: Sheet, height: float) -> Finding:
    x, y, z = sheet.frame.origin
    return Finding(
        "dormer.sheet",
        Severity.STOP,
        f"a sheet of the {sheet.layer} reaches down to the slope and is longer than any in stock: lower the wall",
        panel.label,
        (sheet.id,),
        (x, y + height / 2, z),
        value=height,
        limit=sheet.stock_size[1],
        source="catalog of sheets",
    )
