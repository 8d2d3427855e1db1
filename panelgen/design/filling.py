"""What fills panels once their sticks stand and are bored: insulation, shields and supports."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from panelgen.catalog import RuleSet
from panelgen.design.bays.insulation import bays
from panelgen.design.numbering import mark_bays
from panelgen.design.services.holes import Holes
from panelgen.design.services.shields import shields
from panelgen.design.services.supports import supports
from panelgen.design.unfinished import Unfinished
from panelgen.model import Bay, Finding, Hardware

__all__ = ["Filling", "fillings"]


@dataclass(frozen=True, slots=True)
class Filling:
    """The marked bays, the shields and supports of a panel, and what was found about its bays."""

    bays: tuple[Bay, ...]
    hardware: tuple[Hardware, ...]
    findings: tuple[Finding, ...]


def fillings(panels: Sequence[Unfinished], rules: RuleSet) -> list[Filling]:
    """The filling of each panel."""
    holes = Holes.of([panel.members for panel in panels])
    return [
        Filling(mark_bays(panel.brief.label, insulated), (*plates, *held), findings)
        for panel, (insulated, findings), plates, held in zip(
            panels, bays(panels), shields(panels, holes, rules), supports(panels, holes, rules), strict=True
        )
    ]
