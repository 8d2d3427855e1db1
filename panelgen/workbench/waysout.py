"""Ways out of stop findings, looked for one by one in a search that can be watched and stopped at every try."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, fields, replace

from panelgen.model import Change, Finding
from panelgen.proposals import Standing, decision, is_open, way_out

__all__ = ["Tick", "with_ways_out"]

Tick = Callable[[int, int], None]
"""Told how much of how much is done. It may raise to stop the work."""


@dataclass(frozen=True, slots=True, eq=False)
class _Watched(Standing):
    """A standing that asks before every try whether to go on."""

    go_on: Callable[[], None] = lambda: None

    def promising(self, ways: Sequence[Sequence[Change]], target: Finding) -> list[int]:
        self.go_on()
        return Standing.promising(self, ways, target)

    def tried(self, changes: Sequence[Change], target: Finding) -> Standing | None:
        self.go_on()
        return Standing.tried(self, changes, target)


def with_ways_out(
    standing: Standing, tick: Tick | None = None, only: Collection[Finding] | None = None
) -> tuple[Finding, ...]:
    """The findings of a standing house, each stop finding with the least way out of it, where one is found.

    With `only`, those are looked at and no others.
    """
    wanted = [finding for finding in standing.findings if is_open(finding) and (only is None or finding in only)]
    done = 0

    def tell() -> None:
        if tick is not None:
            tick(done, len(wanted))

    watched = _Watched(**{field.name: getattr(standing, field.name) for field in fields(standing)}, go_on=tell)
    findings = []
    for finding in standing.findings:
        if finding in wanted:
            tell()
            found = way_out(watched, finding)
            proposal = found[0] if found is not None else decision(standing, finding)
            finding = replace(finding, proposal=proposal)
            done += 1
        findings.append(finding)
    tell()
    return tuple(findings)
