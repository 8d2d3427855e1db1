"""The report as text, no wider than 100 columns wherever the ids it quotes allow."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from panelgen.model import Assumption, Finding, House, Panel, Severity
from panelgen.report.totals import FindingCounts, Totals, count_findings, count_parts
from panelgen.units import format_feet_inches, format_length, parse_mass

__all__ = ["CAUTION", "WIDTH", "assumption_text", "findings_text"]

WIDTH = 100

CAUTION = (
    "Prescriptive tables only. panelgen does no structural analysis: have a licensed engineer review the "
    "structure, and let the authority that approves the building decide."
)

_HEADS = {
    Severity.STOP: "STOP: must be solved or waived before the shop builds",
    Severity.WARN: "WARN: wants a decision",
    Severity.NOTE: "NOTE: for information",
}
_LB = parse_mass("1 lb")
_MARGIN = "  "
_INDENT = " " * 6


def findings_text(house: House, panels: Sequence[Panel], findings: Sequence[Finding]) -> str:
    """What was designed and every finding, by severity and then panel, waived ones last; ends in a newline."""
    standing = [finding for finding in findings if not finding.waived_by]
    waived = [finding for finding in findings if finding.waived_by]
    lines = [
        f"{house.name} (rules {house.rules})",
        *_totals(count_parts(panels)),
        f"Findings: {_counts(count_findings(findings))}",
    ]
    for severity in Severity:
        lines += _section(_HEADS[severity], [finding for finding in standing if finding.severity is severity])
    lines += _section("WAIVED: accepted by a decision in the spec", waived)
    return "\n".join([*lines, "", *textwrap.wrap(CAUTION, WIDTH), ""])


def assumption_text(assumptions: Sequence[Assumption]) -> str:
    """Every value that the spec leaves open and that decided something, with its source; ends in a newline."""
    lines = ["Assumptions: values that the spec leaves open"]
    for assumption in assumptions:
        lines += _wrapped(f"{assumption.field}: {assumption.value} [{assumption.source}]", _MARGIN)
    return "\n".join([*lines, ""])


def _totals(totals: Totals) -> list[str]:
    parts = [
        _count(totals.panels, "panel"),
        _count(totals.members, "member"),
        _count(totals.sheets, "sheet"),
        _count(totals.openings, "opening"),
        _count(totals.nails, "nail"),
        _count(totals.runs, "run"),
        f"{totals.mass:,.0f} kg ({totals.mass / _LB:,.0f} lb)",
    ]
    return textwrap.wrap(", ".join(parts), WIDTH)


def _counts(counts: FindingCounts) -> str:
    found = [f"{counts.stop} stop", f"{counts.warn} warn", _count(counts.note, "note")]
    return ", ".join([*found, f"{counts.waived} waived"] if counts.waived else found)


def _section(head: str, findings: Sequence[Finding]) -> Iterator[str]:
    if not findings:
        return
    cells = [(finding.panel or "house", finding.code, _where(finding), _measured(finding)) for finding in findings]
    widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
    fits = sum(widths) + len(_MARGIN) * len(widths) <= WIDTH
    yield ""
    yield head
    for panel, rows in groupby(zip(cells, findings, strict=True), key=lambda row: row[0][0]):
        label = panel
        for (_, code, where, measured), finding in rows:
            row = (f"{label:{widths[0]}}", f"{code:{widths[1]}}", f"{where:{widths[2]}}", measured if fits else "")
            yield (_MARGIN + _MARGIN.join(row)).rstrip()
            yield from _details(finding, "" if fits else measured)
            label = ""


def _details(finding: Finding, measured: str) -> Iterator[str]:
    if measured:
        yield f"{_INDENT}measured: {measured}"
    yield from _wrapped(finding.words, _INDENT)
    if finding.parts:
        yield from _wrapped(f"parts: {', '.join(finding.parts)}", _INDENT)
    if finding.source:
        yield from _wrapped(f"source: {finding.source}", _INDENT)
    if finding.waived_by:
        yield from _wrapped(f"waived: {finding.waived_by}", _INDENT)


def _where(finding: Finding) -> str:
    """Along the panel and up it, in both systems."""
    if finding.point is None:
        return ""
    x, y, _ = finding.point
    return f"{format_feet_inches(x)}, {format_feet_inches(y)} ({x:.0f}, {y:.0f} mm)"


def _measured(finding: Finding) -> str:
    if finding.value is None:
        return ""
    measured = _quantity(finding.value, finding.unit)
    return measured if finding.limit is None else f"{measured}, limit {_quantity(finding.limit, finding.unit)}"


def _quantity(value: float, unit: str) -> str:
    return format_length(value, "mm") if unit == "mm" else f"{value:.4g} {unit}".rstrip()


def _count(number: int, noun: str) -> str:
    return f"{number:,} {noun}{'' if number == 1 else 's'}"


def _wrapped(text: str, indent: str) -> Iterable[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=indent + _MARGIN, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip
