"""Looks for the least change of the spec that removes a finding and brings no other, and does so for all of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from panelgen.model import Finding, Proposal, Severity
from panelgen.proposals.candidates import options_for
from panelgen.proposals.options import Option
from panelgen.proposals.run_moves import MANNERS
from panelgen.proposals.standing import FindingKey, Standing, key_of
from panelgen.units import format_length

__all__ = ["MOST_TRIES", "Solved", "decision", "is_open", "solve_all", "way_out"]

MOST_TRIES = 400
"""How many options are designed and checked for one finding before it is left to a person."""

_BATCH = 16
"""How many designs of a panel are checked at once."""

_ROUNDS = 2
"""How often what was left is looked at again, since what barred its way out may have moved."""


@dataclass(frozen=True, slots=True)
class Solved:
    """A finding with the proposal that removes it from the house as it stood when its turn came."""

    finding: Finding
    proposal: Proposal


def way_out(standing: Standing, finding: Finding) -> tuple[Proposal, Standing] | None:
    """The least change that removes a finding and brings no new one, and the house after it; None where none is found.

    Options are tried by how far anything moves, then by how many parts and points do; moves two ways at once come
    last.
    """
    panel = standing.panel(finding.panel)
    if panel is None:
        return None
    for manner in MANNERS:
        for batch in _batches(options_for(standing, panel, finding, manner)[:MOST_TRIES]):
            for k in standing.promising([option.changes for option in batch], finding):
                after = standing.tried(batch[k].changes, finding)
                if after is not None:
                    return Proposal(batch[k].words, batch[k].changes, batch[k].distance), after
    return None


def decision(standing: Standing, finding: Finding) -> Proposal | None:
    """What a person could decide where no change of places helps: words without changes."""
    run = next((part for part in finding.parts if standing.run(part) is not None), None)
    panel = standing.panel(finding.panel)
    if finding.code != "barrier.pierced" or run is None or panel is None or finding.point is None:
        return None
    x, y, _ = finding.point
    along, up = (format_length(length, standing.spec.unit) for length in (x + panel.wall_start, y))
    return Proposal(
        f"if run {run} is meant to go through, declare a sealed sleeve for it in wall {panel.wall}, {along} along and "
        f"{up} up: whoever answers for the barrier decides"
    )


def _batches(options: Sequence[Option]) -> Iterator[Sequence[Option]]:
    """The options in order, few at first, since the first ones often do."""
    start, size = 0, 1
    while start < len(options):
        yield options[start : start + size]
        start, size = start + size, min(size * 4, _BATCH)


def solve_all(standing: Standing) -> tuple[Standing, tuple[Solved, ...]]:
    """Every stop finding that has a way out removed, the worst and first in place first; the rest is left.

    Each is looked at in the house as the ones before left it.
    """
    solved: list[Solved] = []
    for _ in range(_ROUNDS):
        before = len(solved)
        tried: set[FindingKey] = set()
        while (finding := _next(standing.findings, tried)) is not None:
            tried.add(key_of(finding))
            found = way_out(standing, finding)
            if found is not None:
                proposal, standing = found
                solved.append(Solved(finding, proposal))
        if len(solved) == before:
            break
    return standing, tuple(solved)


def _next(findings: Iterable[Finding], tried: set[FindingKey]) -> Finding | None:
    """The first stop finding that stands and has not been tried."""
    return next((one for one in findings if is_open(one) and key_of(one) not in tried), None)


def is_open(finding: Finding) -> bool:
    """Whether a way out is wanted: it stops a release, stands, and is in a panel at a place."""
    return (
        finding.severity is Severity.STOP
        and not finding.waived_by
        and bool(finding.panel)
        and finding.point is not None
    )
