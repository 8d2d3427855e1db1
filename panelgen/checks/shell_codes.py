"""The codes of the shell: breaks in its barriers, panels that do not fit or cannot be set; `codes` explains a row."""

from __future__ import annotations

from panelgen.checks.code import Code
from panelgen.model import Severity

__all__ = ["SHELL"]

SHELL = (
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
    Code(
        "set.blocked",
        Severity.STOP,
        "a panel cannot be set in the order of the site, because one set before it is in the way",
        "the panel can be brought to its place neither from above nor sideways once {other} stands: change the "
        "order or the joints between them",
    ),
    Code(
        "sheet.panel",
        Severity.STOP,
        "a sheet takes the same space as a part of another panel",
        "{member} takes the same space as {other} of panel {neighbour}: cut one of them back or move a panel",
    ),
    Code(
        "truss.blocked",
        Severity.STOP,
        "trusses cannot be lowered to their places, because a panel set before them is in the way",
        "truss {truss} and its row cannot be lowered once this panel stands: make the panel lower, or give the trusses "
        "a level of their own",
    ),
    Code(
        "truss.panel",
        Severity.STOP,
        "a supplied truss takes the same space as a part of a panel",
        "{member} takes the same space as {other}: move the trusses or the panel, or ask their engineer for other ones",
    ),
    Code(
        "joint.gap",
        Severity.STOP,
        "two panels stand farther apart than the crew can close, or than the seals of their joint bridge",
        "{one} and {other} {how} at their {kind} joint: lengthen or move one of them",
    ),
    Code(
        "insulation.missing",
        Severity.WARN,
        "a panel of the shell, airtight, has no insulation, or voids without it",
        "the panel is airtight and {what}",
    ),
)
