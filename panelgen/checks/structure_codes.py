"""The codes of the structural checks; `codes` explains how a row is used."""

from __future__ import annotations

from panelgen.checks.code import Code
from panelgen.model import Severity

__all__ = ["STRUCTURE"]

_STOP, _WARN = Severity.STOP, Severity.WARN

STRUCTURE = (
    Code(
        "stud.table",
        _STOP,
        "the stud table has no row for this stock under this load",
        "studs of {stock} that carry {load} are not in the table: use wider stock, or it needs an engineer{guide}",
    ),
    Code(
        "stud.spacing",
        _STOP,
        "full-height studs stand farther apart than the stud table allows",
        "{first} and {second}, {stock} that carry {load}, stand too far apart: add a stud, or it needs an "
        "engineer{guide}",
    ),
    Code(
        "stud.height",
        _STOP,
        "a stud is taller than the stud table allows without sideways support",
        "{first}, {stock} that carries {load}, is too tall: use wider stock, or it needs an engineer{guide}",
    ),
    Code(
        "header.missing",
        _STOP,
        "an opening in a wall has no header, and is too wide for a flat plate or carries load",
        "no header spans opening {opening}: add one from the table, or it needs an engineer",
    ),
    Code(
        "header.span",
        _STOP,
        "a header spans more than its table allows",
        "the {size} header of opening {opening}, which carries {load}, spans too far: use a larger one, or it needs "
        "an engineer",
    ),
    Code(
        "header.table",
        _STOP,
        "the header table ends before this header, load, snow or building width",
        "the header table has nothing for a {size} header that carries {load} here, at opening {opening}: it needs "
        "an engineer",
    ),
    Code(
        "header.wood",
        _STOP,
        "the header table is not printed for the wood of a header",
        "the header table is not printed for {wood}, of which the header of opening {opening} is: use other wood, or "
        "it needs an engineer",
    ),
    Code(
        "header.jacks",
        _STOP,
        "fewer jacks stand under an end of a header than its table asks for",
        "too few jacks stand under the {side} end of the header of opening {opening}: add one",
    ),
    Code(
        "header.kings",
        _STOP,
        "fewer full-height studs stand at an end of a header than the rule set asks for",
        "too few full-height studs stand at the {side} end of the header of opening {opening}: add one",
    ),
    Code(
        "header.bearing",
        _STOP,
        "a header bears on less wood at its end than the rule set asks for",
        "the header of opening {opening} bears on too little at its {side} end: carry it to the outside of its jacks",
    ),
    Code(
        "joist.span",
        _STOP,
        "a joist or rafter spans more than its table allows",
        "{member}, {size} {wood}, spans too far: use deeper stock or closer spacing, add a bearing line, or it needs "
        "an engineer",
    ),
    Code(
        "joist.table",
        _WARN,
        "no span table of the rule set covers a joist or rafter",
        "no span table covers {member}, {size} {wood}, at this spacing and load: its maker's table or an engineer "
        "decides",
    ),
    Code(
        "joist.bearing",
        _STOP,
        "a joist or rafter bears on less wood than the rule set asks for",
        "{member} bears on too little at its {side} end: lengthen it",
    ),
    Code(
        "joist.support",
        _WARN,
        "an end of a joist reaches beyond its last bearing, or hangs free",
        "{member} hangs free at its {side} end beyond the last bearing: carry it there, or it needs an engineer",
    ),
    Code(
        "load.path",
        _WARN,
        "a point load from above stands on a wall with too few full-height studs beneath it",
        "the load of {origin} comes down where too few full-height studs stand in panel {below}: stand as many "
        "beneath it as carry it above",
    ),
    Code(
        "load.header",
        _WARN,
        "a point load from above stands on a header, which header tables do not cover",
        "the load of {origin} comes down on the header of opening {opening} in panel {below}: move one of the "
        "openings, or it needs an engineer",
    ),
    Code(
        "load.wall",
        _WARN,
        "a point load from above has no wall beneath it",
        "the load of {origin} comes down where no wall stands beneath: it needs a beam from an engineer, or a wall",
    ),
    Code(
        "load.block",
        _WARN,
        "a point load from above crosses a floor without wood through the depth of the floor",
        "the load of {origin} crosses floor panel {below} where no wood fills its depth: add squash blocks",
    ),
)
"""Every kind of finding about stud tables, headers, spans, bearing and the way of loads to the foundation."""
