"""What a rule set says of spans, bearing and load paths, and what the catalog knows of the strength of lumber."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from panelgen.catalog.lookup import find
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

__all__ = ["Strengths", "StructureRules"]

_TOLERANCE = 1e-6


@dataclass(frozen=True, slots=True, eq=False)
class StructureRules:
    """One code edition's spans, bearing lengths and load path, and the wood that its tables are for.

    `spans` are by use, species, lumber grade and stock, each in the order of load and then spacing.
    """

    spans: Mapping[tuple[SpanUse, str, str, str], tuple[MemberSpan, ...]]
    bearings: Mapping[str, BearingLength]
    load_path: LoadPathRule
    bearing_wall: BearingWallRule
    deck_opening: DeckOpeningRule
    rafter_tie: RafterTieRule
    roof_beam: RoofBeamRule
    woods: tuple[TableWood, ...]

    def span(
        self, use: SpanUse, live: float, species: str, lumber_grade: str, stock: str, spacing: float
    ) -> MemberSpan | None:
        """The cell for members of `stock` at `spacing` mm under a `live` load, kPa.

        The lightest column that is heavy enough and the closest that is wide enough serve; None where the
        table has no such cell.
        """
        for cell in self.spans.get((use, species, lumber_grade, stock), ()):
            if cell.live >= live - _TOLERANCE and cell.spacing >= spacing - _TOLERANCE:
                return cell
        return None

    def live_load(self, use: SpanUse) -> float | None:
        """The lightest live load, kPa, that the tables of this use are printed for; None where there are none."""
        return min((cells[0].live for key, cells in self.spans.items() if key[0] == use), default=None)

    def serves(self, table: str, species: str, lumber_grade: str) -> bool:
        """Whether a table is printed for this wood."""
        return any(
            (wood.table, wood.species, wood.lumber_grade) == (table, species, lumber_grade) for wood in self.woods
        )


@dataclass(frozen=True, slots=True, eq=False)
class Strengths:
    """Design values by (species, lumber grade), size factors by (lumber grade, stock), loads and factors by name."""

    values: Mapping[tuple[str, str], DesignValues]
    sizes: Mapping[tuple[str, str], SizeFactor]
    loads: Mapping[str, DesignLoad]
    adjustments: Mapping[str, Adjustment]

    def load(self, name: str) -> float:
        """An assumed load, kPa. Raises CatalogError for an unknown name."""
        return find(self.loads, name, "design load").load

    def factor(self, name: str) -> float:
        """A factor on design values. Raises CatalogError for an unknown name."""
        return find(self.adjustments, name, "adjustment").factor
