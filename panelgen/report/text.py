"""The report as text, no wider than 100 columns wherever the ids it quotes allow."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from panelgen.model import Assumption, Finding, House, Panel, Partition, Severity, Truss
from panelgen.report.totals import FindingCounts, Totals, count_findings, count_parts
from panelgen.units import format_feet_inches, format_length, parse_mass

__all__ = ["CAUTION", "WIDTH", "assumptions_text", "findings_text"]

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
_SPLIT = {"wall": "wall", "floor": "floor field", "ceiling": "ceiling field", "roof": "roof part"}
"""What is split by itself, by kind: a rectangle of a floor or ceiling, a convex part of a roof plane."""

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
        *_supplied(house.trusses),
        *_splits(house.partitions),
        f"Findings: {_counts(count_findings(findings))}",
    ]
    for severity in Severity:
        lines += _section(_HEADS[severity], [finding for finding in standing if finding.severity is severity])
    lines += _section("WAIVED: accepted by a decision in the spec", waived)
    return "\n".join([*lines, "", *textwrap.wrap(CAUTION, WIDTH), ""])


def assumptions_text(assumptions: Sequence[Assumption]) -> str:
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


def _supplied(trusses: Sequence[Truss]) -> list[str]:
    """What comes from others and is in no total."""
    if not trusses:
        return []
    mass = sum(truss.mass for truss in trusses)
    count = f"{len(trusses):,} roof {'truss' if len(trusses) == 1 else 'trusses'}"
    return [f"Supplied beside these: {count}, {mass:,.0f} kg ({mass / _LB:,.0f} lb)"]


def _splits(partitions: Sequence[Partition]) -> list[str]:
    """How walls, floors, ceilings and roofs are split, and which of them cannot be."""
    if not partitions:
        return []
    legal = sum(partition.legal for partition in partitions)
    counts = Counter(partition.kind for partition in partitions)
    kinds = [_count(counts[kind], noun) for kind, noun in _SPLIT.items() if counts[kind]]
    best = f"Splits: the best of {_count(legal, 'legal one')} over {', '.join(kinds)}"
    for partition in partitions:
        if not partition.legal:
            made = _count(partition.panels, "panel")
            best += f"; none is legal for {partition.wall} ({made}, and no split has fewer than {partition.least})"
    return textwrap.wrap(best, WIDTH)


def _counts(counts: FindingCounts) -> str:
    found = [f"{counts.stop} stop", f"{counts.warn} warn", _count(counts.note, "note")]
    return ", ".join([*found, f"{counts.waived} waived"] if counts.waived else found)


def _section(head: str, findings: Sequence[Finding]) -> Iterator[str]:
    """Rows of what and where; findings that say the same of one panel share the lines below their rows."""
    if not findings:
        return
    rows = [(finding.panel or "house", finding.code, _where(finding), _measured(finding)) for finding in findings]
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    fits = sum(widths) + len(_MARGIN) * len(widths) <= WIDTH
    groups: dict[tuple[str, ...], list[Finding]] = {}
    for finding in findings:
        way_out = finding.proposal.words if finding.proposal else ""
        same = (finding.panel, finding.code, finding.words, finding.source, finding.waived_by, way_out)
        groups.setdefault(same, []).append(finding)
    yield ""
    yield head
    shown = None
    for (panel, code, *_), group in groups.items():
        label = "" if panel == shown else panel or "house"
        for finding in group:
            row = (f"{label:{widths[0]}}", f"{code:{widths[1]}}", f"{_where(finding):{widths[2]}}")
            measured = _measured(finding)
            yield (_MARGIN + _MARGIN.join((*row, measured if fits else ""))).rstrip()
            if measured and not fits:
                yield f"{_INDENT}measured: {measured}"
            label = code = ""
        yield from _details(group)
        shown = panel


def _details(group: Sequence[Finding]) -> Iterator[str]:
    first = group[0]
    parts = dict.fromkeys(part for finding in group for part in finding.parts)
    yield from _wrapped(first.words, _INDENT)
    way_out = first.proposal.words if first.proposal else ""
    for name, text in (
        ("parts", ", ".join(parts)),
        ("source", first.source),
        ("way out", way_out),
        ("waived", first.waived_by),
    ):
        if text:
            yield from _wrapped(f"{name}: {text}", _INDENT)


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
