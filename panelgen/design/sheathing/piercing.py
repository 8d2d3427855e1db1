"""The holes of sleeves in sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import shapely

from panelgen.model import Finding, Layer, RoundHole, Severity, Sheet, Sleeve

__all__ = ["pierce"]


def pierce(label: str, face: Layer, sheets: list[Sheet], sleeves: Sequence[Sleeve]) -> Iterator[Finding]:
    """Cut the hole of each sleeve in the one of a face's sheets that holds all of it; a finding where none does."""
    for sleeve in sleeves:
        x, y, diameter = sleeve.hole(face.z0, face.z1)
        place = next((n for n, sheet in enumerate(sheets) if _holds(sheet, x, y, diameter / 2)), None)
        if place is None:
            yield _on_joint(label, face, sleeve)
        else:
            sheet = sheets[place]
            x0, y0, _ = sheet.frame.origin
            hole = RoundHole(x - x0, y - y0, diameter, sleeve.id)
            sheets[place] = replace(sheet, round_holes=(*sheet.round_holes, hole))


def _holds(sheet: Sheet, x: float, y: float, radius: float) -> bool:
    """True where a whole hole lies on a sheet."""
    point = shapely.Point(x - sheet.frame.origin[0], y - sheet.frame.origin[1])
    shape = shapely.Polygon(sheet.outline, sheet.cutouts)
    return bool(shape.contains(point)) and bool(shape.boundary.distance(point) > radius)


def _on_joint(label: str, face: Layer, sleeve: Sleeve) -> Finding:
    x, y, _ = sleeve.hole(face.z0, face.z1)
    return Finding(
        "sheet.sleeve",
        Severity.WARN,
        f"sleeve {sleeve.id} does not fall within one sheet of the {face.name}, so it cannot be sealed: move it",
        label,
        (sleeve.id,),
        (x, y, face.z0),
        source="spec sleeves",
    )
