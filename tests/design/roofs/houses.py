"""Houses of one storey with a roof, for tests; lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.catalog import Catalog
from panelgen.design import house
from panelgen.design.roofs.assign import roof_briefs, slopes_of
from panelgen.design.roofs.panel import design_roof_panel
from panelgen.model import House, Panel, PanelKind
from panelgen.spec import HouseSpec, loads

__all__ = ["BOX", "ELL", "TEE", "Ring", "house_of", "panels_of", "roofs_of", "spec_of"]

_CATALOG = Catalog.default()

Ring = Sequence[tuple[float, float]]

BOX: Ring = [(0, 0), (10000, 0), (10000, 6000), (0, 6000)]
ELL: Ring = [(0, 0), (10000, 0), (10000, 6000), (6000, 6000), (6000, 11000), (0, 11000)]
TEE: Ring = [(0, 0), (4000, 0), (4000, -5000), (9000, -5000), (9000, 0), (14000, 0), (14000, 7000), (0, 7000)]

_HEAD = """
panelgen: 1
house: Roof
design: {ground_snow: 1.5, building_width: 6000}
shop: {line_length: 7400, line_height: 3100, longest_stock: 7400}
assemblies:
  wall:
    layers:
      - {layer: sheathing, product: osb-7/16, barrier: weather}
      - {layer: framing, stock: 2x6}
      - {layer: sheathing, product: osb-7/16, barrier: air}
  roof:
    layers:
      - {layer: sheathing, product: osb-15/32, barrier: weather}
      - {layer: framing, stock: 2x10, spacing: %s}
      - {layer: sheathing, product: osb-7/16, barrier: air}
levels:
  - id: "1"
    elevation: 0
    height: 2500
    outlines:
      - assembly: wall
        corners:
"""


def spec_of(ring: Ring, roof: str, spacing: str = "24 in") -> HouseSpec:
    """A house over an outline whose walls are w0, w1 and so on; `roof` are the fields of its roof R."""
    corners = "".join(f"          - {{wall: w{n}, at: [{x}, {y}]}}\n" for n, (x, y) in enumerate(ring))
    return loads(_HEAD % spacing + corners + f"roofs:\n  - {{id: R, level: '1', assembly: roof, {roof}}}\n")


def house_of(ring: Ring, roof: str, spacing: str = "24 in") -> House:
    """The house designed."""
    return house.design(spec_of(ring, roof, spacing))


def panels_of(ring: Ring, roof: str, spacing: str = "24 in") -> list[Panel]:
    """The roof panels of a house, designed alone."""
    spec = spec_of(ring, roof, spacing)
    rules = _CATALOG.rules(spec.rules)
    briefs, _, _ = roof_briefs(spec, slopes_of(spec, _CATALOG, rules)[0], _CATALOG, rules, {})
    return [design_roof_panel(brief) for brief in briefs]


def roofs_of(thing: House) -> list[Panel]:
    """The roof panels of a house."""
    return [panel for panel in thing.panels if panel.kind is PanelKind.ROOF]
