"""A house designed and checked, and the next one after a change of its spec: only what the change touches is redone.

What a panel is asked to be is its brief, with the runs, boxes and sleeves that come near it. Panels of which none of
that changed are kept. Where the change goes further than panels, as with another height, the whole house is redone.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from weakref import WeakKeyDictionary

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design import design
from panelgen.design.draft import Draft
from panelgen.model import Assumption, Finding, House, Panel, Waiver
from panelgen.spec import HouseSpec
from panelgen.spec.assumptions import defaults_used
from panelgen.workbench.recheck import Alone, looked_at
from panelgen.workbench.touched import stand_alike, touched

__all__ = ["Design"]

_PARTS = frozenset({"assemblies", "unit_types", "openings", "runs", "sleeves", "boxes", "backing", "waivers", "levels"})
"""What of a spec may change while the rest of the house can be kept."""

_MOST = 0.5
"""Share of the panels from which on checking only those is no gain."""


@dataclass(frozen=True, slots=True, eq=False)
class Design:
    """A spec with its draft, house and findings; `redone` are labels of the panels designed since the design before.

    Findings of a design that is not `is_settled` are those of a first look.
    """

    spec: HouseSpec
    catalog: Catalog
    draft: Draft
    house: House
    findings: tuple[Finding, ...]
    redone: frozenset[str]
    is_settled: bool = True
    alone: Alone = field(default_factory=WeakKeyDictionary, repr=False)

    @classmethod
    def of(cls, spec: HouseSpec) -> Design:
        """The whole house designed and checked. Raises SpecError and CatalogError for bad input."""
        catalog = spec.products.over(Catalog.default())
        house = design(spec, catalog)
        labels = frozenset(panel.label for panel in house.panels)
        return cls(spec, catalog, Draft.of(spec, catalog), house, check_house(house, catalog), labels)

    def after(self, spec: HouseSpec, *, quick: bool = False) -> Design:
        """The design of a spec that differs a little; `quick` checks only what was redone, where that is a gain.

        Raises SpecError and CatalogError for bad input.
        """
        if any(
            getattr(spec, name) != getattr(self.spec, name) for name in HouseSpec.model_fields if name not in _PARTS
        ):
            return Design.of(spec)
        draft = Draft.of(spec, self.catalog)
        if not stand_alike(self.draft, draft):
            return Design.of(spec)
        redone = touched(self.draft, draft)
        panels = {panel.label: panel for panel in draft.panels(redone)} if redone else {}
        house = replace(
            self.house,
            panels=tuple(panels.get(panel.label, panel) for panel in self.house.panels),
            runs=draft.requests.runs,
            fittings=draft.requests.fittings,
            findings=draft.findings,
            assumptions=tuple(Assumption(field, value, source) for field, value, source in defaults_used(spec)),
            waivers=tuple(Waiver(w.code, w.part, w.reason, w.decided_by) for w in spec.waivers),
        )
        is_settled = not quick or len(redone) > _MOST * len(house.panels)
        findings = (
            check_house(house, self.catalog)
            if is_settled
            else looked_at(self.house, self.findings, house, redone, self.catalog, self.alone)
        )
        return replace(
            self, spec=spec, draft=draft, house=house, findings=findings, redone=redone, is_settled=is_settled
        )

    def settled(self) -> Design:
        """The same with every check of the whole house made."""
        return (
            self if self.is_settled else replace(self, findings=check_house(self.house, self.catalog), is_settled=True)
        )

    def panel(self, label: str) -> Panel | None:
        """The panel with that label, if there is one."""
        return next((panel for panel in self.house.panels if panel.label == label), None)
