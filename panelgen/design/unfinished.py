"""A panel in the making, as the rooms that fill it see it."""

from __future__ import annotations

from dataclasses import dataclass

from panelgen.design.brief import PanelBrief
from panelgen.model import Box, Finding, Member, RunPart

__all__ = ["Unfinished"]


@dataclass(frozen=True, slots=True, eq=False)
class Unfinished:
    """A panel's brief, its marked sticks, and the runs and boxes in it; `findings` say what was left out of it.

    `plated` is True where top plates close it, in which the next panel's cap plate may lap.
    """

    brief: PanelBrief
    members: tuple[Member, ...]
    runs: tuple[RunPart, ...]
    boxes: tuple[Box, ...] = ()
    findings: tuple[Finding, ...] = ()
    plated: bool = True
