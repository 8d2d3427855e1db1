"""The codes of the structural checks; `codes` explains how a row is used."""

from __future__ import annotations

from panelgen.checks.code import Code
from panelgen.model import Severity

__all__ = ["STRUCTURE"]

_STOP, _WARN, _NOTE = Severity.STOP, Severity.WARN, Severity.NOTE

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
        "joist.partition",
        _WARN,
        "a joist is carried by a wall that is not a bearing wall",
        "{member} needs wall {wall} beneath it, which is not a bearing wall: say that it bears, so that its studs and "
        "headers are made for it, or add a bearing line",
    ),
    Code(
        "opening.plies",
        _WARN,
        "a header or trimmer of an opening in a floor or roof is single where the rule set asks for two",
        "the {piece} beside opening {opening} must be double: add a stick, or it needs an engineer",
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
        "load.gap",
        _WARN,
        "a bearing wall has no wall beneath it",
        "bearing wall {wall} stands over nothing here: it needs a beam from an engineer, or a wall beneath",
    ),
    Code(
        "load.offset",
        _WARN,
        "a bearing wall across joists stands too far from what carries them",
        "bearing wall {wall} stands farther from the line that carries the joists than they are deep: move it, or the "
        "joists need an engineer",
    ),
    Code(
        "load.joists",
        _WARN,
        "a bearing wall along joists has neither a wall nor doubled joists beneath it",
        "bearing wall {wall} runs along the joists with nothing to carry it: stand a wall or beam beneath, or double "
        "the joists, which an engineer sizes",
    ),
    Code(
        "load.doubled",
        _NOTE,
        "doubled joists carry a bearing wall",
        "bearing wall {wall} stands on joists side by side: their size needs an engineer",
    ),
    Code(
        "load.beam",
        _WARN,
        "a point load from above stands on a beam, which no table of joists covers",
        "the load of {origin} comes down on beam {beam}: an engineer sizes the beam and its posts for it",
    ),
    Code(
        "load.block",
        _WARN,
        "a point load from above crosses a floor without wood through the depth of the floor",
        "the load of {origin} crosses floor panel {below} where no wood fills its depth: add squash blocks",
    ),
    Code(
        "roof.thrust",
        _WARN,
        "rafters that lean on a ridge or hip have no tie across the plates",
        "nothing ties the feet of {count} of plane {plane} together: add ceiling joists or ties along them, or kickers "
        "to the ceiling, or a ridge that carries, by an engineer",
    ),
    Code(
        "roof.tied",
        _NOTE,
        "joists tie the feet of rafters together",
        "the joists below tie the rafters of plane {plane}: nail each lap and butt as the heel joint table says, or "
        "ask an engineer",
    ),
    Code(
        "roof.beam",
        _WARN,
        "a ridge, hip or valley of a low roof must be a beam",
        "plane {plane} is so low that its ridge, hips and valleys must be beams: they need an engineer",
    ),
    Code(
        "roof.brace",
        _WARN,
        "no bearing wall stands where the upper end of a hip or valley could be braced",
        "nothing stands below for a brace under {lines}: they need an engineer, or a bearing wall",
    ),
    Code(
        "roof.braced",
        _NOTE,
        "the upper end of a hip or valley needs a brace that the panels do not have",
        "stand a brace under {lines}, on a stud of panel {below}",
    ),
)
"""Every kind of finding about stud tables, headers, spans, bearing and the way of loads to the foundation."""
