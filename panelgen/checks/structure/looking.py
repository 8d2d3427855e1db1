"""All structural findings of some panels, or of a whole house."""

from __future__ import annotations

from collections.abc import Iterator

from panelgen.catalog import Catalog, RuleSet
from panelgen.checks.scene import Scene
from panelgen.checks.structure.beams import beams_of
from panelgen.checks.structure.bearing_walls import bearing_walls
from panelgen.checks.structure.bearings import borne_sticks
from panelgen.checks.structure.deck_openings import deck_openings
from panelgen.checks.structure.headers import Built, built_headers, headers
from panelgen.checks.structure.levels import Walls
from panelgen.checks.structure.load_path import load_paths
from panelgen.checks.structure.point_loads import header_loads, trimmer_loads, truss_loads
from panelgen.checks.structure.roof_lines import braces, foot_loads, roof_lines
from panelgen.checks.structure.roof_trimmers import roof_trimmer_loads
from panelgen.checks.structure.spans import spans
from panelgen.checks.structure.sticks import Sticks
from panelgen.checks.structure.studs import studs
from panelgen.checks.structure.thrust import thrust
from panelgen.model import DesignLoads, Finding, House

__all__ = ["structure"]


def structure(scene: Scene, house: House, rules: RuleSet, catalog: Catalog, is_whole: bool) -> Iterator[Finding]:
    """Findings about studs and headers, and of a whole house about spans, bearing and loads from above too.

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
        yield from _coming_down(sticks, built, house, house.loads, rules)


def _coming_down(sticks: Sticks, built: Built, house: House, assumed: DesignLoads, rules: RuleSet) -> Iterator[Finding]:
    """How joists and rafters bear, what holds the roof, and the way of loads to the foundation."""
    walls, beams = Walls.of(sticks), beams_of(sticks)
    borne = list(borne_sticks(sticks, walls, rules))
    yield from spans(borne, assumed, rules)
    yield from thrust(borne, rules)
    yield from bearing_walls(sticks, walls, rules)
    yield from deck_openings(sticks, rules)
    lines = roof_lines(sticks, walls, rules)
    doubts, braced = braces(lines, sticks, walls, rules)
    yield from doubts
    loads = [
        *header_loads(sticks, built),
        *trimmer_loads(sticks, walls, rules),
        *truss_loads(house.trusses, walls, rules),
        *foot_loads(lines, sticks),
        *roof_trimmer_loads(borne, sticks, rules),
        *braced,
    ]
    yield from load_paths(loads, sticks, walls, beams, rules)
