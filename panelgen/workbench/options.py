"""The words that a text field of the spec may hold: products of the catalog, and names that the spec itself gives."""

from __future__ import annotations

from collections.abc import Sequence

from pydantic import BaseModel

from panelgen.catalog import Catalog
from panelgen.spec import HouseSpec
from panelgen.spec.assemblies import FramingLayer, SheathingLayer, StrappingLayer
from panelgen.spec.floors import CeilingSpec, FloorSpec
from panelgen.spec.openings import OpeningSpec
from panelgen.spec.roofs import DormerSpec, RoofSpec
from panelgen.spec.seals import NO_SEAL, SealSpec
from panelgen.spec.services import BackingSpec, BoxSpec, RunSpec
from panelgen.spec.walls import Corner, WallLine
from panelgen.workbench.fields import Options

__all__ = ["options_in"]


_OF_ASSEMBLIES = (Corner, WallLine, FloorSpec, CeilingSpec, RoofSpec, DormerSpec)


def options_in(spec: HouseSpec, catalog: Catalog) -> Options:
    """What to choose from in a spec with a catalog; for every other text field there is no list."""
    stock, species = tuple(catalog.lumber), tuple(catalog.species_by_name)
    lists: dict[tuple[type[BaseModel], str], Sequence[str]] = {
        (FramingLayer, "stock"): stock,
        (FramingLayer, "species"): species,
        (FramingLayer, "insulation"): tuple(catalog.insulations),
        (SheathingLayer, "product"): tuple(catalog.sheets),
        (StrappingLayer, "stock"): stock,
        (StrappingLayer, "species"): species,
        (BackingSpec, "stock"): stock,
        (BoxSpec, "product"): tuple(catalog.boxes),
        (RunSpec, "size"): tuple(catalog.service_sizes),
        (OpeningSpec, "type"): tuple(spec.unit_types),
    }
    lists |= dict.fromkeys([(model, "assembly") for model in _OF_ASSEMBLIES], tuple(spec.assemblies))
    lists |= dict.fromkeys([(DormerSpec, "walls")], tuple(spec.assemblies))
    lists |= dict.fromkeys([(RoofSpec, board) for board in ("ridge", "hip", "valley", "fascia")], stock)
    lists |= dict.fromkeys([(deck, stick) for deck in (FloorSpec, CeilingSpec) for stick in ("rim", "header")], stock)
    lists |= dict.fromkeys([(SealSpec, "air"), (SealSpec, "weather")], (NO_SEAL, *catalog.seals))

    def options(model: type[BaseModel], field: str) -> Sequence[str] | None:
        return lists.get((model, field))

    return options
