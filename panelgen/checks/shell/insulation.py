"""Panels of the shell without insulation: every square metre behind the air barrier has it, or says why not."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from panelgen.checks.codes import found
from panelgen.envelope.cover import airtight_panels, bare_covers
from panelgen.geometry.frames import Point2
from panelgen.model import Finding, House, Panel

__all__ = ["insulation_missing"]

_MM2_PER_M2 = 1e6
_NONE = (
    "holds no insulation: name one in the framing of its assembly, or leave the barrier out where the shell does not "
    "pass"
)
_SOME = "has voids without insulation: fill them by hand, and look why no bay was made there"


def insulation_missing(house: House) -> Iterator[Finding]:
    """A finding for each panel with the air barrier whose framing holds no insulation, or has voids without it.

    The value is its face without openings, or those voids, m2. Voids too thin to fill are told of by the design.
    Panels that stand in no storey are no shell.
    """
    if not house.storeys:
        return
    for panel in airtight_panels(house):
        if not panel.bays:
            yield _found(panel, _area(panel), (panel.length / 2, panel.height / 2), _NONE)
    for cover in bare_covers(house):
        middle = (cover.panel.length / 2, cover.panel.height / 2)
        yield _found(cover.panel, cover.bare, cover.point or middle, _SOME)


def _found(panel: Panel, area: float, at: Point2, what: str) -> Finding:
    source = "the shell is insulated wherever it is airtight"
    point = (*at, 0.0)
    return found(
        "insulation.missing",
        panel,
        point=point,
        value=area / _MM2_PER_M2,
        limit=0.0,
        unit="m2",
        source=source,
        what=what,
    )


def _area(panel: Panel) -> float:
    """The face of the framing less its openings, mm2."""
    holes = [shapely.box(hole.x0, hole.y0, hole.x1, hole.y1) for hole in panel.openings]
    return float(shapely.Polygon(panel.profile).difference(shapely.union_all(holes)).area)
