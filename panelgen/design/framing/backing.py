"""Blocking that later trades asked for: flat stock between the studs, level or along a stair, flush with a face."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.brief import PanelBrief, Span
from panelgen.design.extents import extent_of
from panelgen.design.framing.raked import Row
from panelgen.design.framing.sticks import on_slope, stock_of
from panelgen.design.intervals import overlap, subtract
from panelgen.model import Finding, Member, Role, Severity, Why
from panelgen.spec.services import BackingSpec

__all__ = ["backing"]

_EPS = 1e-6


def backing(brief: PanelBrief, members: Sequence[Member]) -> tuple[tuple[Member, ...], tuple[Finding, ...]]:
    """A board across every space between sticks that a request of kind ``blocking`` reaches into.

    Spaces too short for the shop, and requests across an opening, are findings.
    """
    placed: list[Member] = []
    findings: list[Finding] = []
    for request in brief.backing:
        if request.kind == "blocking":
            boards, notes = _boards(brief, (*members, *placed), request)
            placed.extend(boards)
            findings.extend(notes)
    return tuple(placed), tuple(findings)


def _boards(brief: PanelBrief, members: Sequence[Member], request: BackingSpec) -> tuple[list[Member], list[Finding]]:
    spec = brief.assembly.framing
    stock = stock_of(brief.catalog, request.stock or spec.stock, spec.species, spec.grade)
    row = Row.of(request, brief.wall_start, stock.width)
    span = (max(0.0, row.start[0]), min(brief.length, row.end[0]))
    z = 0.0 if request.face == "inner" else brief.framing_depth - stock.thickness
    why = Why("backing.request", request.reason, f"spec backing {request.id}")
    boxes = [
        box
        for box in map(extent_of, (m for m in members if not m.loose))
        if overlap((box.z0, box.z1), (z, z + stock.thickness)) > _EPS
    ]
    whole = (0.0, brief.length)
    in_the_way = [*(row.stretch(box.y, box.x) for box in boxes), *row.beyond(brief.height, whole)]
    holes = [row.stretch((hole.y0, hole.y1), (hole.x0, hole.x1)) for hole in brief.openings]
    findings = [
        _finding(brief, request, row, hole, "an opening is in the way") for hole in holes if overlap(hole, span) > _EPS
    ]
    boards = []
    for x0, x1 in subtract(whole, [*in_the_way, *holes]):
        if overlap((x0, x1), span) <= _EPS:
            continue
        if x1 - x0 < brief.shop.shortest_member - _EPS:
            findings.append(_finding(brief, request, row, (x0, x1), "the space is shorter than the shop makes"))
            continue
        name = f"{brief.wall.id}/{request.id}@{round(brief.wall_start + x0)}"
        boards.append(on_slope(name, Role.BACKING, stock, x0, x1, row.middle(x0) - row.half, row.tangent, z, why))
    return boards, findings


def _finding(brief: PanelBrief, request: BackingSpec, row: Row, place: Span, fault: str) -> Finding:
    return Finding(
        "backing.left-out",
        Severity.WARN,
        f"backing {request.id} ({request.reason}) is left out over {place[1] - place[0]:.0f} mm: {fault}",
        brief.label,
        (request.id,),
        ((place[0] + place[1]) / 2, row.middle(sum(place) / 2), 0.0),
        source=f"spec backing {request.id}",
    )
