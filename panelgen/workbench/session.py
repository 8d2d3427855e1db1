"""A spec being worked on: what it is now, what it was, and what a change made of it. No widget is needed here.

    session = Session.open("house.yaml")
    change = session.edit(("openings", 0, "center"), "5 ft")
    change.new, change.gone                 # findings
    session.undo()
    session.save("house-2.yaml")

Whatever cannot be done raises a PanelgenError that says why, and leaves everything as it was.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from panelgen.errors import BadValueError
from panelgen.model import Finding, House, Panel
from panelgen.proposals import Standing, is_open
from panelgen.proposals.standing import FindingKey, key_of
from panelgen.spec import HouseSpec
from panelgen.spec.lines import Path as FieldPath
from panelgen.workbench.document import Document
from panelgen.workbench.figures import Figures
from panelgen.workbench.redesign import Design
from panelgen.workbench.waysout import Tick, with_ways_out

__all__ = ["Change", "Session"]

_DEEPEST = 200
"""How many steps can be undone."""


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """The spec at one moment, and in words what brought it there."""

    words: str
    document: Document
    design: Design


@dataclass(frozen=True, slots=True)
class Change:
    """From one moment to the next: labels of the panels designed anew, findings that came and that went."""

    words: str
    redone: frozenset[str]
    new: tuple[Finding, ...]
    gone: tuple[Finding, ...]


class Session:
    """A house spec that is edited step by step; every step can be undone."""

    def __init__(self, text: str, name: str = "") -> None:
        """Raises SpecError with every problem of the text."""
        self._begin(Document.of(text, name))

    @classmethod
    def open(cls, path: Path | str) -> Session:
        """The spec in a file. Raises SpecError with every problem of it."""
        session = cls.__new__(cls)
        session._begin(Document.read(path))
        return session

    def _begin(self, document: Document) -> None:
        self._now = self._before = self._saved = _State("opened", document, Design.of(document.spec))
        self._past: list[_State] = []
        self._future: list[_State] = []
        self._trying = False
        self._words = "opened"

    @property
    def document(self) -> Document:
        """The spec as it is written now."""
        return self._now.document

    @property
    def text(self) -> str:
        """The text of the spec now."""
        return self.document.text

    @property
    def spec(self) -> HouseSpec:
        """The spec now."""
        return self.document.spec

    @property
    def house(self) -> House:
        """The house designed from it."""
        return self._now.design.house

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was found of the house, worst first."""
        return self._now.design.findings

    @property
    def design(self) -> Design:
        """All that was made of the spec now."""
        return self._now.design

    @property
    def change(self) -> Change:
        """From the moment before to now."""
        before, now = self._before.design, self._now.design
        kept = set(before.house.panels)
        return Change(
            self._words,
            frozenset(panel.label for panel in now.house.panels if panel not in kept),
            _only_in(now.findings, before.findings),
            _only_in(before.findings, now.findings),
        )

    @property
    def is_saved(self) -> bool:
        """Whether the text is as it was last read or written."""
        return self.text == self._saved.document.text

    @property
    def undoes(self) -> str:
        """What `undo` would take back, empty for nothing."""
        return self._now.words if self._past else ""

    @property
    def redoes(self) -> str:
        """What `redo` would do again, empty for nothing."""
        return self._future[-1].words if self._future else ""

    def figures(self, label: str = "") -> tuple[Figures | None, Figures | None]:
        """Figures of a panel, or of the house, before the last change and now; None where there is no such panel."""
        before, now = (_figures(state.design, label) for state in (self._before, self._now))
        return before, now

    def edit(
        self, path: FieldPath, value: Any, words: str = "", *, trying: bool = False, quick: bool = False
    ) -> Change:
        """Put a value at a path of the spec, as `edit_all` does."""
        return self.edit_all({path: value}, words, trying=trying, quick=quick)

    def edit_all(
        self, values: Mapping[FieldPath, Any], words: str = "", *, trying: bool = False, quick: bool = False
    ) -> Change:
        """Put values at paths of the spec, as one step; what it touches is designed and checked again.

        Values are as in the file: a length is text such as ``7'-6 1/2"``, or a number in the file's unit.

        With `trying`, as while a slider is held, the step takes the place of one tried before and waits for one that
        is meant. With `quick`, only what was designed anew is checked, until `settle` is called.

        Raises SpecError or BadValueError for a value that will not do, CatalogError for an unknown product.
        """
        document = self._base.document
        for path, value in values.items():
            document = document.edited(path, value)
        words = words or ", ".join(f"{path[-1]} {value}" for path, value in values.items())
        return self._step(words, document, trying, quick)

    def apply(self, finding: Finding) -> Change:
        """Make the changes that a finding proposes; `propose` looks for them. Raises BadValueError where none are."""
        if finding.proposal is None or not finding.proposal.changes:
            raise BadValueError("nothing to apply is known for this finding", "look for ways out first")
        return self._step(f"{finding.code}: {finding.proposal.words}", self.document.changed(finding.proposal.changes))

    def waive(self, finding: Finding, reason: str, decided_by: str) -> Change:
        """Write into the spec that a finding is accepted, for a reason, by a person; on the first of its parts.

        Raises BadValueError where the finding is about no part, or the reason or the name is missing.
        """
        if not finding.parts:
            raise BadValueError("this finding is about no single part", "change the spec instead")
        document = self.document.waived(finding.code, finding.parts[0], reason, decided_by)
        return self._step(f"{finding.code} accepted on {finding.parts[0]}", document)

    def propose(self, tick: Tick | None = None, *, only: Collection[Finding] | None = None) -> tuple[Finding, ...]:
        """Look for a way out of every stop finding, or of some `only`; returns the findings, which keep what was found.

        `tick` is told of the progress. Whatever it raises ends the search, and nothing is kept.

        Raises BadValueError where the spec was edited meanwhile, from another thread.
        """
        document = self.document
        design = self._now.design.settled()
        standing = Standing.of(design.spec, design.house, design.findings, design.catalog)
        design = replace(design, findings=with_ways_out(standing, tick, only))
        if self.document is not document:
            raise BadValueError("the spec was edited while ways out were looked for", "look again")
        self._now = replace(self._now, design=design)
        return design.findings

    @property
    def open_stops(self) -> int:
        """How many findings stop a release and are not accepted."""
        return sum(map(is_open, self.findings))

    def settle(self) -> bool:
        """Check the whole house where the last look was quick; whether that finds anything else."""
        design = self._now.design.settled()
        is_news = Counter(map(_said, design.findings)) != Counter(map(_said, self.findings))
        self._now = replace(self._now, design=design)
        return is_news

    def undo(self) -> bool:
        """Go back one step; False where there is none."""
        return self._go(self._past, self._future, f"undone: {self.undoes}")

    def redo(self) -> bool:
        """Take again the step that was taken back last; False where there is none."""
        return self._go(self._future, self._past, f"done again: {self.redoes}")

    def save(self, path: Path | str) -> None:
        """Write the spec, whole or not at all: the text that was read, and in it only what was changed.

        Raises ExportError where it cannot be written.
        """
        self.document.save(path)
        self._saved = self._now

    @property
    def _base(self) -> _State:
        """What the next step starts from: what is only tried does not count."""
        return self._past[-1] if self._trying else self._now

    def _step(self, words: str, document: Document, trying: bool = False, quick: bool = False) -> Change:
        if document.spec == self.spec and not self._trying:  # said in other words at most
            return self.change
        state = _State(words, document, self._now.design.after(document.spec, quick=quick))
        base = self._base
        if not self._trying:
            self._past = [*self._past, base][-_DEEPEST:]
        self._future, self._trying = [], trying
        self._before, self._now, self._words = base, state, words
        return self.change

    def _go(self, source: list[_State], target: list[_State], words: str) -> bool:
        if not source:
            return False
        self._words = words
        target.append(self._now)
        self._before, self._now = self._now, source.pop()
        self._trying = False
        return True


def _figures(design: Design, label: str) -> Figures | None:
    panels: Sequence[Panel | None] = [design.panel(label)] if label else design.house.panels
    present = [panel for panel in panels if panel is not None]
    return Figures.of(present, design.spec.shop.longest_stock) if present else None


def _only_in(findings: Iterable[Finding], others: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings whose like is not among the others; one that a waiver accepts is not like one that stands."""
    known = Counter(map(_known_by, others))
    result = []
    for finding in findings:
        key = _known_by(finding)
        if known[key]:
            known[key] -= 1
        else:
            result.append(finding)
    return tuple(result)


def _known_by(finding: Finding) -> tuple[FindingKey, bool]:
    return key_of(finding), bool(finding.waived_by)


def _said(finding: Finding) -> Finding:
    return replace(finding, proposal=None)
