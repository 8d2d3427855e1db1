"""Reads the structural tables: those of a rule set, and the design values of lumber."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from panelgen.catalog.loading import DataFolder, Record
from panelgen.catalog.lookup import index
from panelgen.catalog.rows import Lumber, Species
from panelgen.catalog.structure import Strengths, StructureRules
from panelgen.catalog.structure_rows import (
    Adjustment,
    BearingLength,
    BearingWallRule,
    DeckOpeningRule,
    DesignLoad,
    DesignValues,
    LoadPathRule,
    MemberSpan,
    RafterTieRule,
    RoofBeamRule,
    SizeFactor,
    SpanUse,
    TableWood,
)

__all__ = ["read_strengths", "structure_rules"]


def structure_rules(rows: Callable[[str], list[Record]], lumber: Mapping[str, Lumber]) -> StructureRules:
    """The structural tables of one rule set; `rows` gives the lines of a table that belong to it."""
    (path,), (wall,), (opening,) = rows("load_paths"), rows("bearing_walls"), rows("deck_openings")
    (tie,), (beam,) = rows("rafter_ties"), rows("roof_beams")
    return StructureRules(
        spans=_spans([_span(row, lumber) for row in rows("spans")]),
        bearings=index(map(_bearing, rows("bearings")), lambda row: row.member),
        load_path=LoadPathRule(reach=path.inches("reach"), bearing_gap=path.inches("bearing_gap"), **path.citation()),
        bearing_wall=BearingWallRule(offset=wall.number("offset_depths"), plies=wall.count("plies"), **wall.citation()),
        deck_opening=DeckOpeningRule(
            single_header=opening.feet("single_header"),
            single_trimmer=opening.feet("single_trimmer"),
            **opening.citation(),
        ),
        rafter_tie=RafterTieRule(spacing=tie.inches("spacing"), height=tie.fraction("height"), **tie.citation()),
        roof_beam=RoofBeamRule(
            least_slope=beam.fraction("least_slope"), brace_slope=beam.number("brace_slope"), **beam.citation()
        ),
        woods=tuple(map(_wood, rows("woods"))),
    )


def read_strengths(data: DataFolder, lumber: Mapping[str, Lumber], species: Mapping[str, Species]) -> Strengths:
    """Design values, size factors, assumed loads and adjustments."""
    values = [_values(row, species) for row in data.records("design_values")]
    sizes = [_size(row, lumber) for row in data.records("size_factors")]
    return Strengths(
        values={(row.species, row.lumber_grade): row for row in values},
        sizes={(row.lumber_grade, row.stock): row for row in sizes},
        loads=index(map(_load, data.records("design_loads")), lambda row: row.name),
        adjustments=index(map(_adjustment, data.records("adjustments")), lambda row: row.name),
    )


def _spans(cells: Sequence[MemberSpan]) -> dict[tuple[SpanUse, str, str, str], tuple[MemberSpan, ...]]:
    """Cells by what they are for, the lightest and closest first."""
    by_kind: dict[tuple[SpanUse, str, str, str], list[MemberSpan]] = {}
    for cell in sorted(cells, key=lambda cell: (cell.live, cell.spacing)):
        by_kind.setdefault((cell.use, cell.species, cell.lumber_grade, cell.stock), []).append(cell)
    return {kind: tuple(own) for kind, own in by_kind.items()}


def _span(row: Record, lumber: Mapping[str, Lumber]) -> MemberSpan:
    return MemberSpan(
        use=row.choice("use", SpanUse),
        live=row.load("live"),
        dead=row.load("dead"),
        species=row.text("species"),
        lumber_grade=row.text("lumber_grade"),
        stock=row.key("stock", lumber),
        spacing=row.inches("spacing"),
        span=row.length("span"),
        **row.citation(),
    )


def _bearing(row: Record) -> BearingLength:
    return BearingLength(
        member=row.choice("member", Literal["joist", "rafter", "header"]),
        length=row.inches("length"),
        **row.citation(),
    )


def _wood(row: Record) -> TableWood:
    return TableWood(
        table=row.choice("table", Literal["headers"]),
        species=row.text("species"),
        lumber_grade=row.text("lumber_grade"),
        **row.citation(),
    )


def _values(row: Record, species: Mapping[str, Species]) -> DesignValues:
    return DesignValues(
        species=row.key("species", species),
        lumber_grade=row.text("lumber_grade"),
        bending=row.stress("bending"),
        compression=row.stress("compression"),
        across=row.stress("across"),
        modulus=row.stress("modulus"),
        least_modulus=row.stress("least_modulus"),
        **row.citation(),
    )


def _size(row: Record, lumber: Mapping[str, Lumber]) -> SizeFactor:
    return SizeFactor(
        lumber_grade=row.text("lumber_grade"),
        stock=row.key("stock", lumber),
        bending=row.number("bending"),
        compression=row.number("compression"),
        **row.citation(),
    )


def _load(row: Record) -> DesignLoad:
    return DesignLoad(name=row.text("name"), load=row.load("load"), **row.citation())


def _adjustment(row: Record) -> Adjustment:
    return Adjustment(name=row.text("name"), factor=row.number("factor"), **row.citation())
