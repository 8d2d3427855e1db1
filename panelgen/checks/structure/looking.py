"""All structural findings of some panels, and of a whole house."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.catalog import Catalog, RuleSet
from panelgen.checks.scene import Scene
from panelgen.checks.structure.headers import headers
from panelgen.checks.structure.load_path import load_paths
from panelgen.checks.structure.spans import spans
from panelgen.checks.structure.sticks import Sticks
from panelgen.checks.structure.studs import studs
from panelgen.model import Finding, House

__all__ = ["structure_of_house", "structure_of_panels"]


def structure_of_panels(scene: Scene, house: House, rules: RuleSet, catalog: Catalog) -> Iterator[Finding]:
    """What can be said of panels one by one: studs and headers; nothing where the house has no loads."""
    if house.loads is None:
        return
    sticks = Sticks.of(scene)
    yield from studs(sticks, house, rules, catalog)
    yield from headers(sticks, house, house.loads, rules)


def structure_of_house(scene: Scene, house: House, rules: RuleSet) -> Iterator[Finding]:
    """What panels have to do with those below: spans, bearing, point loads; nothing where the house has no loads."""
    if house.loads is None:
        return
    sticks = Sticks.of(scene)
    yield from spans(sticks, house.loads, rules)
    yield from load_paths(sticks, rules)
