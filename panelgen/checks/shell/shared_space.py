"""Sticks and sheets of one panel against those of every other and against trusses: no two parts share space."""

from __future__ import annotations

import numpy as np

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.shell.standing import Standing
from panelgen.geometry.boxes import Ints, spread
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import are_parted, overlap_depths
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, Member, Sheet, Truss

__all__ = ["panel_panel"]


def panel_panel(standing: Standing) -> list[Finding]:
    """One finding for each panel and another, or a truss, of which parts take the same space, at the deepest place.

    Loose parts are left out. Where sticks meet, sheets that do so too are of the same cause.
    """
    panels = len(standing.scene.panels)
    fixed = np.flatnonzero(~standing.loose)
    i, j = standing.near_pairs(fixed, -TOLERANCE / 2)
    for _ in range(2):
        meet = standing.meet(i, j, -TOLERANCE / 2)
        j, i = i[meet], j[meet]
    near = ~are_parted(standing.corners[i], standing.corners[j], TOLERANCE) & (standing.owner[i] < panels)
    i, j = i[near], j[near]
    depth = _depths(*standing.pieces(np.union1d(i, j)), i, j)
    deep = depth > TOLERANCE
    i, j, depth = i[deep], j[deep], depth[deep]
    sticks = standing.is_stick[i] & (standing.is_stick[j] | (standing.owner[j] >= panels))
    rows = worst_of_each(np.where(sticks, depth, -1.0 / depth), standing.owner[i], standing.owner[j])
    return [
        _found(standing, i[k], j[k], depth[k], "panel.panel" if sticks[k] else "sheet.panel") for k in rows.tolist()
    ]


def _depths(corners: Floats, first: Ints, count: Ints, i: Ints, j: Ints) -> Floats:
    """(n,) how deep blocks i and j are in one another, mm, or 0; `Standing.pieces` tells of what they consist."""
    pair, place = spread(np.zeros_like(i), count[i] * count[j])
    a, b = first[i][pair] + place // count[j][pair], first[j][pair] + place % count[j][pair]
    meet = ~are_parted(corners[a], corners[b], TOLERANCE)
    depth = np.zeros(len(i))
    np.maximum.at(depth, pair[meet], overlap_depths(corners[a[meet]], corners[b[meet]]))
    return depth


def _found(standing: Standing, i: int, j: int, depth: float, code: str) -> Finding:
    panels = standing.scene.panels
    home, first, second = panels[standing.owner[i]], standing.part_of(i), standing.part_of(j)
    boxes = standing.boxes
    middle = (np.maximum(boxes.low[i], boxes.low[j]) + np.minimum(boxes.high[i], boxes.high[j])) / 2
    supplied = isinstance(second, Truss)
    return found(
        "truss.panel" if supplied else code,
        home,
        parts=(first.id, second.id),
        point=home.frame.to_local(middle),
        value=depth,
        limit=0.0,
        source="no two parts share space",
        member=_called(first),
        other=_called(second),
        neighbour="" if supplied else panels[standing.owner[j]].label,
    )


def _called(part: Member | Sheet | Truss) -> str:
    if isinstance(part, Truss):
        return f"truss {part.id}"
    return named(part) if isinstance(part, Member) else f"{part.layer} sheet {part.mark or part.id}"
