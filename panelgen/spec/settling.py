"""Heights that the spec leaves to what lies below: where a level stands, and where the plates of a roof are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, TypeVar

from panelgen.catalog import Catalog
from panelgen.spec.assemblies import Assembly
from panelgen.spec.base import SpecModel
from panelgen.spec.floors import DeckSpec
from panelgen.spec.house import HouseSpec
from panelgen.spec.roofs import RoofSpec
from panelgen.spec.walls import Level

__all__ = ["settled"]

_M = TypeVar("_M", bound=SpecModel)


def settled(house: HouseSpec, catalog: Catalog | None = None) -> HouseSpec:
    """The house with every height in it; those that nobody wrote are found anew, and still count as defaults.

    A level stands on the one listed before it, its floor between the two; the first stands at 0. A roof lies on
    the walls of its level, or on the ceiling over them. Products that the catalog lacks count as nothing.
    """
    if all(_is_written(one, "elevation") for one in house.levels) and all(
        _is_written(one, "plate") for one in house.roofs
    ):
        return house
    depths = _Depths(house, house.products.over(catalog or Catalog.default()))
    levels = tuple(_levels(house, depths))
    by_id = {level.id: level for level in levels}
    roofs = tuple(_roof(roof, by_id.get(roof.level), house.ceilings, depths) for roof in house.roofs)
    return _with(house, levels=levels, roofs=roofs)


class _Depths:
    """How much height the deepest of some decks takes up, mm."""

    def __init__(self, house: HouseSpec, catalog: Catalog) -> None:
        self._assemblies = house.assemblies
        self._catalog = catalog

    def of(self, decks: Sequence[DeckSpec], level: str) -> float:
        """That of the decks of a level; 0 where it has none."""
        assemblies = (self._assemblies.get(deck.assembly) for deck in decks if deck.level == level)
        return max((self._depth(assembly) for assembly in assemblies if assembly is not None), default=0.0)

    def _depth(self, assembly: Assembly) -> float:
        stock = self._catalog.lumber.get(assembly.framing.stock)
        layers = (layer for layer in (assembly.outer_sheathing, assembly.inner_sheathing) if layer is not None)
        sheets = (self._catalog.sheets.get(layer.product) for layer in layers)
        return (stock.width if stock else 0.0) + sum(sheet.thickness for sheet in sheets if sheet is not None)


def _levels(house: HouseSpec, depths: _Depths) -> Iterator[Level]:
    top = None
    for level in house.levels:
        stands = level
        if not _is_written(level, "elevation"):
            floor = 0.0 if top is None else depths.of(house.floors, level.id)
            stands = _with(level, elevation=(top or 0.0) + floor)
        top = stands.base + stands.height
        yield stands


def _roof(roof: RoofSpec, level: Level | None, ceilings: Sequence[DeckSpec], depths: _Depths) -> RoofSpec:
    if level is None or _is_written(roof, "plate"):
        return roof
    return _with(roof, plate=level.base + level.height + depths.of(ceilings, level.id))


def _is_written(model: SpecModel, field: str) -> bool:
    return field in model.model_fields_set and getattr(model, field) is not None


def _with(model: _M, **values: Any) -> _M:
    """A copy with other values that nobody wrote down."""
    return type(model).model_construct(model.model_fields_set, **{**dict(model), **values})
