"""Houses of one storey with a dormer on the slope over their first wall, for tests; lengths in mm if bare."""

from __future__ import annotations

import math

from panelgen.design import house
from panelgen.model import House, Panel
from panelgen.spec import HouseSpec, loads

__all__ = ["FORMS", "dormer_house", "dormer_panels", "dormer_spec"]

FORMS = {
    "shed": "form: shed, height: 1300, rise: 3 in",
    "gable": "form: gable, height: 1300, rise: 8 in",
}
"""A dormer of each form that stands on a slope of 10 in 12."""

_INNER = "      - {layer: sheathing, product: osb-7/16, barrier: air}\n"


def dormer_spec(
    dormer: str,
    *,
    sealed: bool = True,
    opening: str = "at: [5000, 1500], size: [1200, 1200]",
    rise: str = "10 in",
    studs: str = "2x6",
    window: bool = True,
    turn: float = 0.0,
) -> HouseSpec:
    """A house whose roof carries the air barrier, if it is `sealed`, or whose roof is outside of it.

    It is turned in plan by so many radians.
    """
    inner, fill = (_INNER, "") if sealed else ("", ", insulation: null")
    sine, cosine = math.sin(turn), math.cos(turn)
    corners = "\n".join(
        f"          - {{wall: w{n}, at: [{x * cosine - y * sine}, {x * sine + y * cosine}]}}"
        for n, (x, y) in enumerate(((0, 0), (10000, 0), (10000, 8000), (0, 8000)))
    )
    unit = "openings: [{id: DW, wall: DM-front, type: w, center: 740, sill: 400}]" if window else ""
    return loads(f"""
panelgen: 1
house: Dormer
design: {{ground_snow: 1.5, building_width: 6000}}
shop: {{line_length: 7400, line_height: 4200, longest_stock: 7400}}
assemblies:
  wall:
    layers:
      - {{layer: sheathing, product: osb-7/16, barrier: weather}}
      - {{layer: framing, stock: 2x6}}
{_INNER}  cheek:
    layers:
      - {{layer: sheathing, product: osb-7/16, barrier: weather}}
      - {{layer: framing, stock: {studs}{fill}}}
{inner}  roof:
    layers:
      - {{layer: sheathing, product: osb-15/32, barrier: weather}}
      - {{layer: framing, stock: 2x10, spacing: 24 in{fill}}}
{inner}  lid:
    layers:
      - {{layer: sheathing, product: osb-15/32, barrier: weather}}
      - {{layer: framing, stock: 2x6, spacing: 16 in{fill}}}
{inner}levels:
  - id: "1"
    elevation: 0
    height: 2500
    outlines:
      - assembly: wall
        corners:
{corners}
unit_types:
  w: {{kind: window, width: 600, height: 500}}
{unit}
roofs:
  - id: R
    level: "1"
    assembly: roof
    rise: {rise}
    overhang: 400
    openings:
      - {{id: DM, edge: w0, {opening}, kind: dormer, dormer: {{walls: cheek, assembly: lid, {dormer}}}}}
""")


def dormer_house(
    dormer: str, *, sealed: bool = True, rise: str = "10 in", studs: str = "2x6", turn: float = 0.0
) -> House:
    """The house designed."""
    return house.design(dormer_spec(dormer, sealed=sealed, rise=rise, studs=studs, turn=turn))


def dormer_panels(thing: House) -> dict[str, Panel]:
    """The panels of its dormer, by the wall or the roof plane that they are."""
    return {panel.wall.removeprefix("DM-"): panel for panel in thing.panels if panel.dormer}
