"""Findings: what a check or a design rule has to say about a part, never an exception."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from panelgen.geometry.frames import Vec3

__all__ = ["Change", "Finding", "Proposal", "Severity", "SpecValue", "Waiver", "worst_first"]


class Severity(StrEnum):
    """`stop` blocks a release, `warn` wants a decision, `note` informs."""

    STOP = "stop"
    WARN = "warn"
    NOTE = "note"


SpecValue = float | int | str | None | tuple["SpecValue", ...]
"""A value of the spec as its model holds it: lengths in mm, lists as tuples."""


@dataclass(frozen=True, slots=True)
class Change:
    """One edit of the spec: what stands at `path`, keys and places from its root, before and after."""

    path: tuple[str | int, ...]
    old: SpecValue
    new: SpecValue


@dataclass(frozen=True, slots=True)
class Proposal:
    """A way out of a finding. `cost` is how far anything moves, mm, with an allowance for another layer.

    Where `changes` are given, they were designed and checked: the finding is gone and no new one came.
    Without them it is a decision that only a person can take.
    """

    words: str
    changes: tuple[Change, ...] = ()
    cost: float = 0.0


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault or remark, with the place, the number measured and the limit it broke.

    `parts` are part ids; `point` is in panel coordinates and `house_point` in house coordinates,
    both mm; `value` and `limit` are in `unit`; `source` names the code or spec field behind `limit`.
    """

    code: str
    severity: Severity
    words: str
    panel: str = ""
    parts: tuple[str, ...] = ()
    point: Vec3 | None = None
    house_point: Vec3 | None = None
    value: float | None = None
    limit: float | None = None
    unit: str = "mm"
    source: str = ""
    waived_by: str = ""
    proposal: Proposal | None = None


@dataclass(frozen=True, slots=True)
class Waiver:
    """A decision to accept one finding on one part; it never covers another part."""

    code: str
    part: str
    reason: str
    decided_by: str


_ORDER = {Severity.STOP: 0, Severity.WARN: 1, Severity.NOTE: 2}


def worst_first(findings: list[Finding]) -> tuple[Finding, ...]:
    """Findings by severity, then panel, code and parts: the same order on every run."""
    return tuple(sorted(findings, key=lambda f: (_ORDER[f.severity], f.panel, f.code, f.parts, f.point or ())))
