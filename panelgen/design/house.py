"""A spec becomes a house: walls, junctions, panels, and in each panel every part."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from panelgen.catalog import Catalog
from panelgen.design.draft import Draft
from panelgen.design.joints import joints_of
from panelgen.model import Assumption, DesignLoads, House, ShopLimits, Storey, Waiver
from panelgen.spec import HouseSpec
from panelgen.spec.assumptions import defaults_used

__all__ = ["design"]


def design(spec: HouseSpec, catalog: Catalog | None = None) -> House:
    """Design every wall panel of a house.

    What cannot be built as asked becomes a finding of the panel or the house; only bad input raises
    (SpecError, CatalogError).
    """
    draft = Draft.of(spec, catalog)
    panels = draft.panels()
    return House(
        name=spec.house,
        rules=spec.rules,
        limits=ShopLimits(
            spec.shop.line_length, spec.shop.line_height, spec.shop.panel_mass, spec.shop.shortest_member
        ),
        walls=tuple(one.as_run() for one in draft.walls),
        panels=panels,
        runs=draft.requests.runs,
        joints=_joints(panels, draft.meetings),
        assumptions=tuple(Assumption(field, value, source) for field, value, source in defaults_used(spec)),
        findings=draft.findings,
        waivers=tuple(Waiver(w.code, w.part, w.reason, w.decided_by) for w in spec.waivers),
        fittings=draft.requests.fittings,
        interior_board=spec.design.interior_board,
        loads=DesignLoads(spec.design.ground_snow, spec.design.building_width),
        storeys=tuple(Storey(level.id, level.elevation, level.has_floor) for level in spec.levels),
    )


def _joints(panels: Sequence[Panel], meetings: Sequence[Meeting]) -> tuple[Joint, ...]:
    """In-line joints between neighbours of one wall, then the corners and tees, each by the panels that touch there."""
    joints = []
    by_wall: dict[str, list[Panel]] = {}
    for panel in panels:
        by_wall.setdefault(panel.wall, []).append(panel)
    for row in by_wall.values():
        for left, right in itertools.pairwise(row):
            if abs(left.wall_start + left.length - right.wall_start) < 1e-6:
                joints.append(Joint("in line", (left.label, right.label), right.frame.origin))
    for meeting in meetings:
        pair = (_nearest(by_wall, meeting.through, meeting), _nearest(by_wall, meeting.butt, meeting))
        level = next(p for p in by_wall[meeting.through] if p.label == pair[0]).frame.origin[2]
        joints.append(Joint(meeting.kind, pair, (*meeting.at, level)))
    return tuple(joints)


def _nearest(by_wall: dict[str, list[Panel]], wall: str, meeting: Meeting) -> str:
    def distance(panel: Panel) -> float:
        origin, x = panel.frame.origin, panel.frame.x
        along = (meeting.at[0] - origin[0]) * x[0] + (meeting.at[1] - origin[1]) * x[1]
        return max(-along, along - panel.length, 0.0)

    return min(by_wall[wall], key=distance).label
