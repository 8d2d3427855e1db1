"""Insulated bays: every void between framing members as a region with a depth, a volume and a target mass."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import hypot

import numpy as np
import shapely

from panelgen.design.bays.voids import Void, voids
from panelgen.design.brief import PanelBrief
from panelgen.design.unfinished import Unfinished
from panelgen.geometry.boxes import Boxes, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.stretches import Stretches
from panelgen.model import Bay, Box, Finding, RunPart, Severity, Why

__all__ = ["bays"]

_EPS = 1e-6
_SLIVER = 6.0
"""Voids narrower or shallower than this (mm) take no insulation; common practice, no source."""


def bays(panels: Sequence[Unfinished]) -> list[tuple[tuple[Bay, ...], tuple[Finding, ...]]]:
    """The voids of the framing layer of each panel, left to right; none where no insulation is asked for.

    A void is what the profile leaves without members and rough openings. Where members take part of
    the depth only, such as headers, the rest of the depth is a bay of its own. Slivers are not bays:
    their volume in all (m3) is the value of a finding. Voids among the plates of a panel that is `plated`,
    where the next panel's cap plate laps in, are neither. The net volume leaves out runs and boxes; bores
    in members and roundings at bends are not counted.
    """
    found = [_empty(panel) for panel in panels]
    taken = iter(_run_volumes([rooms for rooms, _ in found], [panel.runs for panel in panels]))
    return [
        (tuple(_filled(panel, rooms, taken)), _report(panel.brief, slivers))
        for panel, (rooms, slivers) in zip(panels, found, strict=True)
    ]


def _empty(panel: Unfinished) -> tuple[list[Void], list[Void]]:
    """The voids of a panel that take insulation, and the slivers."""
    rooms: list[Void] = []
    slivers: list[Void] = []
    brief, spec = panel.brief, panel.brief.assembly.framing
    if spec.insulation is not None:
        plates = spec.top_plates * brief.catalog.stock(spec.stock).thickness if panel.plated else None
        for void in voids(brief, panel.members, _SLIVER):
            if _is_sliver(void):
                slivers.append(void)
            elif plates is None or not _among_plates(brief, void, plates):
                rooms.append(void)
    return rooms, slivers


def _filled(panel: Unfinished, rooms: Sequence[Void], taken: Iterator[float]) -> Iterator[Bay]:
    """The bays of voids; the next of `taken` are what runs take of them, mm3."""
    brief, name = panel.brief, panel.brief.assembly.framing.insulation
    if name is None:
        return
    product = brief.catalog.insulation(name)
    why = Why("bay.void", f"void between members, filled with {name}", product.cited)
    for void in rooms:
        outline, *holes = void.rings()
        net = void.volume - (next(taken) + sum(_box_volume(void, box) for box in panel.boxes)) * 1e-9
        yield Bay(
            _id(brief, void), outline, tuple(holes), void.z0, void.z1, void.volume, net, name, product.density, why
        )


def _id(brief: PanelBrief, void: Void) -> str:
    place = f"{brief.wall.id}/bay@{round(brief.wall_start + void.bounds[0])}-{round(void.bounds[1])}"
    whole = void.z0 <= _EPS and void.z1 >= brief.framing_depth - _EPS
    return place if whole else f"{place}-{round(void.z0)}"


def _among_plates(brief: PanelBrief, void: Void, depth: float) -> bool:
    """True for a void that lies wholly above the underside of the top plates, `depth` mm of them."""
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


def _run_volumes(rooms: Sequence[Sequence[Void]], runs: Sequence[Sequence[RunPart]]) -> list[float]:
    """Volume (mm3) of the runs of each panel along the parts of their centre lines in each of its voids, in a row."""
    every = [(number, void) for number, lot in enumerate(rooms) for void in lot]
    parts = [(number, run) for number, lot in enumerate(runs) for run in lot]
    if not every or not parts:
        return [0.0] * len(every)
    cells = np.array([(k, n, void.z0, void.z1, *cell) for k, (n, void) in enumerate(every) for cell in void.cells])
    void, panel = cells[:, :2].astype(np.int64).T
    low = np.column_stack((cells[:, 4], cells[:, 6:8].min(axis=1), cells[:, 2]))
    high = np.column_stack((cells[:, 5], cells[:, 8:].max(axis=1), cells[:, 3]))
    stretches = Stretches.of([run.path for _, run in parts])
    i, j = overlapping(
        stretches.limits().grown(_EPS),
        Boxes(low, high),
        np.array([number for number, _ in parts])[stretches.path],
        panel,
    )
    start, way = stretches.start[i], stretches.end[i] - stretches.start[i]
    areas = np.array([run.outside_area for _, run in parts])[stretches.path[i]]
    shares = _shares_inside(cells[j, 2:], start, stretches.end[i])
    volumes = areas * np.sqrt((way * way).sum(axis=1)) * shares
    taken: list[float] = np.bincount(void[j], volumes, len(every)).tolist()
    return taken


def _shares_inside(cells: Floats, start: Floats, end: Floats) -> Floats:
    """The share of the way from `start` to `end` (n, 3) that lies in a cell; its right, top and far faces do not.

    `cells` (n, 8) are the least and greatest z of each, and its `Cell`.
    """
    z0, z1, x0, x1, low0, low1, high0, high1 = cells.T
    below, above = (low1 - low0) / (x1 - x0), (high1 - high0) / (x1 - x0)
    at_start, at_end = (
        np.array((x - x0, y - low0 - below * (x - x0), z - z0, x1 - x, high0 + above * (x - x0) - y, z1 - z))
        for x, y, z in (start.T, end.T)
    )
    most = np.maximum(at_start, at_end)
    outside = (most < 0.0).any(axis=0) | (most[3:] == 0.0).any(axis=0)
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = at_start / (at_start - at_end)
    enter = np.where(at_start < 0.0, crossing, 0.0).max(axis=0)
    leave = np.where(at_end < 0.0, crossing, 1.0).min(axis=0)
    return np.where(outside, 0.0, np.maximum(leave - enter, 0.0))


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
