"""How big a hole may be in a stick and how near its edge, by its role, its wall and the rule set."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.catalog import RuleSet
from panelgen.checks.holes.roles import JOISTS, STUDS, TOP_PLATES, is_bearing, is_unruled
from panelgen.model import Member, Panel, Severity

__all__ = ["WITHIN_FACE", "HoleLimit", "hole_limit"]


@dataclass(frozen=True, slots=True)
class HoleLimit:
    """The greatest size of a hole and the least wood to its edge, mm, in one kind of stick."""

    size: float
    edge: float
    source: str
    remedy: str = ""
    severity: Severity = Severity.STOP


WITHIN_FACE = HoleLimit(np.inf, 0.0, "a hole keeps within the wide face")
"""The limit where no rule gives a lower one."""


def hole_limit(member: Member, panel: Panel, rules: RuleSet, doubled: bool = False) -> HoleLimit:
    """The limit for a stick of `panel`; `doubled` says that another stud lies flat against a stud over the hole.

    A top plate may be cut farther where a steel tie is fixed across the cut. The size is 0 where no rule
    allows a hole: in engineered sticks only their maker does.
    """
    if is_unruled(member):
        return HoleLimit(0.0, 0.0, f"{rules.title}: no rule")
    if member.role in STUDS:
        row = rules.stud_bore(bearing=is_bearing(panel), doubled=doubled)
        return HoleLimit(row.share * member.width, row.edge_distance, row.cited, row.remedy, Severity(row.severity))
    if member.role in JOISTS:
        joist = rules.joist
        return HoleLimit(
            joist.bore * member.width, joist.bore_edge_distance, joist.cited, "bore smaller, or lead the run around"
        )
    if member.role in TOP_PLATES and is_bearing(panel):
        return HoleLimit(rules.plate_tie.share * member.width, 0.0, rules.plate_tie.cited)
    return WITHIN_FACE
