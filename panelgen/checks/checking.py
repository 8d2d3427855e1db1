"""Runs every check over one panel or a whole house.

Each check is a function from a `Scene` (some panels as arrays) to findings, in a module of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from panelgen.catalog import Catalog
from panelgen.checks.device_boxes import device_boxes
from panelgen.checks.extents import part_outside, sheet_sheet
from panelgen.checks.fastening import fastener_edge, fastener_miss, fastener_run
from panelgen.checks.holes.boring import boring
from panelgen.checks.holes.notching import notching
from panelgen.checks.runs.crossing import run_run
from panelgen.checks.runs.joint import run_joint
from panelgen.checks.runs.member import run_member
from panelgen.checks.runs.neighbours import with_strays, with_visitors
from panelgen.checks.runs.opening import run_opening
from panelgen.checks.runs.outside import run_outside
from panelgen.checks.runs.rules import service_rules
from panelgen.checks.runs.sheet import BARRIER_CODES, run_sheet
from panelgen.checks.scene import Scene
from panelgen.checks.shanks import Shanks
from panelgen.checks.shell.barriers import barrier_breaks
from panelgen.checks.shell.insulation import insulation_missing
from panelgen.checks.shell.joint_gaps import joint_gap
from panelgen.checks.shell.setting import set_blocked
from panelgen.checks.shell.shared_space import panel_panel
from panelgen.checks.shell.standing import Standing
from panelgen.checks.shell.transport import too_much_for_the_crane, too_much_for_the_truck
from panelgen.checks.shell.whole_panels import panel_size, panel_too_heavy
from panelgen.checks.sticks import member_member, member_shape, member_short
from panelgen.checks.structure import structure
from panelgen.checks.waivers import apply_waivers
from panelgen.model import Finding, House, Panel, worst_first

__all__ = ["check_house", "check_panel", "check_panels"]


def check_panel(panel: Panel, house: House, catalog: Catalog) -> tuple[Finding, ...]:
    """Findings of one panel, worst first: of its design, and of the checks by the rule set and limits of `house`.

    What its neighbours have to do with it is left to `check_house`. Raises CatalogError for a rule set
    or sleeve that the catalog lacks.
    """
    return check_panels((panel,), house, catalog)


def check_panels(panels: Sequence[Panel], house: House, catalog: Catalog) -> tuple[Finding, ...]:
    """Findings of several panels, each as `check_panel` sees it, worst first; cheaper than one by one.

    They need not stand in one house: several designs of one panel are told apart by their labels.
    """
    findings = [finding for panel in panels for finding in _placed(panel)]
    findings += _checked(Scene.of(panels), house, catalog)
    return worst_first(list(apply_waivers(findings, house.waivers)))


def check_house(house: House, catalog: Catalog) -> tuple[Finding, ...]:
    """Findings of a house, worst first: of its design, of every panel, and of panels against their neighbours.

    Raises CatalogError as `check_panel` does.
    """
    scene = Scene.of(house.panels)
    standing = Standing.of(scene, house.trusses)
    findings = [
        *house.findings,
        *(finding for panel in house.panels for finding in _placed(panel)),
        *_checked(scene, house, catalog, is_whole=True),
        *run_joint(scene, house),
        *panel_panel(standing),
        *joint_gap(standing, house, catalog),
        *barrier_breaks(house, catalog),
        *set_blocked(house),
        *insulation_missing(house),
    ]
    known = {(finding.code, finding.panel, finding.parts) for finding in findings}
    visiting = with_visitors(scene)
    findings += [one for one in run_member(visiting) if (one.code, one.panel, one.parts) not in known]
    for guests in (visiting, with_strays(scene, house)):
        pierced = {(one.panel, one.parts[0]) for one in findings if one.code in BARRIER_CODES}
        findings += [
            one
            for one in run_sheet(guests, catalog)
            if one.code in BARRIER_CODES and (one.panel, one.parts[0]) not in pierced
        ]
    return worst_first(list(apply_waivers(findings, house.waivers)))


def _placed(panel: Panel) -> Iterator[Finding]:
    """The findings of a panel's design, with their places in the house."""
    for finding in panel.findings:
        if finding.point is not None and finding.house_point is None:
            finding = replace(finding, house_point=panel.frame.point(*finding.point))
        yield finding


def _checked(scene: Scene, house: House, catalog: Catalog, is_whole: bool = False) -> Iterator[Finding]:
    """Everything that can be said of panels one by one, and of a whole house how loads come down in it."""
    rules = catalog.rules(house.rules)
    if len(scene.lines):
        yield from run_member(scene)
        yield from run_sheet(scene, catalog)
        yield from run_run(scene)
        yield from run_opening(scene)
        yield from run_outside(scene)
    yield from device_boxes(scene)
    yield from member_member(scene)
    yield from member_shape(scene)
    yield from member_short(scene, house.limits.shortest_member)
    yield from part_outside(scene)
    yield from sheet_sheet(scene)
    yield from boring(scene, rules)
    yield from notching(scene, rules)
    shanks = Shanks.of(scene.panels)
    yield from fastener_run(scene, shanks)
    yield from fastener_miss(scene, shanks)
    yield from fastener_edge(scene, shanks, rules, catalog)
    yield from service_rules(scene, house, rules, catalog)
    yield from structure(scene, house, rules, catalog, is_whole)
    yield from panel_size(scene, house.limits)
    yield from panel_too_heavy(scene, house.limits)
    yield from too_much_for_the_truck(scene, house.limits)
    yield from too_much_for_the_crane(scene, house.limits)
