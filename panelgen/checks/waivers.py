"""Waivers: decisions to accept a finding on a part, which show in every report."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from panelgen.model import Finding, Waiver

__all__ = ["apply_waivers"]


def apply_waivers(findings: Iterable[Finding], waivers: Sequence[Waiver]) -> tuple[Finding, ...]:
    """The findings, those marked that a waiver covers: it names their code and one of their parts, exactly.

    A waiver on a stick accepts what is found on that stick; one on a run, what is found on that run.
    """
    decisions = {(waiver.code, waiver.part): waiver for waiver in reversed(waivers)}

    def decided(finding: Finding) -> Finding:
        for part in finding.parts:
            waiver = decisions.get((finding.code, part))
            if waiver is not None:
                return replace(finding, waived_by=f"{waiver.decided_by}: {waiver.reason}")
        return finding

    return tuple(map(decided, findings))
