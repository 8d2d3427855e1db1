"""The codes of breaks in the barriers; `codes` explains how a row is used."""

from __future__ import annotations

from panelgen.checks.code import Code
from panelgen.model import Severity

__all__ = ["BARRIERS"]

BARRIERS = (
    Code(
        "air.break",
        Severity.STOP,
        "the airtight line is open along an edge of its sheathing",
        "the {barrier} barrier is open along the {side} edge of the panel: {why}",
    ),
    Code(
        "weather.break",
        Severity.STOP,
        "the weather barrier is open along an edge of its sheathing",
        "the {barrier} barrier is open along the {side} edge of the panel: {why}",
    ),
    Code(
        "air.unclosed",
        Severity.NOTE,
        "the airtight line cannot close, because the spec has no panels overhead",
        "the {barrier} barrier ends at {count} edges of walls: add the ceilings or roofs, and the floors, to the spec",
    ),
    Code(
        "weather.unclosed",
        Severity.NOTE,
        "the weather barrier cannot close, because the spec has no panels overhead",
        "the {barrier} barrier ends at {count} edges of walls: add the ceilings or roofs, and the floors, to the spec",
    ),
)
