"""A spec becomes a house: walls, junctions, panels, and in each panel every part."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.catalog import Catalog
from panelgen.design.draft import Draft
from panelgen.design.joints import joints_of
from panelgen.design.limits import shop_limits
from panelgen.design.services.boxes import lost_sleeves
from panelgen.model import Assumption, DesignLoads, House, Panel, Storey, Waiver
from panelgen.spec import HouseSpec
from panelgen.spec.assumptions import defaults_used
from panelgen.spec.settling import settled

__all__ = ["design", "house_of"]


def design(spec: HouseSpec, catalog: Catalog | None = None) -> House:
    """Design every wall panel of a house.

    What cannot be built as asked becomes a finding of the panel or the house; only bad input raises
    (SpecError, CatalogError).
    """
    spec = settled(spec, catalog)
    draft = Draft.of(spec, catalog)
    return house_of(spec, draft, draft.panels())


def house_of(spec: HouseSpec, draft: Draft, panels: Sequence[Panel]) -> House:
    """The house of a spec from its draft and all of its panels, in the order of the draft."""
    joints, joint_findings = joints_of(panels, draft.meetings, spec.seals, draft.catalog)
    return House(
        name=spec.house,
        rules=spec.rules,
        limits=shop_limits(spec.shop),
        walls=tuple(one.as_run() for one in draft.walls),
        panels=tuple(panels),
        runs=draft.requests.runs,
        joints=joints,
        assumptions=tuple(Assumption(field, value, source) for field, value, source in defaults_used(spec)),
        findings=(*draft.findings, *lost_sleeves(spec, panels), *joint_findings),
        waivers=tuple(Waiver(w.code, w.part, w.reason, w.decided_by) for w in spec.waivers),
        fittings=draft.requests.fittings,
        interior_board=spec.design.interior_board,
        loads=DesignLoads(spec.design.ground_snow, spec.design.building_width),
        partitions=draft.partitions,
        storeys=tuple(Storey(level.id, level.base, level.has_floor) for level in spec.levels),
        trusses=draft.trusses,
    )
