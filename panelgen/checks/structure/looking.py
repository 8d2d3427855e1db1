"""All structural findings of some panels, or of a whole house."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.catalog import Catalog, RuleSet
from panelgen.checks.scene import Scene
from panelgen.checks.structure.headers import built_headers, headers
from panelgen.checks.structure.load_path import load_paths
from panelgen.checks.structure.spans import spans
from panelgen.checks.structure.sticks import Sticks
from panelgen.checks.structure.studs import studs
from panelgen.model import Finding, House

__all__ = ["structure"]


def structure(scene: Scene, house: House, rules: RuleSet, catalog: Catalog, is_whole: bool) -> Iterator[Finding]:
    """Findings about studs and headers, and of a whole house about spans, bearing and point loads too.

    The latter need the panels below, so they are left out where the scene `is_whole` not. Nothing is found in a house
    without loads.
    """
    if house.loads is None:
        return
    sticks = Sticks.of(scene)
    built = built_headers(sticks, rules.structure.load_path.bearing_gap)
    yield from studs(sticks, house, rules, catalog)
    yield from headers(sticks, built, house, house.loads, rules)
    if is_whole:
        yield from spans(sticks, house.loads, rules)
        yield from load_paths(sticks, built, rules)
