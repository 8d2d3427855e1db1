"""What no single field can tell: names that point to nothing, and things that cannot be where they are put."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from panelgen.catalog import Catalog
from panelgen.spec.crosscheck.decks import bad_decks
from panelgen.spec.crosscheck.ids import repeated_ids
from panelgen.spec.crosscheck.openings import bad_openings, missing_sills, overlapping_openings
from panelgen.spec.crosscheck.outlines import bad_outlines
from panelgen.spec.crosscheck.products import (
    unknown_board,
    unknown_layer_products,
    unknown_rules,
    unknown_service_products,
    unnailed_sheets,
)
from panelgen.spec.crosscheck.references import unknown_assemblies, unknown_runs, unknown_unit_types, unknown_walls
from panelgen.spec.crosscheck.roofs import bad_roofs, bad_trusses
from panelgen.spec.crosscheck.run_parts import bad_branches, bad_fittings, round_on_edge
from panelgen.spec.crosscheck.services import (
    bad_backing,
    bad_boxes,
    bad_sleeves,
    bad_trades,
    repeated_points,
    runs_outside,
    runs_too_thick,
)
from panelgen.spec.crosscheck.sizes import bad_gables, bad_heights, bad_lengths, overlapping_levels
from panelgen.spec.crosscheck.splits import bad_deck_joints, bad_joints, bad_no_joints, bad_posts, bad_roof_joints
from panelgen.spec.crosscheck.survey import Survey, survey
from panelgen.spec.faults import Fault
from panelgen.spec.house import HouseSpec

__all__ = ["crosscheck"]

_CHECKS: tuple[Callable[[Survey], Iterator[Fault]], ...] = (
    repeated_ids,
    unknown_rules,
    unknown_board,
    unknown_layer_products,
    unnailed_sheets,
    unknown_service_products,
    unknown_assemblies,
    unknown_walls,
    unknown_unit_types,
    unknown_runs,
    overlapping_levels,
    bad_heights,
    bad_lengths,
    bad_gables,
    bad_outlines,
    bad_decks,
    bad_roofs,
    bad_trusses,
    missing_sills,
    bad_openings,
    overlapping_openings,
    bad_joints,
    bad_no_joints,
    bad_posts,
    bad_deck_joints,
    bad_roof_joints,
    repeated_points,
    runs_outside,
    runs_too_thick,
    round_on_edge,
    bad_branches,
    bad_fittings,
    bad_sleeves,
    bad_boxes,
    bad_backing,
    bad_trades,
)


def crosscheck(house: HouseSpec, catalog: Catalog | None = None) -> Iterator[Fault]:
    """Every fault that shows only when parts of a spec are seen together, one by one.

    `catalog`, by default the one of the package, is the one that the shop's own products come on top of.
    """
    seen = survey(house, house.products.over(catalog or Catalog.default()))
    return (fault for check in _CHECKS for fault in check(seen))
