"""What all panels of a roof plane are made of."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.framing.sticks import Stock
from panelgen.design.roofs.planes import RoofPlane
from panelgen.design.services.runs import Served, Space
from panelgen.geometry.roof_planes import RoofLine
from panelgen.model import Layer, LayerKind
from panelgen.spec.assemblies import Assembly

__all__ = ["Slope"]

_M3_PER_MM3 = 1e-9


@dataclass(frozen=True, slots=True)
class Slope:
    """What all panels of a plane are made of. `boards` are the stocks along its kinds of line."""

    plane: RoofPlane
    assembly: Assembly
    layers: tuple[Layer, ...]
    rafter: Stock
    boards: dict[RoofLine, Stock]
    catalog: Catalog
    rules: RuleSet

    @property
    def spacing(self) -> float:
        """Rafters on centre, mm."""
        return self.assembly.framing.spacing

    @property
    def served(self) -> Served:
        """The plane as its services see it."""
        pitch, sides = self.plane.pitch, self.plane.sides
        low, high = min(layer.z0 for layer in self.layers), max(layer.z1 for layer in self.layers)
        corners = [pitch.point(side.start, z) for side in sides for z in (low, high)]
        (x0, x1), (y0, y1) = ((min(row), max(row)) for row in list(zip(*corners, strict=True))[:2])
        return Served(self.plane.id, self.rafter.thickness, Space(self.plane.frame, (x0, y0, low), (x1, y1, high)))

    def surface(self, outer: bool) -> float:
        """Mass of the sheathing on a face, kg/mm2; 0 where there is none."""
        faces = [one for one in self.layers if one.kind is LayerKind.SHEATHING and (one.z0 > 0.0) is outer]
        return sum(self.catalog.sheet(one.product).density * one.thickness for one in faces) * _M3_PER_MM3

    @property
    def filling(self) -> float:
        """Density of the insulation, kg/mm3; 0 where there is none."""
        name = self.assembly.framing.insulation
        return self.catalog.insulation(name).density * _M3_PER_MM3 if name else 0.0
