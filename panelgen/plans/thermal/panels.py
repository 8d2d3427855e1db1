"""Heat through the opaque part of each panel of the shell, with the framing that is really there.

Rough openings are left out: what their units let through is on the units' labels. The interior board counts where
straps carry it. Straps cross the studs, so each of them meets wood and insulation in the shares of the framing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from panelgen.catalog import Catalog, Fact
from panelgen.catalog.thermal_rows import Conductivity, HeatFlow, SurfaceResistance, ThermalMethod
from panelgen.model import House, LayerKind, Panel, PanelKind
from panelgen.plans.thermal.combine import Limits, Section, limits
from panelgen.plans.thermal.framing import Framing, measure, opaque_area

__all__ = ["PanelThermal", "is_shell", "panel_thermal"]

_M2_PER_MM2 = 1e-6
_MM3_PER_M3 = 1e9
_M_PER_MM = 1e-3
_WOOD = "softwood"
_FLOWS: dict[PanelKind, HeatFlow] = {PanelKind.FLOOR: "down", PanelKind.CEILING: "up", PanelKind.ROOF: "up"}
_OUTSIDE = frozenset({PanelKind.EXTERIOR_WALL, PanelKind.ROOF})


@dataclass(frozen=True, slots=True)
class PanelThermal:
    """What a panel lets through. Areas are m2, shares 0 to 1.

    `area` is the opaque part and `opening_area` the rough openings; `framing` is the share of wood in the framing
    layer, `unfilled` that of voids without insulation. `iso` is by the combined method, `parallel` by parallel paths,
    each with its method's surfaces. `facts` are the values used.
    """

    label: str
    kind: PanelKind
    area: float
    opening_area: float
    framing: float
    unfilled: float
    iso: Limits
    parallel: Limits
    facts: tuple[Fact, ...]

    @property
    def unverified(self) -> bool:
        """True where a value from memory decides something."""
        return any(fact.unverified for fact in self.facts)


def is_shell(panel: Panel) -> bool:
    """Whether a panel stands between inside and outside: exterior walls, roofs, and whatever is insulated."""
    return panel.kind in _OUTSIDE or bool(panel.bays)


def panel_thermal(panel: Panel, house: House, catalog: Catalog) -> PanelThermal:
    """Heat through one panel. Raises CatalogError for a product of which no conductivity is known."""
    framing = measure(panel, panel.framing, opaque_area(panel))
    room = framing.room
    filled = sum(bay.gross_volume for bay in panel.bays) * _MM3_PER_M3
    unfilled = min(1.0, max(0.0, 1.0 - filled / room)) if room > 0.0 else 0.0
    whole = framing.area * framing.depth
    cavity = next((layer for layer in panel.layers if layer.kind is LayerKind.STRAPPING), None)
    straps = 0.0 if cavity is None else measure(panel, cavity, framing.area).share
    iso = _Build.of(panel, house, catalog, "iso-6946", straps)
    parallel = _Build.of(panel, house, catalog, "parallel-path", straps)
    empty = unfilled * room / framing.depth
    return PanelThermal(
        panel.label,
        panel.kind,
        framing.area * _M2_PER_MM2,
        sum(hole.width * hole.height for hole in panel.openings) * _M2_PER_MM2,
        framing.share,
        unfilled * room / whole if whole > 0.0 else 0.0,
        limits(tuple(iso.sections(framing, empty))),
        limits(tuple(parallel.sections(framing, empty))),
        tuple(dict.fromkeys((*iso.facts, *parallel.facts))),
    )


@dataclass(frozen=True, slots=True)
class _Build:
    """A panel's layers by one method: what is the same all over, and what takes turns.

    `outside` and `inside` are resistances from the surfaces to the framing, m2 K/W; `straps` the share of straps in
    the service cavity and the resistances of strap and air there; `fill` is None where nothing is blown in.
    """

    outside: tuple[float, ...]
    inside: tuple[float, ...]
    straps: tuple[float, float, float] | None
    wood: Conductivity
    fill: Conductivity | None
    air: SurfaceResistance
    facts: tuple[Fact, ...]

    @classmethod
    def of(cls, panel: Panel, house: House, catalog: Catalog, method: ThermalMethod, share: float) -> _Build:
        """The layers of a panel whose service cavity, if any, is straps for a `share` of its face."""
        tables = catalog.thermal
        flow = _FLOWS.get(panel.kind, "horizontal")
        outer, inner = tables.surface(method, flow, "outside"), tables.surface(method, flow, "inside")
        air = tables.surface(method, flow, "air space")
        wood = tables.conductivity(_WOOD)
        fill = tables.conductivity(panel.bays[0].product) if panel.bays else None
        facts: list[Fact] = [outer, inner, wood]
        outside, inside = [outer.resistance], [inner.resistance]
        straps = None
        for layer in panel.layers:
            if layer.kind is LayerKind.SHEATHING:
                row = tables.conductivity(layer.product)
                facts.append(row)
                side = outside if layer.z0 >= panel.framing.z1 else inside
                side.append(layer.thickness * _M_PER_MM / row.conductivity)
            elif layer.kind is LayerKind.STRAPPING:
                straps = (share, layer.thickness * _M_PER_MM / wood.conductivity, air.resistance)
                facts.append(air)
        if straps and house.interior_board:
            board = catalog.sheet(house.interior_board)
            row = tables.conductivity(board.name)
            facts.append(row)
            inside.append(board.thickness * _M_PER_MM / row.conductivity)
        facts.append(fill or air)
        return cls(tuple(outside), tuple(inside), straps, wood, fill, air, tuple(facts))

    def sections(self, framing: Framing, empty: float) -> Iterator[Section]:
        """The sections of the panel, of which voids without insulation take `empty` mm2."""
        spaces: list[tuple[float, tuple[float, ...]]] = [(1.0, ())]
        if self.straps is not None:
            share, strap, air = self.straps
            spaces = [(share, (strap,)), (1.0 - share, (air,))]
        for share, through in self._through(framing, empty):
            for part, space in spaces:
                if share * part > 0.0:
                    yield Section(share * part, (*self.outside, *through, *space, *self.inside))

    def _through(self, framing: Framing, empty: float) -> Iterator[tuple[float, tuple[float, ...]]]:
        """Shares of the framing layer, and the resistance of each of its slabs there."""
        wood = tuple(slab * _M_PER_MM / self.wood.conductivity for slab in framing.slabs)
        air = tuple(slab / framing.depth * self.air.resistance for slab in framing.slabs)
        fill = air if self.fill is None else tuple(slab * _M_PER_MM / self.fill.conductivity for slab in framing.slabs)
        for column in framing.columns:
            area = column.area
            if self.fill is not None and not any(column.wood):
                hollow = min(area, empty)
                yield hollow / framing.area, air
                area -= hollow
            solid = zip(column.wood, wood, fill, strict=True)
            yield area / framing.area, tuple(stick if is_wood else other for is_wood, stick, other in solid)
