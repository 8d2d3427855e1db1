"""Stair, shaft and hatch openings: two trimmers on each side, two headers at each end."""

from __future__ import annotations

from panelgen.design.brief import OpeningBrief
from panelgen.design.floors.joists import JoistRow
from panelgen.design.framing.sticks import flat
from panelgen.model import Finding, Member, Opening, Role, Severity, Why

__all__ = ["TRIMMER_PLIES", "frame_openings"]

_EPS = 1e-6
TRIMMER_PLIES = 2
"""How many sticks carry each side of an opening, and each end."""

_SOURCE = "IRC R502.10"

_TRIMMER = Why("opening.trimmer", "carries the headers of the opening to the bearings", _SOURCE)
_HEADER = Why("opening.header", "carries the joists that the opening cuts to the trimmers", _SOURCE)


def frame_openings(row: JoistRow) -> tuple[list[Member], list[Opening]]:
    """The headers of a cassette's openings and the openings as framed; trimmers go into `row`.

    Doubled sticks all around are more than short openings need. Where there is no room for them is a finding.
    """
    headers = []
    for hole in row.brief.panel.openings:
        plies = [_plies(row, hole, at_start) for at_start in (True, False)]
        thickness = row.brief.stocks.header.thickness
        row.headed.append((hole, (hole.y0 - plies[0] * thickness, hole.y1 + plies[1] * thickness)))
        headers += _headers(row, hole, plies)
    for hole in row.brief.panel.openings:
        _stand_trimmers(row, hole)
    return headers, [_framed(hole) for hole in row.brief.panel.openings]


def _plies(row: JoistRow, hole: OpeningBrief, at_start: bool) -> int:
    """How many headers fit between an opening and the end of its joists; none where the rim is there."""
    start, end = row.brief.ends
    room = hole.y0 - start if at_start else end - hole.y1
    fitting = min(TRIMMER_PLIES, int((room + _EPS) // row.brief.stocks.header.thickness))
    if room < -_EPS or (fitting < TRIMMER_PLIES and room > _EPS):
        row.findings.append(_crowded(row, hole, "headers", (hole.x0, hole.y0 if at_start else hole.y1)))
    return max(0, fitting)


def _headers(row: JoistRow, hole: OpeningBrief, plies: list[int]) -> list[Member]:
    brief, stock = row.brief, row.brief.stocks.header
    name, z, t = f"{brief.panel.wall.id}/{hole.id}", brief.stocks.z(stock), stock.thickness
    low = [
        flat(f"{name}/header-low-{n + 1}", Role.HEADER, stock, hole.x0, hole.x1, hole.y0 - n * t, z, _HEADER)
        for n in range(plies[0])
    ]
    high = [
        flat(f"{name}/header-high-{n + 1}", Role.HEADER, stock, hole.x0, hole.x1, hole.y1 + (n + 1) * t, z, _HEADER)
        for n in range(plies[1])
    ]
    return low + high


def _stand_trimmers(row: JoistRow, hole: OpeningBrief) -> None:
    stock = row.brief.stocks.header
    name, t = f"{row.brief.panel.wall.id}/{hole.id}", stock.thickness
    for side, at, step in (("left", hole.x0, -1.0), ("right", hole.x1, 1.0)):
        stood = 0
        for ply in range(TRIMMER_PLIES):
            x = at + step * ply * t - (t if step < 0.0 else 0.0)
            stood += row.stand(f"{name}/trimmer-{side}-{ply + 1}", Role.TRIMMER, stock, x, _TRIMMER, hole)
        if not stood and not row.touches(at):
            row.findings.append(_crowded(row, hole, "trimmers", (at, hole.y0)))


def _framed(hole: OpeningBrief) -> Opening:
    why = Why("opening.deck", f"{hole.kind} {hole.id}", "spec openings of the floor or ceiling")
    return Opening(hole.id, hole.kind, hole.x0, hole.x1, hole.y0, hole.y1, hole.unit_width, hole.unit_height, None, why)


def _crowded(row: JoistRow, hole: OpeningBrief, what: str, at: tuple[float, float]) -> Finding:
    return Finding(
        "opening.crowded",
        Severity.STOP,
        f"no room beside opening {hole.id} for its {what}: move it away from the edge, the joint or its neighbour",
        row.brief.panel.label,
        (hole.id,),
        (*at, 0.0),
        source=_SOURCE,
    )
