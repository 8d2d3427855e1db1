"""How much there is of what, over some or all panels of a house."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.model import Finding, Panel, Severity
from panelgen.model.masses import panel_mass

__all__ = ["FindingCounts", "Totals", "count_findings", "count_parts"]


@dataclass(frozen=True, slots=True)
class Totals:
    """Counts of parts; `nails` leaves out those that the crew drives on site; `mass` is wood,
    sheets and insulation, kg."""

    panels: int
    members: int
    sheets: int
    nails: int
    openings: int
    runs: int
    mass: float


@dataclass(frozen=True, slots=True)
class FindingCounts:
    """Findings that stand, by severity, and those that a waiver accepts."""

    stop: int
    warn: int
    note: int
    waived: int


def count_parts(panels: Sequence[Panel]) -> Totals:
    """Totals over `panels`; a run counts once however many of them it crosses."""
    return Totals(
        panels=len(panels),
        members=sum(len(panel.members) for panel in panels),
        sheets=sum(len(panel.sheets) for panel in panels),
        nails=sum(len(nails) for panel in panels for nails in panel.fasteners if not nails.on_site),
        openings=sum(len(panel.openings) for panel in panels),
        runs=len({part.run for panel in panels for part in panel.runs}),
        mass=sum(map(panel_mass, panels)),
    )


def count_findings(findings: Sequence[Finding]) -> FindingCounts:
    """How many findings stand at each severity, and how many are waived."""
    standing = [finding.severity for finding in findings if not finding.waived_by]
    return FindingCounts(
        stop=standing.count(Severity.STOP),
        warn=standing.count(Severity.WARN),
        note=standing.count(Severity.NOTE),
        waived=len(findings) - len(standing),
    )
