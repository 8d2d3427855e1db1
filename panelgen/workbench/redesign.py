"""A house designed and checked, and the next one after a change of its spec: only what the change touches is redone.

What a panel is asked to be is its brief, with the runs, boxes and sleeves that come near it. Panels of which none of
that changed are kept, also where others come or go. Only what every panel hangs on has the whole house redone.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from weakref import WeakKeyDictionary

from panelgen.catalog import Catalog
from panelgen.checks import check_house
from panelgen.design.draft import Draft
from panelgen.design.house import house_of
from panelgen.model import Finding, House, Panel, Waiver
from panelgen.spec import HouseSpec
from panelgen.workbench.recheck import Alone, looked_at
from panelgen.workbench.touched import Difference

__all__ = ["Design"]

_PARTS = frozenset(
    {
        "assemblies", "unit_types", "openings", "runs", "sleeves", "boxes", "backing", "waivers", "levels",
        "floors", "ceilings", "roofs", "trusses", "seals",
    }
)  # fmt: skip
"""What of a spec may change while the rest of the house can be kept."""


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
        draft = Draft.of(spec, catalog)
        house = house_of(spec, draft, draft.panels())
        labels = frozenset(panel.label for panel in house.panels)
        return cls(spec, catalog, draft, house, check_house(house, catalog), labels)

    def after(self, spec: HouseSpec, *, quick: bool = False) -> Design:
        """The design of a spec that differs a little. `quick` looks only at the panels redone: `settled` does the rest.

        Raises SpecError and CatalogError for bad input.
        """
        if any(
            getattr(spec, name) != getattr(self.spec, name) for name in HouseSpec.model_fields if name not in _PARTS
        ):
            return Design.of(spec)
        draft = Draft.of(spec, self.catalog, self.draft)
        difference = Difference.between(self.draft, draft)
        redone = difference.touched
        made = {panel.label: panel for panel in (*self.house.panels, *draft.panels(redone))}
        panels = draft.in_order(made[label] for label in difference.labels)
        if difference.stands_alike:
            house = replace(
                self.house,
                panels=panels,
                runs=draft.requests.runs,
                fittings=draft.requests.fittings,
                waivers=tuple(Waiver(w.code, w.part, w.reason, w.decided_by) for w in spec.waivers),
            )
        else:
            house = house_of(spec, draft, panels)
        findings = looked_at(self.house, self.findings, house, redone, self.catalog, self.alone) if quick else ()
        new = replace(self, spec=spec, draft=draft, house=house, findings=findings, redone=redone, is_settled=False)
        return new if quick else new.settled()

    def settled(self) -> Design:
        """The same with all that is said of the house as a whole: its joints, its defaults, and every check."""
        if self.is_settled:
            return self
        house = house_of(self.spec, self.draft, self.house.panels)
        return replace(self, house=house, findings=check_house(house, self.catalog), is_settled=True)

    def panel(self, label: str) -> Panel | None:
        """The panel with that label, if there is one."""
        return next((panel for panel in self.house.panels if panel.label == label), None)
