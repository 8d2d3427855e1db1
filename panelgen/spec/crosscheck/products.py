"""Products and rule sets that neither the catalog nor the shop has."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from panelgen.spec.assemblies import FramingLayer, LayerSpec, SheathingLayer
from panelgen.spec.crosscheck.survey import Survey
from panelgen.spec.faults import Fault, unknown
from panelgen.spec.lines import Path
from panelgen.spec.seals import NO_SEAL

__all__ = [
    "unknown_board",
    "unknown_layer_products",
    "unknown_rules",
    "unknown_service_products",
    "unnailed_sheets",
]


def unknown_rules(survey: Survey) -> Iterator[Fault]:
    """The rule set the house is checked against."""
    if survey.house.rules not in survey.catalog.rule_sets:
        yield unknown(("rules",), "rule set", survey.house.rules, survey.catalog.rule_sets)


def unknown_board(survey: Survey) -> Iterator[Fault]:
    """The interior board, whose screws the catalog must know."""
    board, known = survey.house.design.interior_board, survey.catalog.services.screw_zones
    if board not in known:
        yield unknown(("design", "interior_board"), "interior board", board, known)


def unknown_layer_products(survey: Survey) -> Iterator[Fault]:
    """Stock, species, sheets and insulation of the assemblies."""
    for name, assembly in survey.house.assemblies.items():
        for n, layer in enumerate(assembly.layers):
            yield from _unknown(("assemblies", name, "layers", n), _named_by(layer, survey))


def unnailed_sheets(survey: Survey) -> Iterator[Fault]:
    """Sheets of assemblies for which the rule set has no nailing: roof decking is nailed by rows of its own."""
    if survey.house.rules not in survey.catalog.rule_sets:
        return
    rules = survey.catalog.rules(survey.house.rules)
    roofs = {roof.assembly for roof in survey.house.roofs}
    for name, assembly in survey.house.assemblies.items():
        for n, layer in enumerate(assembly.layers):
            sheet = survey.catalog.sheets.get(layer.product) if isinstance(layer, SheathingLayer) else None
            if sheet is None:
                continue
            kind = "roof" if name in roofs and layer is assembly.outer_sheathing else sheet.kind
            rows = [row for row in rules.sheet_nailings if row.kind == kind]
            if not any(row.holds(sheet.thickness) for row in rows):
                words = f"rule set {rules.name} has no nailing for {kind} sheets {survey.text(sheet.thickness)} thick"
                thick = ", ".join(f"{survey.text(row.thinnest)} to {survey.text(row.thickest)}" for row in rows)
                remedy = f"choose a sheet that is {thick} thick" if rows else "choose a sheet of another kind"
                yield Fault(("assemblies", name, "layers", n, "product"), words, remedy, repr(sheet.name))


def unknown_service_products(survey: Survey) -> Iterator[Fault]:
    """Sizes of runs, boxes and the wires in them, sleeves, seals and the stock of backing."""
    house, catalog = survey.house, survey.catalog
    for n, run in enumerate(house.runs):
        yield from _unknown(("runs", n), [("size", "service size", run.size, catalog.service_sizes)])
    for n, box in enumerate(house.boxes):
        yield from _unknown(("boxes", n), [("product", "box", box.product, catalog.boxes)])
        for k, wire in enumerate(box.fill.wires if box.fill else ()):
            if wire.gauge not in catalog.wire_volumes:
                gauges = [str(gauge) for gauge in catalog.wire_volumes]
                yield unknown(("boxes", n, "fill", "wires", k, "gauge"), "wire gauge", str(wire.gauge), gauges)
    for n, sleeve in enumerate(house.sleeves):
        yield from _unknown(("sleeves", n), [("product", "sleeve", sleeve.product, catalog.sleeves)])
    for n, seal in enumerate(house.seals):
        named = [(field, "seal", getattr(seal, field), (*catalog.seals, NO_SEAL)) for field in ("air", "weather")]
        yield from _unknown(("seals", n), named)
    for n, backing in enumerate(house.backing):
        yield from _unknown(("backing", n), [("stock", "stock size", backing.stock, catalog.lumber)])


_Named = tuple[str, str, str | None, Iterable[str]]
"""Field, what it names, the name, and the names there are."""


def _named_by(layer: LayerSpec, survey: Survey) -> list[_Named]:
    catalog = survey.catalog
    if isinstance(layer, SheathingLayer):
        return [("product", "sheet product", layer.product, catalog.sheets)]
    sticks: list[_Named] = [
        ("stock", "stock size", layer.stock, catalog.lumber),
        ("species", "species", layer.species, catalog.species_by_name),
    ]
    if isinstance(layer, FramingLayer):
        sticks.append(("insulation", "insulation", layer.insulation, catalog.insulations))
    return sticks


def _unknown(path: Path, named: Iterable[_Named]) -> Iterator[Fault]:
    for field, what, name, known in named:
        if name is not None and name not in known:
            yield unknown((*path, field), what, name, known)
