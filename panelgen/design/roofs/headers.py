"""Headers below and above the openings of a roof panel: square to it, or plumb under the walls of a dormer."""

from __future__ import annotations

from panelgen.design.roofs.boards import board, crosswise
from panelgen.design.roofs.brief import RoofBrief, RoofHole, opening_plies
from panelgen.design.roofs.pitch import Plane, plumb, square
from panelgen.design.roofs.sticks import EndJoint, Sticks
from panelgen.model import Member, Role, Why

__all__ = ["outer_faces", "place_headers"]

_WHY = Why("rafter.header", "carries the rafters that an opening cuts", "IRC R802.9, framing of openings in roofs")


def outer_faces(brief: RoofBrief, hole: RoofHole) -> tuple[Plane, Plane]:
    """The planes on which the rafters below and above an opening end."""
    deep = opening_plies(brief.rules, hole.spec) * brief.rafter.thickness
    if hole.runs is None:
        return square(hole.y[0] - deep), square(hole.y[1] + deep)
    low, high = hole.runs[0] - deep, hole.runs[1] + deep
    return plumb(brief.pitch, (0.0, low), (1.0, low)), plumb(brief.pitch, (0.0, high), (1.0, high))


def place_headers(brief: RoofBrief, sticks: Sticks, hole: RoofHole) -> None:
    """Every ply of both headers, the first beside the opening."""
    thickness = brief.rafter.thickness
    for ply in range(opening_plies(brief.rules, hole.spec)):
        for name, at_top in (("lower", False), ("upper", True)):
            key = f"{brief.plane.id}/{hole.spec.id}/{name}-header-{ply + 1}"
            away = ply * thickness if at_top else -(ply + 1) * thickness
            if hole.runs is None:
                made: Member | None = _square(brief, hole, key, hole.y[at_top] + away)
            else:
                made = _plumb(brief, hole, key, hole.runs[at_top] + away)
            left, right = (f"{brief.plane.id}/{hole.spec.id}/trimmer-{side}-1" for side in ("left", "right"))
            joint = "header to trimmer"
            sticks.add(made, EndJoint(key, False, left, joint), EndJoint(key, True, right, joint))


def _square(brief: RoofBrief, hole: RoofHole, id: str, y: float) -> Member:
    """A header across the panel with its lower face at y."""
    return crosswise(id, Role.HEADER, brief.rafter, hole.x, y, _WHY)


def _plumb(brief: RoofBrief, hole: RoofHole, id: str, run: float) -> Member | None:
    """A plumb header with its lower face at a run, dropped as other level boards are."""
    pitch = brief.pitch
    ends = (plumb(pitch, (hole.x[0], 0.0), (hole.x[0], 1.0)), plumb(pitch, (hole.x[1], 0.0), (hole.x[1], 1.0)))
    return board(id, Role.HEADER, brief.rafter, pitch, ((hole.x[0], run), (hole.x[1], run)), ends, _WHY)
