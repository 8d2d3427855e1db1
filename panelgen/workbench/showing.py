"""What the desk shows of a session, as JSON values: controls, figures, what changed, history, charts."""

from __future__ import annotations

from typing import Any

from panelgen.errors import PanelgenError, Problem, SpecError
from panelgen.model import Finding
from panelgen.report.totals import count_findings
from panelgen.workbench.charts import findings_by_kind, mass_per_panel, waste_by_stock
from panelgen.workbench.fields import Control
from panelgen.workbench.figures import Figures
from panelgen.workbench.session import Change, Session

__all__ = ["charts", "control_state", "figure_rows", "problem_words", "said", "stops"]

_MOST_BARS = 12
_MOST_NEWS = 6


def control_state(control: Control) -> dict[str, Any]:
    """A control as the desk draws it."""
    return {
        "id": control.id,
        "label": control.label,
        "kind": {"switch": "choice", "number": "length"}.get(control.kind, control.kind),
        "text": control.text,
        "hint": control.hint,
        "steps": control.steps,
        "place": control.place,
        "choices": ["true", "false"] if control.kind == "switch" else list(control.choices),
        "optional": control.optional,
    }


def figure_rows(before: Figures | None, now: Figures | None) -> list[tuple[str, str, str]]:
    """Name, text now and text before of each figure; a dash where there was no panel."""
    return [(name, _written(now, place), _written(before, place)) for place, name in enumerate(_NAMES)]


def said(change: Change) -> tuple[str, list[tuple[str, str]]]:
    """What was done in words, then findings that came and went, each with ``new`` or ``gone``."""
    count = len(change.redone)
    panels = f"{count} panel{'s' if count != 1 else ''} designed anew" if count else "no panel changed"
    news = [("new", _finding(one)) for one in change.new] + [("gone", _finding(one)) for one in change.gone]
    more = len(news) - _MOST_NEWS
    shown = news[:_MOST_NEWS] + ([("more", f"and {more} more")] if more > 0 else [])
    return f"{change.words}: {panels}", shown


def stops(session: Session) -> str:
    """How many findings stop the house, and of how many a way out is known."""
    ready = sum(bool(finding.proposal and finding.proposal.changes) for finding in session.findings)
    counts = count_findings(session.findings)
    return f"{counts.stop} stop, {counts.warn} warn, {counts.note} note, {counts.waived} waived; {ready} with a way out"


def problem_words(error: PanelgenError) -> str:
    """Why something was not done, in the words of the error, without lines of a file that is not seen here."""
    if isinstance(error, SpecError):
        return " ".join(map(_problem, error.problems))
    return str(error)


def charts(session: Session, panel: str) -> list[tuple[str, str]]:
    """Title and SVG of each chart."""
    house, spec = session.house, session.spec
    return [
        ("Weight per panel, heaviest first", mass_per_panel(house, panel, _MOST_BARS)),
        ("Waste by stock, cut plainly", waste_by_stock(house, spec.shop.longest_stock, spec.unit)),
        ("Findings by kind", findings_by_kind(session.findings)),
    ]


_NAMES = ("weight", "sticks", "sheets", "nails and screws", "insulation", "stick waste", "sheet waste")


def _written(figures: Figures | None, place: int) -> str:
    if figures is None:
        return "–"
    return (
        f"{figures.mass:.1f} kg",
        f"{figures.members}",
        f"{figures.sheets}",
        f"{figures.nails}",
        f"{figures.insulation:.1f} kg",
        f"{100 * figures.stick_waste:.1f} %",
        f"{100 * figures.sheet_waste:.1f} %",
    )[place]


def _problem(problem: Problem) -> str:
    field, remedy = problem.field.rpartition(".")[2], problem.remedy
    return f"{field}{': ' if field else ''}{problem.message}. {remedy[:1].upper()}{remedy[1:]}."


def _finding(finding: Finding) -> str:
    accepted = ", accepted" if finding.waived_by else ""
    return f"{finding.panel or 'house'} {finding.severity}{accepted}: {finding.words}"
