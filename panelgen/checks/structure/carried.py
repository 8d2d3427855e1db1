"""What a wall carries: the load group of the tables, in words and as assumed line loads."""

from __future__ import annotations

from panelgen.catalog.structure import Strengths
from panelgen.checks.structure.stud_design import LineLoads
from panelgen.model import House, Panel, PanelKind

__all__ = ["LOAD_GROUPS", "carried_words", "line_loads"]

LOAD_GROUPS = ("roof", "roof+1 floor", "roof+2 floors")
"""The load groups of the header tables, by the number of floors above."""

_N_PER_MM_PER_KPA_MM = 1e-3


def carried_words(panel: Panel, house: House) -> str:
    """What stands on the panel's wall, in words."""
    if not panel.bearing:
        return "no load from above"
    floors = house.floors_above(panel.level)
    return f"the roof and {floors} floor{'' if floors == 1 else 's'}" if floors else "the roof"


def line_loads(panel: Panel, house: House, strengths: Strengths) -> LineLoads:
    """Assumed loads on a bearing wall, N/mm: the roof spans the building, floors bear on a wall midway too.

    An exterior wall takes half of the roof and a quarter of each floor, an interior one half of each floor.
    Without loads in the house there are none.
    """
    if house.loads is None:
        return LineLoads(0.0, 0.0, 0.0)
    width = house.loads.building_width * _N_PER_MM_PER_KPA_MM
    is_outside = panel.kind is PanelKind.EXTERIOR_WALL
    roof = width / 2 if is_outside else 0.0
    floors = house.floors_above(panel.level) * width * (0.25 if is_outside else 0.5)
    return LineLoads(
        dead=roof * strengths.load("roof dead") + floors * strengths.load("floor dead"),
        live=floors * strengths.load("floor live"),
        snow=roof * house.loads.ground_snow,
    )
