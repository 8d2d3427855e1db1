"""A first look at the findings of a house of which some panels changed: only those panels are checked.

What the checks say of a panel by itself is taken out as it was and put in as it is. What they say of panels among one
another, or of the house, is left as it was found last: a check of the whole house settles it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import MutableMapping, Sequence
from dataclasses import replace

from panelgen.catalog import Catalog
from panelgen.checks import apply_waivers, check_panels
from panelgen.model import Finding, House, Panel, worst_first

__all__ = ["Alone", "looked_at"]

Alone = MutableMapping[Panel, tuple[Finding, ...]]
"""What was found of panels by themselves, without waivers, so that none is checked twice."""


def looked_at(
    old: House, findings: Sequence[Finding], new: House, redone: frozenset[str], catalog: Catalog, known: Alone
) -> tuple[Finding, ...]:
    """The findings of `new` at a first look, worst first, where `old` had `findings` and only panels `redone` differ.

    Raises CatalogError as the checks do.
    """
    gone, after = Counter(_of(old, redone, catalog, known)), _of(new, redone, catalog, known)
    kept = []
    for finding in map(_bare, findings):
        if gone[finding]:
            gone[finding] -= 1
        else:
            kept.append(finding)
    return worst_first(list(apply_waivers([*kept, *after], new.waivers)))


def _of(house: House, labels: frozenset[str], catalog: Catalog, known: Alone) -> list[Finding]:
    panels = [panel for panel in house.panels if panel.label in labels]
    fresh = [panel for panel in panels if panel not in known]
    found: dict[str, list[Finding]] = {panel.label: [] for panel in fresh}
    for finding in check_panels(fresh, replace(house, waivers=()), catalog) if fresh else ():
        found[finding.panel].append(finding)
    for panel in fresh:
        known[panel] = tuple(found[panel.label])
    return [finding for panel in panels for finding in known[panel]]


def _bare(finding: Finding) -> Finding:
    return replace(finding, waived_by="", proposal=None)
