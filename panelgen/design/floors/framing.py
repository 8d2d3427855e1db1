"""The sticks of one cassette: rims, joists, what frames its openings, and the blocks between them."""

from __future__ import annotations

from collections.abc import Sequence

from panelgen.design.floors.blocking import blocks
from panelgen.design.floors.brief import CassetteBrief
from panelgen.design.floors.joists import JoistRow, stand_edges, stand_on_layout, stand_under_walls
from panelgen.design.floors.openings import frame_openings
from panelgen.design.framing.sticks import flat
from panelgen.design.framing.wall import Framing
from panelgen.design.intervals import split_at
from panelgen.model import Member, Role, RunPart, Why

__all__ = ["frame_cassette"]

_RIM = Why("rim.end", "closes the ends of the joists and holds them upright", "IRC R502.7")


def frame_cassette(brief: CassetteBrief, runs: Sequence[RunPart]) -> Framing:
    """Place every stick of the framing layer; blocks make way for `runs`."""
    row = JoistRow(brief)
    headers, openings = frame_openings(row)
    stand_edges(row)
    stand_under_walls(row)
    stand_on_layout(row)
    joists = sorted(row.members, key=lambda member: member.frame.origin)
    members = [*_rims(brief, joists), *joists, *headers]
    placed, left_out = blocks(brief, members, runs)
    return Framing((*members, *placed), tuple(openings), (*row.findings, *left_out))


def _rims(brief: CassetteBrief, joists: list[Member]) -> list[Member]:
    """The rims at the ends that need them, in lengths the rack holds, joined on joists."""
    panel, stock = brief.panel, brief.stocks.rim
    z = brief.stocks.z(stock)
    centres = sorted(joist.frame.origin[0] + joist.thickness / 2 for joist in joists)
    rims = []
    for side, top, there in zip(("low", "high"), (stock.thickness, panel.height), brief.rims, strict=True):
        if there:
            for x0, x1 in split_at((0.0, panel.length), centres, panel.shop.longest_stock):
                at = round(panel.wall_start + x0)
                name = f"{panel.wall.id}/rim-{side}-{at}@{brief.place}"
                rims.append(flat(name, Role.RIM, stock, x0, x1, top, z, _RIM))
    return rims
