"""What the rules for services ask besides that no two parts share space."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.catalog import Catalog, RuleSet
from panelgen.checks.box_room import box_room
from panelgen.checks.runs.bend import run_bend
from panelgen.checks.runs.branch import run_branch
from panelgen.checks.runs.clearance import run_clearance
from panelgen.checks.runs.screws import run_screws
from panelgen.checks.runs.slope import run_slope
from panelgen.checks.scene import Scene
from panelgen.model import Finding, House

__all__ = ["service_rules"]


def service_rules(scene: Scene, house: House, rules: RuleSet, catalog: Catalog) -> Iterator[Finding]:
    """Falls, bends, branches, distances between systems, the reach of screws, and the room of boxes.

    Raises CatalogError for an interior board that the catalog lacks.
    """
    yield from run_slope(scene, house, rules)
    yield from run_bend(scene, house, catalog)
    yield from run_branch(scene, house)
    yield from run_clearance(scene, catalog)
    yield from run_screws(scene, house, rules, catalog)
    yield from box_room(scene, catalog)
