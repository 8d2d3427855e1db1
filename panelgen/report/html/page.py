"""The whole page: head, summary, list of causes, each cause, waivers, assumptions, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files

from panelgen.drawing.svg import looks_css
from panelgen.model import Finding, House, Panel, Severity, Waiver
from panelgen.report.html.causes import SIGNS, cause_article, cause_row, picture_key
from panelgen.report.html.markup import definitions, section, table, text
from panelgen.report.text import CAUTION
from panelgen.report.totals import count_findings, count_parts
from panelgen.review.groups import FindingGroup, group_findings
from panelgen.review.parts import name_parts
from panelgen.review.wording import both, quantity_pair

__all__ = ["report_html"]

_HEADS = {
    Severity.STOP: "Stop: must be solved or waived before the shop builds",
    Severity.WARN: "Warn: wants a decision",
    Severity.NOTE: "Note: for information",
}
_WAIVED = "Waived: accepted by a decision in the spec"
_PRACTICE = (
    "Limits are those of the rule set named above, as far as its tables are in the catalog; values marked "
    "unverified were not read in the primary text. Local codes and amendments go before anything said here."
)


def report_html(house: House, panels: Sequence[Panel], findings: Sequence[Finding], tool: str) -> str:
    """The page for `panels` of `house` and their findings, made by version `tool`; ends in a newline."""
    groups = tuple(enumerate(group_findings(house, findings), start=1))
    names = name_parts(house)

    def articles(severity: Severity | None) -> Iterator[str]:
        for number, group in groups:
            if severity is (None if group.waived_by else group.severity):
                yield cause_article(house, names, group, number)

    body = (
        f"<header><h1>{text(house.name)}: findings</h1>",
        f"<p>Rules {text(house.rules)} · {_covered(house, panels)} · panelgen {text(tool)}</p></header><main>",
        section("summary", "Summary", _summary(house, panels, findings, groups)),
        *(section(severity, heading, articles(severity)) for severity, heading in _HEADS.items()),
        section("waived", _WAIVED, articles(None)),
        section("waivers", "Waivers in the spec", _waivers(house.waivers, findings)),
        section("assumptions", "Assumptions: values that the spec leaves open", _assumptions(house)),
        section("cautions", "Cautions", (f"<p>{text(CAUTION)}</p><p>{text(_PRACTICE)}</p>",)),
        "</main>",
    )
    return _document(f"{house.name}: findings", "".join(body))


def _document(title: str, body: str) -> str:
    style = files("panelgen.report.html").joinpath("style.css").read_text(encoding="utf-8")
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f"<title>{text(title)}</title>\n<style>\n{style}{looks_css()}\n</style>\n</head>\n"
        f"<body>\n{body}\n</body>\n</html>\n"
    )


def _covered(house: House, panels: Sequence[Panel]) -> str:
    if len(panels) == len(house.panels):
        return f"all {len(panels)} panels"
    return f"panels {text(', '.join(panel.label for panel in panels))} of {len(house.panels)}"


def _summary(
    house: House, panels: Sequence[Panel], findings: Sequence[Finding], groups: Sequence[tuple[int, FindingGroup]]
) -> Iterator[str]:
    counts, totals = count_findings(findings), count_parts(panels)
    tally = [(severity, getattr(counts, severity)) for severity in Severity]
    yield '<ul class="counts">'
    for severity, count in tally:
        sign = f'<span aria-hidden="true">{SIGNS[severity]}</span>'
        yield f'<li class="{severity if count else "none"}"><b>{count}</b> {sign} {severity}</li>'
    yield f'<li class="none"><b>{counts.waived}</b> waived</li></ul>'
    yield definitions(
        (name, f"{getattr(totals, name):,}") for name in ("panels", "members", "sheets", "openings", "nails", "runs")
    )
    yield f"<p>Wood, sheets and insulation: {text(both(quantity_pair(totals.mass, 'kg')))}.</p>"
    if house.trusses:
        mass = quantity_pair(sum(truss.mass for truss in house.trusses), "kg")
        yield f"<p>Supplied beside these: {len(house.trusses)} roof trusses, {text(both(mass))}.</p>"
    if groups:
        heads = ("Cause", "Severity", "What is wrong", "Panels", "Findings")
        yield table("Findings by cause, worst first", heads, (cause_row(group, number) for number, group in groups))
        yield f"<h3>Key to the pictures</h3>{picture_key()}"
    else:
        yield "<p>Nothing was found.</p>"


def _waivers(waivers: Sequence[Waiver], findings: Sequence[Finding]) -> Iterator[str]:
    def row(waiver: Waiver) -> tuple[str, ...]:
        covered = [one for one in findings if one.waived_by and one.code == waiver.code and waiver.part in one.parts]
        said = (waiver.code, waiver.part, waiver.reason, waiver.decided_by)
        return (*map(text, said), str(len(covered)) if covered else "none: it can be taken out")

    heads = ("Code", "Part", "Reason", "Decided by", "Findings accepted")
    yield table("Decisions to accept a finding on a part", heads, map(row, waivers))


def _assumptions(house: House) -> Iterator[str]:
    rows = ((text(one.field), text(one.value), text(one.source)) for one in house.assumptions)
    yield table("Every default that decided something", ("Field", "Value", "Source"), rows)
