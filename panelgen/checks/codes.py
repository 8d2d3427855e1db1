"""The one table of what the checks can find: stable codes, how grave each is, and what is said about it.

A code never changes its meaning. `words` is a template that the check fills in; it says what is wrong
and what to do, without the numbers, which a finding carries in `value` and `limit`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from panelgen.checks.code import Code
from panelgen.checks.shell_codes import SHELL
from panelgen.checks.structure_codes import STRUCTURE
from panelgen.model import Finding, Member, Panel, Severity

__all__ = ["CODES", "found", "named"]

_STOP, _WARN, _NOTE = Severity.STOP, Severity.WARN, Severity.NOTE

_TABLE = (
    Code(
        "run.member",
        _STOP,
        "a run meets wood: there is no hole, it does not take the run, or the run ends in it",
        "run {run} {how} {member}: move the run, or bore the stick where the rules allow",
    ),
    Code(
        "run.sheet",
        _NOTE,
        "a run goes through sheathing that is no barrier",
        "run {run} goes through the {layer}: cut the sheet there",
    ),
    Code(
        "barrier.pierced",
        _STOP,
        "a run goes through a barrier sheet where no sleeve is declared",
        "run {run} pierces the {layer}, which is the {barrier} barrier: declare a sealed sleeve there, or keep "
        "the run on its own side",
    ),
    Code(
        "barrier.sleeve",
        _STOP,
        "a run goes through a barrier at a sleeve that is not right for it",
        "run {run} goes through the {layer} at sleeve {sleeve}, {why}",
    ),
    Code(
        "run.run",
        _STOP,
        "two runs, or two stretches of one, take the same space",
        "run {run} meets run {other}: move one of them",
    ),
    Code(
        "run.opening",
        _STOP,
        "a run is inside a rough opening",
        "run {run} crosses the rough opening {opening}: lead it around",
    ),
    Code(
        "run.outside",
        _STOP,
        "a run leaves the panel's outline or depth",
        "run {run} sticks out of the panel {side}: move it in",
    ),
    Code(
        "run.joint",
        _STOP,
        "a run that goes on beyond its panel does not meet its continuation",
        "run {run} leaves the panel and is not taken up by the next: make both sides meet",
    ),
    Code(
        "run.slope",
        _STOP,
        "a drain rises against its flow or falls too little, or a vent sags",
        "run {run} {how}: set its ends so that it falls evenly",
    ),
    Code(
        "run.bend",
        _STOP,
        "a run is bent tighter than its size allows, or has no room for its bends",
        "run {run} {why}: set its corners farther apart, or use an elbow",
    ),
    Code(
        "run.branch",
        _STOP,
        "a branch does not start on the run it branches off",
        "run {run} branches off run {trunk} and does not start on it: lead it there",
    ),
    Code(
        "run.clearance",
        _WARN,
        "runs of two systems are nearer to each other than the systems should be",
        "run {run} ({system}) is too near run {other} ({others}): move one of them",
    ),
    Code(
        "run.screws",
        _STOP,
        "screws of the interior board can hit a run that no steel plate covers",
        "run {run} is within reach of the board's screws at {member}: add a shield plate, or move it deeper in",
    ),
    Code(
        "box.fill",
        _STOP,
        "what is in a box takes more room than the box has",
        "box {box} is too full: use a deeper box, or lead wires elsewhere",
    ),
    Code(
        "box.back",
        _STOP,
        "there is less clear depth behind a box than is asked for",
        "box {box} has too little room behind it: use a shallower box or a deeper cavity",
    ),
    Code(
        "box.member",
        _STOP,
        "a device box takes the same space as a stick",
        "box {box} sits in {member}: move the box, or cut the stick",
    ),
    Code(
        "box.sheet",
        _STOP,
        "a device box cuts into a barrier sheet",
        "box {box} cuts into the {layer}, which is the {barrier} barrier: use a shallower box or a deeper cavity",
    ),
    Code(
        "box.run",
        _STOP,
        "a run passes through a device box instead of ending at it",
        "run {run} passes through box {box}: lead it around, or end it there",
    ),
    Code("box.box", _STOP, "two device boxes take the same space", "box {box} overlaps box {other}: move one of them"),
    Code(
        "box.opening",
        _STOP,
        "a device box is inside a rough opening",
        "box {box} is in the rough opening {opening}: move it",
    ),
    Code(
        "member.member",
        _STOP,
        "two sticks take the same space",
        "{member} and {other} take the same space: shorten or move one of them",
    ),
    Code(
        "member.short",
        _WARN,
        "a stick is shorter than the shop can cut and hold",
        "{member} is shorter than the shop makes: join it to its neighbour, or leave it out",
    ),
    Code(
        "member.shape",
        _STOP,
        "the cuts or notches of a stick leave no wood at one end or in its middle",
        "{member} is cut through: its ends or notches leave nothing between them",
    ),
    Code(
        "sheet.sheet",
        _STOP,
        "two sheets of one layer overlap",
        "two sheets of the {layer} overlap: trim one of them",
    ),
    Code(
        "part.outside",
        _STOP,
        "a stick or sheet lies outside its layer or the panel's outline",
        "{part} sticks out of {place}: trim or move it",
    ),
    Code(
        "bore.size",
        _STOP,
        "a hole takes more of a stick's width than the rule set allows",
        "the hole in {member} is too big: {remedy}",
    ),
    Code(
        "bore.edge",
        _STOP,
        "too little wood is left between a hole and the edge of a stick",
        "the hole in {member} is too near its edge: move the run toward the middle of the stick",
    ),
    Code(
        "bore.end",
        _STOP,
        "a hole breaks out of the end of a stick",
        "the hole in {member} breaks out of its end: move the run along the stick",
    ),
    Code(
        "bore.face",
        _STOP,
        "a hole does not go through the wide face of a stick",
        "the hole in {member} does not go through its wide face, where holes are allowed: turn the run",
    ),
    Code(
        "bore.overlap",
        _WARN,
        "two holes in a stick run into each other and count as one",
        "holes in {member} run into each other: set the runs farther apart",
    ),
    Code(
        "bore.notch",
        _STOP,
        "a hole is in the same section as a cut or notch",
        "the hole in {member} is in the same section as a notch: move one of them along the stick",
    ),
    Code(
        "bore.successive",
        _STOP,
        "too many doubled studs in a row are bored beyond the limit of a single one",
        "run {run} bores too many doubled studs in a row this wide: use a smaller run, or the service cavity",
    ),
    Code(
        "bore.plate",
        _STOP,
        "a top plate is cut so far that it needs a steel tie, and none is there",
        "{member} is cut through more than half: add a steel tie across the cut",
    ),
    Code(
        "bore.unruled",
        _STOP,
        "a stick that no rule of the rule set lets be bored has a hole",
        "{member} has a hole and no rule allows it: lead the run around, or ask the engineer",
    ),
    Code(
        "notch.depth",
        _STOP,
        "a notch is deeper than the rule set allows",
        "the notch in {member} is too deep: make it shallower, or bore the stick instead",
    ),
    Code(
        "fastener.run",
        _STOP,
        "a nail or screw hits a run",
        "{fastener} would hit run {run}: move the nails or the run",
    ),
    Code(
        "fastener.miss",
        _STOP,
        "a nail or screw does not reach the stick it should hold in",
        "{fastener} miss the stick they should hold in: move them onto it, or use longer ones",
    ),
    Code(
        "fastener.edge",
        _WARN,
        "a nail or screw is nearer to the edge of its sheet than the schedule allows",
        "{fastener} are too near the edge of the sheet: move them in",
    ),
    Code(
        "panel.panel",
        _STOP,
        "sticks of two panels take the same space",
        "{member} takes the same space as {other} of panel {neighbour}: shorten or move one of them",
    ),
    Code(
        "panel.size",
        _STOP,
        "a panel is longer or higher than the line takes",
        "the panel is {too} for the line: split it",
    ),
    Code(
        "panel.mass",
        _STOP,
        "a panel is heavier than the shop can lift",
        "the panel is too heavy to lift: split it, or fill or sheathe it on site",
    ),
    Code(
        "panel.truck",
        _STOP,
        "a panel is longer, higher or heavier than the truck takes",
        "the panel is too {too} for the truck: split it, or ask for another truck",
    ),
    Code(
        "panel.crane",
        _STOP,
        "a panel is heavier than the crane lifts where it is set",
        "the panel is heavier than the rows of the crane's table allow at its radius: split it, or lift from nearer; "
        "the crane's own load chart and a qualified person decide",
    ),
)

CODES: Mapping[str, Code] = {row.code: row for row in (*_TABLE, *SHELL, *STRUCTURE)}
"""Every code of the checks; findings of the design itself have codes of their own."""


def found(
    code: str,
    panel: Panel,
    *,
    parts: tuple[str, ...] = (),
    point: Any = None,
    value: float | None = None,
    limit: float | None = None,
    unit: str = "mm",
    source: str = "",
    severity: Severity | None = None,
    **words: str,
) -> Finding:
    """A finding of this code in a panel; `words` fill the code's template.

    `point` is three panel coordinates, mm; the house point follows from it.
    """
    row = CODES[code]
    at = None if point is None else (float(point[0]), float(point[1]), float(point[2]))
    return Finding(
        code=code,
        severity=severity or row.severity,
        words=row.words.format(**words),
        panel=panel.label,
        parts=parts,
        point=at,
        house_point=None if at is None else panel.frame.point(*at),
        value=None if value is None else float(value),
        limit=None if limit is None else float(limit),
        unit=unit,
        source=source,
    )


def named(member: Member) -> str:
    """A stick as the shop calls it: its role and printed mark."""
    return f"{member.role} {member.mark or member.id}"
