"""Panels of the shell without insulation: every square metre behind the air barrier has it, or says why not."""

from __future__ import annotations

from collections.abc import Iterator

import shapely

from panelgen.checks.codes import found
from panelgen.envelope.surfaces import barrier_layers
from panelgen.model import Barrier, Finding, House, Panel

__all__ = ["insulation_missing"]

_MM2_PER_M2 = 1e6


def insulation_missing(house: House) -> Iterator[Finding]:
    """A finding for each panel with the air barrier whose framing holds no insulation, with its bare area, m2.

    Voids too thin to fill are told of by the design. Panels that stand in no storey are no shell.
    """
    for panel in house.panels if house.storeys else ():
        if any(barrier_layers(panel, Barrier.AIR)) and not panel.bays:
            middle = (panel.length / 2, panel.height / 2, 0.0)
            source = "the shell is insulated wherever it is airtight"
            area = _area(panel) / _MM2_PER_M2
            yield found("insulation.missing", panel, point=middle, value=area, limit=0.0, unit="m2", source=source)


def _area(panel: Panel) -> float:
    """The face of the framing less its openings, mm2."""
    holes = [shapely.box(hole.x0, hole.y0, hole.x1, hole.y1) for hole in panel.openings]
    return float(shapely.Polygon(panel.profile).difference(shapely.union_all(holes)).area)
