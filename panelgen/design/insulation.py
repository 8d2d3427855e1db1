"""Insulated bays: every void between framing members as a region with a depth, a volume and a target mass."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import dist, hypot

import numpy as np
import shapely

from panelgen.design.brief import PanelBrief
from panelgen.design.voids import Cell, Void, voids
from panelgen.geometry.frames import Floats, Vec3
from panelgen.model import Bay, Box, Finding, Member, RunPart, Severity, Why

__all__ = ["bays"]

_EPS = 1e-6
_SLIVER = 6.0
"""Voids narrower or shallower than this (mm) take no insulation; common practice, no source."""


def bays(
    brief: PanelBrief, members: Sequence[Member], runs: Sequence[RunPart], boxes: Sequence[Box], *, plated: bool = True
) -> tuple[tuple[Bay, ...], tuple[Finding, ...]]:
    """The voids of the framing layer, left to right; none where the assembly asks for no insulation.

    A void is what the profile leaves without members and rough openings. Where members take part of
    the depth only, such as headers, the rest of the depth is a bay of its own. Slivers are not bays:
    their volume in all (m3) is the value of a finding. Voids among the plates of a panel that is `plated`,
    where the next panel's cap plate laps in, are neither. The net volume leaves out runs and boxes; bores
    in members and roundings at bends are not counted.
    """
    name = brief.assembly.framing.insulation
    if name is None:
        return (), ()
    product = brief.catalog.insulation(name)
    why = Why("bay.void", f"void between members, filled with {name}", product.cited)
    lows, highs = _run_boxes(runs)
    found: list[Bay] = []
    slivers: list[Void] = []
    for void in voids(brief, members, _SLIVER):
        if _is_sliver(void):
            slivers.append(void)
            continue
        if plated and _among_plates(brief, void):
            continue
        x0, y0, x1, y1 = void.bounds
        near = np.flatnonzero(((highs >= (x0, y0, void.z0)) & (lows <= (x1, y1, void.z1))).all(axis=1)).tolist()
        taken = sum(_run_volume(void, runs[i]) for i in near) + sum(_box_volume(void, box) for box in boxes)
        outline, *holes = void.rings()
        found.append(
            Bay(
                _id(brief, void),
                outline,
                tuple(holes),
                void.z0,
                void.z1,
                void.volume,
                void.volume - taken * 1e-9,
                name,
                product.density,
                why,
            )
        )
    return tuple(found), _report(brief, slivers)


def _id(brief: PanelBrief, void: Void) -> str:
    place = f"{brief.wall.id}/bay@{round(brief.wall_start + void.bounds[0])}-{round(void.bounds[1])}"
    whole = void.z0 <= _EPS and void.z1 >= brief.framing_depth - _EPS
    return place if whole else f"{place}-{round(void.z0)}"


def _among_plates(brief: PanelBrief, void: Void) -> bool:
    """True for a void that lies wholly above the underside of the top plates."""
    spec = brief.assembly.framing
    depth = spec.top_plates * brief.catalog.stock(spec.stock).thickness
    for x0, x1, low0, low1, _, _ in void.cells:
        top0, top1 = brief.top_at(x0), brief.top_at(x1)
        plumb = depth * hypot(1.0, (top1 - top0) / (x1 - x0))
        if low0 < top0 - plumb - _EPS or low1 < top1 - plumb - _EPS:
            return False
    return True


def _is_sliver(void: Void) -> bool:
    x0, _, x1, _ = void.bounds
    highest = max(max(c - a, d - b) for _, _, a, b, c, d in void.cells)
    return min(x1 - x0, highest, void.z1 - void.z0) < _SLIVER


def _run_boxes(runs: Sequence[RunPart]) -> tuple[Floats, Floats]:
    """Least and greatest x, y and z of the centre line of each of r runs, (r, 3) each."""
    paths = [np.array(run.path) for run in runs]
    lows = np.array([path.min(axis=0) for path in paths]).reshape(-1, 3)
    highs = np.array([path.max(axis=0) for path in paths]).reshape(-1, 3)
    return lows, highs


def _run_volume(void: Void, run: RunPart) -> float:
    """Volume (mm3) of a run along the parts of its centre line that lie in a void."""
    x0, y0, x1, y1 = void.bounds
    length = 0.0
    for a, b in pairwise(run.path):
        if max(a[0], b[0]) < x0 or min(a[0], b[0]) > x1 or max(a[1], b[1]) < y0 or min(a[1], b[1]) > y1:
            continue
        length += dist(a, b) * sum(_share_inside(cell, void.z0, void.z1, a, b) for cell in void.cells)
    return run.outside_area * length


def _share_inside(cell: Cell, z0: float, z1: float, a: Vec3, b: Vec3) -> float:
    """The share of the segment from a to b that lies in a cell from z0 to z1; its right, top and far faces are not."""
    x0, x1, low0, low1, high0, high1 = cell
    below, above = (low1 - low0) / (x1 - x0), (high1 - high0) / (x1 - x0)
    rooms = [
        (x - x0, y - low0 - below * (x - x0), z - z0, x1 - x, high0 + above * (x - x0) - y, z1 - z)
        for x, y, z in (a, b)
    ]
    start, end = 0.0, 1.0
    for side, (at_a, at_b) in enumerate(zip(*rooms, strict=True)):
        if at_a > 0.0 and at_b > 0.0:
            continue
        if max(at_a, at_b) < 0.0 or (side >= 3 and max(at_a, at_b) == 0.0):
            return 0.0
        if at_a < 0.0:
            start = max(start, at_a / (at_a - at_b))
        elif at_b < 0.0:
            end = min(end, at_a / (at_a - at_b))
    return max(0.0, end - start)


def _box_volume(void: Void, box: Box) -> float:
    """Volume (mm3) of the part of a device box that lies in a void."""
    corners = (box.frame.origin, box.frame.point(*box.size))
    (x0, x1), (y0, y1), (z0, z1) = (sorted(pair) for pair in zip(*corners, strict=True))
    depth = min(z1, void.z1) - max(z0, void.z0)
    left, low, right, high = void.bounds
    if depth <= 0.0 or x1 <= left or x0 >= right or y1 <= low or y0 >= high:
        return 0.0
    outline, *holes = void.rings()
    return float(shapely.box(x0, y0, x1, y1).intersection(shapely.Polygon(outline, holes)).area) * depth


def _report(brief: PanelBrief, slivers: Sequence[Void]) -> tuple[Finding, ...]:
    if not slivers:
        return ()
    total = sum(void.volume for void in slivers)
    x0, y0, x1, y1 = slivers[0].bounds
    return (
        Finding(
            "bay.sliver",
            Severity.NOTE,
            f"{len(slivers)} voids too thin to fill, {total * 1e3:.2f} litres in all, are left without insulation",
            brief.label,
            point=((x0 + x1) / 2, (y0 + y1) / 2, slivers[0].z0),
            value=total,
            limit=0.0,
            unit="m3",
            source="common practice, no source",
        ),
    )
