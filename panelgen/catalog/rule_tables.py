"""Reads the rule tables and puts the rule sets together, each from the tables it names."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import Literal

from panelgen.catalog.headers import HeaderTable
from panelgen.catalog.loading import DataFolder, Record
from panelgen.catalog.lookup import index
from panelgen.catalog.rows import (
    BoreLimit,
    Fastener,
    FlatHeader,
    HeaderCell,
    JointNailing,
    JoistLimits,
    KingStuds,
    Lumber,
    NotchLimit,
    PlateLap,
    PlateTie,
    RoofFraming,
    SheetKind,
    SheetNailing,
    StudLimit,
    UnbracedHeader,
)
from panelgen.catalog.rule_set import RuleSet
from panelgen.catalog.service_rows import DrainSlope, Family, ServiceSeries, ShieldRule, SupportRule
from panelgen.catalog.structure_tables import structure_rules
from panelgen.errors import CatalogError
from panelgen.units import MM_PER_FOOT

__all__ = ["read_rule_sets"]

_NONE = "none"


def read_rule_sets(
    data: DataFolder,
    lumber: Mapping[str, Lumber],
    fasteners: Mapping[str, Fastener],
    series: Mapping[str, ServiceSeries],
) -> dict[str, RuleSet]:
    """Rule sets by name. Raises CatalogError where they name a set, stock, fastener or series that there is not."""
    tables = _Tables(data)
    sets = (
        RuleSet(
            name=row.text("name"),
            title=row.text("title"),
            joints=index((_joint(line, fasteners) for line in tables.rows("joints", row)), lambda joint: joint.joint),
            sheet_nailings=tuple(_sheet_nailing(line, fasteners) for line in tables.rows("sheet_nailing", row)),
            header_table=HeaderTable(
                cells=tuple(_header(line, lumber) for line in tables.rows("headers", row)),
                unbraced=index(
                    (_unbraced(line, lumber) for line in tables.rows("header_unbraced", row)), lambda row: row.stock
                ),
                lumber=lumber,
            ),
            king_studs=tuple(map(_kings, tables.rows("kings", row))),
            bores=index(map(_bore, tables.rows("bores", row)), lambda limit: limit.member),
            notches=index(map(_notch, tables.rows("notches", row)), lambda limit: limit.member),
            studs=tuple(map(_stud, tables.rows("studs", row))),
            shields=index(map(_shield, tables.rows("shields", row)), lambda rule: rule.family),
            supports=tuple(_support(line, series) for line in tables.rows("supports", row)),
            slopes=tuple(map(_slope, tables.rows("slopes", row))),
            joist=_joist(tables.row("joists", row)),
            roof=_roof(tables.row("roofs", row)),
            flat_header=_flat_header(tables.row("flat_headers", row)),
            plate_lap=_plate_lap(tables.row("plate_laps", row)),
            plate_tie=_plate_tie(tables.row("plate_ties", row)),
            structure=structure_rules(partial(tables.rows_of, row), lumber),
        )
        for row in data.records("rule_sets")
    )
    return index(sets, lambda rules: rules.name)


class _Tables:
    """The rule tables, each read once, their lines by set."""

    def __init__(self, data: DataFolder) -> None:
        self._data = data
        self._lines: dict[str, dict[str, list[Record]]] = {}

    def rows(self, table: str, rule_set: Record) -> list[Record]:
        """The lines of `table` that belong to the set the rule set names in the column of that name.

        There are none where it names ``none``.
        """
        name = rule_set.text(table)
        if name == _NONE:
            return []
        if table not in self._lines:
            lines: dict[str, list[Record]] = {}
            for row in self._data.records(table):
                lines.setdefault(row.text("set"), []).append(row)
            self._lines[table] = lines
        if name not in self._lines[table]:
            raise CatalogError(f"rule set {rule_set.text('name')}: {table}.csv has no set {name!r}")
        return self._lines[table][name]

    def rows_of(self, rule_set: Record, table: str) -> list[Record]:
        """As `rows`, the rule set first."""
        return self.rows(table, rule_set)

    def row(self, table: str, rule_set: Record) -> Record:
        """The one line of a table that holds a single row for each set."""
        rows = self.rows(table, rule_set)
        if len(rows) != 1:
            raise CatalogError(f"{table}.csv: set {rule_set.text(table)!r} must be one line, not {len(rows)}")
        return rows[0]


def _joint(row: Record, fasteners: Mapping[str, Fastener]) -> JointNailing:
    return JointNailing(
        joint=row.text("joint"),
        fastener=row.key("fastener", fasteners),
        count=row.count("count"),
        spacing=row.inches("spacing"),
        manner=row.choice("manner", Literal["end", "face", "toe"]),
        **row.citation(),
    )


def _sheet_nailing(row: Record, fasteners: Mapping[str, Fastener]) -> SheetNailing:
    return SheetNailing(
        kind=row.choice("kind", SheetKind),
        thinnest=row.inches("from"),
        thickest=row.inches("up_to"),
        fastener=row.key("fastener", fasteners),
        edge_spacing=row.inches("edge_spacing"),
        field_spacing=row.inches("field_spacing"),
        edge_distance=row.inches("edge_distance"),
        **row.citation(),
    )


def _header(row: Record, lumber: Mapping[str, Lumber]) -> HeaderCell:
    return HeaderCell(
        plies=row.count("plies"),
        stock=row.key("stock", lumber),
        carries=row.text("carries"),
        snow=row.load("snow"),
        building_width=row.feet("width"),
        span=row.length("span"),
        jacks=row.count("jacks"),
        **row.citation(),
    )


def _unbraced(row: Record, lumber: Mapping[str, Lumber]) -> UnbracedHeader:
    return UnbracedHeader(stock=row.key("stock", lumber), factor=row.percent("factor"), **row.citation())


def _kings(row: Record) -> KingStuds:
    return KingStuds(span=row.feet("span"), spacing=row.inches("spacing"), count=row.count("count"), **row.citation())


def _bore(row: Record) -> BoreLimit:
    return BoreLimit(
        member=row.text("member"),
        share=row.percent("share"),
        edge_distance=row.inches("edge_distance"),
        severity=row.choice("severity", Literal["stop", "warn"]),
        remedy=row.text("remedy"),
        successive=row.count_or_any("successive"),
        **row.citation(),
    )


def _notch(row: Record) -> NotchLimit:
    return NotchLimit(member=row.text("member"), share=row.percent("share"), **row.citation())


def _plate_tie(row: Record) -> PlateTie:
    return PlateTie(
        share=row.percent("share"), thickness=row.inches("thickness"), width=row.inches("width"), **row.citation()
    )


def _plate_lap(row: Record) -> PlateLap:
    return PlateLap(offset=row.inches("offset"), **row.citation())


def _flat_header(row: Record) -> FlatHeader:
    return FlatHeader(span=row.feet("span"), **row.citation())


def _roof(row: Record) -> RoofFraming:
    return RoofFraming(single_trimmer=row.inches("single_trimmer"), ladder=row.inches("ladder"), **row.citation())


def _stud(row: Record) -> StudLimit:
    return StudLimit(
        stock=row.text("stock"),
        bearing=row.yes("bearing"),
        storeys_above=row.count_or_any("storeys_above"),
        spacing=row.inches("spacing"),
        height=row.feet("height"),
        **row.citation(),
    )


def _joist(row: Record) -> JoistLimits:
    return JoistLimits(
        notch_depth=row.fraction("notch_depth"),
        notch_length=row.fraction("notch_length"),
        end_notch_depth=row.fraction("end_notch_depth"),
        bore=row.fraction("bore"),
        bore_edge_distance=row.inches("bore_edge"),
        **row.citation(),
    )


def _shield(row: Record) -> ShieldRule:
    return ShieldRule(
        family=row.choice("family", Family),
        edge_distance=row.inches("edge_distance"),
        thickness=row.inches("thickness"),
        past_plate=row.inches("past_plate"),
        **row.citation(),
    )


def _support(row: Record, series: Mapping[str, ServiceSeries]) -> SupportRule:
    return SupportRule(
        series=row.key("series", series),
        largest=row.inches("largest"),
        horizontal=row.inches("horizontal"),
        vertical=row.inches("vertical"),
        from_box=row.inches("from_box"),
        **row.citation(),
    )


def _slope(row: Record) -> DrainSlope:
    """The table gives inches of fall in a foot."""
    return DrainSlope(
        largest=row.inches("largest"),
        least=row.inches("least") / MM_PER_FOOT,
        with_cleanout=row.inches("with_cleanout") / MM_PER_FOOT,
        **row.citation(),
    )
