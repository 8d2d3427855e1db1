"""Where a dormer stands on its roof plane: the lines that its walls and its roof follow from."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.catalog import Catalog
from panelgen.design.roofs.planes import RoofPlane
from panelgen.design.walls.plan import layer_stack
from panelgen.geometry.frames import Point2
from panelgen.model import Barrier, Layer, LayerKind
from panelgen.spec import DormerSpec, HouseSpec, RoofOpening

__all__ = ["Dormer"]


@dataclass(frozen=True, slots=True)
class Dormer:
    """A dormer on a plane of a roof. Places are (x along the plane's edge, run inward from the walls below), mm.

    `left`, `right` and `front` are the outer faces of the framing of its walls, `back` the upper edge of its opening
    at the sheathing. `cover` is how thick the sheathing is on which it stands, `lining` how deep the whole
    roof below is, measured plumb. `sealed` says whether the roof below
    carries the air barrier, so that the dormer has to close it: the inner sheathing of its walls
    then lines the opening.
    """

    opening: RoofOpening
    spec: DormerSpec
    plane: RoofPlane
    layers: tuple[Layer, ...]
    left: float
    right: float
    front: float
    back: float
    cover: float
    lining: float
    sealed: bool

    @classmethod
    def of(cls, spec: HouseSpec, plane: RoofPlane, opening: RoofOpening, asked: DormerSpec, catalog: Catalog) -> Dormer:
        """The dormer that is `asked` on an opening of a plane. Raises CatalogError for unknown products."""
        layers = layer_stack(spec.assemblies[asked.walls], catalog)
        below = layer_stack(spec.assemblies[plane.roof.assembly], catalog)
        depth = next(layer.thickness for layer in layers if layer.kind is LayerKind.FRAMING)
        top = max(layer.z1 for layer in below)
        (x, y), (width, length) = opening.at, opening.size
        pitch = plane.pitch
        return cls(
            opening,
            asked,
            plane,
            layers,
            x - width / 2 - depth,
            x + width / 2 + depth,
            pitch.run_at(y - length / 2, top) - depth,
            pitch.run_at(y + length / 2, top),
            top - pitch.depth,
            (top - min(layer.z0 for layer in below)) * pitch.secant,
            any(layer.barrier is Barrier.AIR for layer in below),
        )

    @property
    def id(self) -> str:
        """The id of its opening."""
        return self.opening.id

    @property
    def depth(self) -> float:
        """Depth of the framing of its walls, mm."""
        return next(layer.thickness for layer in self.layers if layer.kind is LayerKind.FRAMING)

    @property
    def inward(self) -> float:
        """How far behind the outer face of its walls' framing their inside is, mm."""
        return self.depth - min(layer.z0 for layer in self.layers)

    @property
    def slope(self) -> float:
        """Rise per run of its own roof."""
        return self.spec.rise / self.spec.run

    @property
    def steepness(self) -> float:
        """Rise per run of the roof that it stands on."""
        return self.plane.pitch.tangent

    @property
    def elevation(self) -> float:
        """House z of the sheathing at the outer face of the front wall's framing."""
        return self.surface(self.front)

    @property
    def plate(self) -> float:
        """House z of the plates that bear its rafters."""
        return self.elevation + self.spec.height

    def surface(self, run: float) -> float:
        """House z of the upper face of the sheathing below at a run."""
        pitch = self.plane.pitch
        return self.plane.frame.origin[2] + run * pitch.tangent + (pitch.depth + self.cover) * pitch.secant

    def place(self, x: float, run: float) -> Point2:
        """The plan of a place, house x and y."""
        (ox, oy, _), (ax, ay, _), (ux, uy, _) = self.plane.frame.origin, self.plane.frame.x, self.plane.frame.y
        cosine = self.plane.pitch.cosine
        return ox + ax * x + ux / cosine * run, oy + ay * x + uy / cosine * run
