"""Findings grouped by cause, so that one wrong drain is one thing to act on and not forty.

The rule, for findings of one code family (the word before the dot) that stand, or that one decision waives:

1. A finding is laid to its parts of the kind blamed first (`PartKind`): to the run rather than to the
   stick it meets, to the opening rather than to the header it lacks. Where the model has none of its
   parts, it is laid to its panel, and without a panel to the house.
2. Where that leaves two parts, as with two runs that cross, the part with the most findings left takes
   them all, then the part with the most of the rest, and so on: one pipe across five cables is one cause.
   Between equals the one that comes first decides.

Groups come worst first, then by panel and by place along and up it; accepted ones last.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from panelgen.model import Finding, House, Panel, Severity
from panelgen.review.parts import PartKind, PartName, name_parts

__all__ = ["FindingGroup", "group_findings"]

_KINDS = {kind: place for place, kind in enumerate(PartKind)}
_SEVERITIES = {severity: place for place, severity in enumerate(Severity)}


@dataclass(frozen=True, slots=True)
class FindingGroup:
    """Findings with one cause, worst first and then by place; there is at least one.

    `severity` is the worst of them; `panels` are the labels they name, in the order of the house.
    """

    family: str
    severity: Severity
    cause: PartName
    findings: tuple[Finding, ...]
    panels: tuple[str, ...]

    @property
    def count(self) -> int:
        """How many findings there are."""
        return len(self.findings)

    @property
    def place(self) -> Finding:
        """The finding to look at first."""
        return self.findings[0]

    @property
    def codes(self) -> tuple[str, ...]:
        """The codes of the findings, each once."""
        return tuple(dict.fromkeys(finding.code for finding in self.findings))

    @property
    def waived_by(self) -> str:
        """The decision that accepts all of them; empty where they stand."""
        return self.place.waived_by


def group_findings(thing: House | Panel, findings: Iterable[Finding]) -> tuple[FindingGroup, ...]:
    """Every finding about a house or a panel in one group, by the rule of this module, in whatever order they come."""
    found = tuple(findings)
    labels = [panel.label for panel in thing.panels] if isinstance(thing, House) else [thing.label]
    panels = {label: place for place, label in enumerate(labels)}
    names = name_parts(thing, {part for finding in found for part in finding.parts}) if found else {}

    def order(finding: Finding) -> tuple[object, ...]:
        place = panels.get(finding.panel, -1)
        return (_SEVERITIES[finding.severity], place, finding.point or (), finding.code, finding.parts, finding.words)

    lots: dict[tuple[str, str], list[Finding]] = {}
    for finding in sorted(found, key=order):
        lots.setdefault((finding.waived_by, finding.code.partition(".")[0]), []).append(finding)
    groups = [
        FindingGroup(family, own[0].severity, cause, tuple(own), _labels(own, panels))
        for (_, family), lot in lots.items()
        for cause, own in _by_cause(lot, names)
    ]
    return tuple(sorted(groups, key=lambda group: (bool(group.waived_by), order(group.place), group.cause.id)))


def _by_cause(findings: Sequence[Finding], names: Mapping[str, PartName]) -> list[tuple[PartName, list[Finding]]]:
    """The findings of one lot under the causes that explain the most of them."""
    left = [(finding, _blamed(finding, names)) for finding in findings]
    causes = []
    while left:
        tally = Counter(name for _, blamed in left for name in blamed)
        cause = max(tally, key=tally.__getitem__)
        causes.append((cause, [finding for finding, blamed in left if cause in blamed]))
        left = [(finding, blamed) for finding, blamed in left if cause not in blamed]
    return causes


def _blamed(finding: Finding, names: Mapping[str, PartName]) -> tuple[PartName, ...]:
    """The parts of the kind blamed first, or the panel, or the house."""
    known = [names[part] for part in dict.fromkeys(finding.parts) if part in names]
    if known:
        first = min(_KINDS[name.kind] for name in known)
        return tuple(name for name in known if _KINDS[name.kind] == first)
    if finding.panel:
        return (PartName(PartKind.PANEL, finding.panel, f"panel {finding.panel}"),)
    return (PartName(PartKind.HOUSE, "", "the house"),)


def _labels(findings: Iterable[Finding], panels: Mapping[str, int]) -> tuple[str, ...]:
    labels = dict.fromkeys(finding.panel for finding in findings if finding.panel)
    return tuple(sorted(labels, key=lambda label: panels.get(label, len(panels))))
