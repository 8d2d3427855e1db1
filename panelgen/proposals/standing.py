"""A house as it stands while ways out are tried: its spec, its panels, and every finding.

Many ways out are first tried in the one panel that the finding is in, several designs of it at once. What
looks good there is tried in every panel that the thing moved passes, before or after, and at last in the
whole house: what it solved and what it brought is the difference to the house as it stood.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from panelgen.catalog import Catalog
from panelgen.checks import check_house, check_panels
from panelgen.design.draft import Draft
from panelgen.design.extents import extent_of
from panelgen.errors import CatalogError, SpecError
from panelgen.geometry.frames import Floats
from panelgen.model import Change, Finding, House, Panel, ServiceRun
from panelgen.proposals.changes import changed
from panelgen.spec import BoxSpec, HouseSpec
from panelgen.spec.crosscheck import crosscheck

__all__ = ["FindingKey", "Standing", "brings_new", "key_of"]

FindingKey = tuple[str, str, tuple[str, ...]]
"""Code, panel and parts: what makes two findings of two designs the same."""

_NEAR = 5.0
"""mm. How far outside a run something may still depend on it, such as the clearance of a strap."""


def key_of(finding: Finding) -> FindingKey:
    """What the finding is recognised by in another design of the house."""
    return finding.code, finding.panel, finding.parts


def brings_new(before: Counter[FindingKey], after: Counter[FindingKey]) -> bool:
    """Whether a finding came. One that stood with more parts is not new, such as a hole of two runs, now of one."""
    gone = before - after
    for (code, panel, parts), count in (after - before).items():
        wider = sum(gone[key] for key in gone if key[:2] == (code, panel) and set(parts) < set(key[2]))
        if count > wider:
            return True
    return False


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """A spec with its draft and house; `low` and `high` (p, 3) are the boxes of the panels in the house, mm."""

    spec: HouseSpec
    draft: Draft
    house: House
    catalog: Catalog
    findings: tuple[Finding, ...]
    low: Floats
    high: Floats

    @classmethod
    def of(cls, spec: HouseSpec, house: House, findings: Sequence[Finding], catalog: Catalog | None = None) -> Standing:
        """The house of a spec, designed and checked. Raises SpecError and CatalogError as the design does."""
        draft = Draft.of(spec, catalog)
        boxes = np.array([_box(panel) for panel in house.panels]).reshape(-1, 2, 3)
        return cls(spec, draft, house, catalog or Catalog.default(), tuple(findings), boxes[:, 0], boxes[:, 1])

    def panel(self, label: str) -> Panel | None:
        """The panel with that label."""
        return next((panel for panel in self.house.panels if panel.label == label), None)

    def run(self, id: str) -> ServiceRun | None:
        """The run with that id, in house coordinates."""
        return next((run for run in self.house.runs if run.id == id), None)

    def promising(self, ways: Sequence[Sequence[Change]], target: Finding) -> list[int]:
        """Which of several sets of changes, each on its own, help in the panel of the target: seen quickly.

        What only the whole house shows, such as the fall of a drain, is left to `tried`.
        """
        designs = []
        for k, changes in enumerate(ways):
            try:
                draft = self.draft.with_services(changed(self.spec, changes))
                if draft.splits.spans != self.draft.splits.spans:  # walls are split elsewhere: other panels
                    continue
                designs += [_labelled(panel, f"{k}") for panel in draft.panels({target.panel})]
            except (CatalogError, SpecError):  # what no fitting or depth allows is no way out
                continue
        found = self._alone(designs)
        (before,) = self._alone([panel for panel in self.house.panels if panel.label == target.panel]).values()
        unwanted = (target.code, "", target.parts)
        return [
            int(label)
            for label, after in found.items()
            if not brings_new(before, after) and not (unwanted in before and unwanted in after)
        ]

    def tried(self, changes: Sequence[Change], target: Finding) -> Standing | None:
        """The house after the changes, where they remove the target and bring nothing new; else None."""
        spec = changed(self.spec, changes)
        draft = self.draft.with_services(spec)
        if draft.splits.spans != self.draft.splits.spans:  # walls are split elsewhere: other panels
            return None
        touched = self._touched(spec, draft, changes)
        new = {panel.label: panel for panel in draft.panels(touched)}
        before = self._alone([panel for panel in self.house.panels if panel.label in touched])
        if any(brings_new(before[label], after) for label, after in self._alone(list(new.values())).items()):
            return None
        house = replace(
            self.house,
            panels=tuple(new.get(panel.label, panel) for panel in self.house.panels),
            runs=draft.requests.runs,
            fittings=draft.requests.fittings,
            findings=draft.findings,
            partitions=draft.partitions,
        )
        findings = check_house(house, self.catalog)
        found = Counter(map(key_of, findings))
        if key_of(target) in found or brings_new(Counter(map(key_of, self.findings)), found):
            return None
        if any(crosscheck(spec, self.catalog)):  # it could not be loaded again
            return None
        return replace(self, spec=spec, draft=draft, house=house, findings=findings)

    def _alone(self, panels: Sequence[Panel]) -> dict[str, Counter[FindingKey]]:
        """Keys (without the panel) of what the checks find in each panel by itself, by its label."""
        counts: dict[str, Counter[FindingKey]] = {panel.label: Counter() for panel in panels}
        for finding in check_panels(panels, replace(self.house, runs=(), waivers=()), self.catalog):
            counts[finding.panel][finding.code, "", finding.parts] += 1
        return counts

    def _touched(self, spec: HouseSpec, draft: Draft, changes: Sequence[Change]) -> frozenset[str]:
        """Labels of the panels that anything changed is in or passes, before or after."""
        labels: set[str] = set()
        for kind, place in {change.path[:2]: None for change in changes}:
            index = int(place)
            if kind == "runs":
                labels.update(self._passed(self.house.runs[index]), self._passed(draft.requests.runs[index]))
            else:
                row = getattr(spec, str(kind)), getattr(self.spec, str(kind))
                labels.update(label for rows in row for label in self._holding(rows[index]))
        return frozenset(labels)

    def _passed(self, run: ServiceRun) -> Iterable[str]:
        reach = run.outside_diameter / 2 + _NEAR
        path = np.array(run.path)
        ends = np.stack((path[:-1], path[1:]))
        low, high = ends.min(axis=0) - reach, ends.max(axis=0) + reach
        meets = (low[:, None] <= self.high).all(axis=2) & (high[:, None] >= self.low).all(axis=2)
        return (self.house.panels[k].label for k in np.flatnonzero(meets.any(axis=0)).tolist())

    def _holding(self, thing: BoxSpec) -> Iterable[str]:
        """Panels of the wall that come near a box or a sleeve."""
        x = thing.at[0]
        near = _WIDEST
        for panel in self.house.panels:
            if panel.wall == thing.wall and panel.wall_start - near <= x <= panel.wall_start + panel.length + near:
                yield panel.label


_WIDEST = 600.0
"""mm. Wider than any box: how far from its middle a panel may still have to do with it."""


def _labelled(panel: Panel, label: str) -> Panel:
    return replace(panel, label=label, findings=tuple(replace(one, panel=label) for one in panel.findings))


def _box(panel: Panel) -> tuple[Floats, Floats]:
    """The box of a panel in the house, loose plates and all, mm."""
    right = max((extent_of(member).x1 for member in panel.members), default=panel.length)
    left = min((extent_of(member).x0 for member in panel.members), default=0.0)
    depths = [layer.z0 for layer in panel.layers], [layer.z1 for layer in panel.layers]
    sides = (min(left, 0.0), max(right, panel.length)), (0.0, panel.height), (min(depths[0]), max(depths[1]))
    corners = panel.frame.to_parent(list(product(*sides)))
    return corners.min(axis=0), corners.max(axis=0)
