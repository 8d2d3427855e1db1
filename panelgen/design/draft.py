"""A house half designed: what stays as it is when only its runs, boxes and sleeves move.

Walls, junctions, the split into panels and what is asked of each panel follow from the spec's walls and
openings alone. A draft keeps them, so that a moved run costs the design of the panels it touches.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

from panelgen.catalog import Catalog, RuleSet
from panelgen.design.assign import opening_briefs, panel_briefs
from panelgen.design.brief import PanelBrief
from panelgen.design.junctions import Meeting, ResolvedWall, resolve
from panelgen.design.panel import design_panels
from panelgen.design.plan import plan_walls
from panelgen.design.requests import Requests, requests_of
from panelgen.design.roofs.assign import roof_briefs
from panelgen.design.roofs.brief import RoofBrief
from panelgen.design.roofs.panel import design_roof_panel
from panelgen.model import Finding, Panel
from panelgen.spec import HouseSpec

__all__ = ["Draft"]


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """The briefs of all panels of a house and the requests of the trades; `notes` are findings about walls."""

    catalog: Catalog
    rules: RuleSet
    walls: tuple[ResolvedWall, ...]
    meetings: tuple[Meeting, ...]
    briefs: tuple[PanelBrief, ...]
    requests: Requests
    notes: tuple[Finding, ...]
    roofs: tuple[RoofBrief, ...] = ()

    @classmethod
    def of(cls, spec: HouseSpec, catalog: Catalog | None = None) -> Draft:
        """The draft of a house, by default from the shipped catalog. Raises SpecError or CatalogError for bad input."""
        catalog = catalog or spec.products.over(Catalog.default())
        walls: list[ResolvedWall] = []
        meetings: list[Meeting] = []
        notes: list[Finding] = []
        for level in spec.levels:
            settled, met, found = resolve(plan_walls(spec, level, catalog))
            walls.extend(settled)
            meetings.extend(met)
            notes.extend(found)
        requests = requests_of(spec, walls, catalog)
        briefs, found = panel_briefs(spec, walls, opening_briefs(spec), requests.backing, catalog)
        rules = catalog.rules(spec.rules)
        roofs, roof_notes = roof_briefs(spec, catalog, rules)
        notes += [*found, *roof_notes]
        return cls(catalog, rules, tuple(walls), tuple(meetings), briefs, requests, tuple(notes), roofs)

    def with_services(self, spec: HouseSpec) -> Draft:
        """The draft of a spec that differs in runs, boxes and sleeves only. Raises SpecError as `of` does."""
        return replace(self, requests=requests_of(spec, self.walls, self.catalog))

    def panels(self, labels: Collection[str] | None = None) -> tuple[Panel, ...]:
        """Every panel designed, or those with these labels, in the order of the house."""
        briefs = [brief for brief in self.briefs if labels is None or brief.label in labels]
        walls = design_panels(briefs, self.rules, self.requests, self.catalog)
        roofs = (design_roof_panel(brief) for brief in self.roofs if labels is None or brief.label in labels)
        return (*walls, *roofs)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What can be said before any panel is designed: about the walls, and about fittings."""
        return (*self.notes, *self.requests.findings)
