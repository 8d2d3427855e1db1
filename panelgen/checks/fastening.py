"""Nails and screws: clear of runs, home in the stick they hold in, and away from the edges of sheets."""

from __future__ import annotations

import numpy as np

from panelgen.catalog import Catalog, RuleSet
from panelgen.checks.codes import found
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.scene import Scene
from panelgen.checks.shanks import Shanks
from panelgen.errors import CatalogError
from panelgen.geometry.boxes import Ints, overlapping, spread
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import hexahedra_planes
from panelgen.geometry.legs import leg_depths, legs_meet
from panelgen.geometry.lines import in_planes
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, Sheet

__all__ = ["fastener_edge", "fastener_miss", "fastener_run"]


def fastener_run(scene: Scene, shanks: Shanks) -> list[Finding]:
    """One finding for each run and batch of fasteners that hits it, at the worst place."""
    lines = scene.lines
    rows = np.flatnonzero(np.isin(shanks.panel, lines.panel))
    if not len(rows):
        return []
    i, k = overlapping(lines.legs.boxes(TOLERANCE / 2), shanks.rods.take(rows).boxes(), lines.panel, shanks.panel[rows])
    meet = legs_meet(lines.legs.take(i), shanks.legs(rows[k]), TOLERANCE)
    i, k = i[meet], rows[k[meet]]
    depth, point = leg_depths(lines.legs.take(i), shanks.legs(k))
    run, batch = lines.run[i], shanks.batch[k]
    findings = []
    for hit in worst_of_each(depth, run, batch).tolist():
        part, one = lines.runs[run[hit]], shanks.batches[batch[hit]]
        count = len(np.unique(k[(run == run[hit]) & (batch == batch[hit])]))
        findings.append(
            found(
                "fastener.run",
                scene.panels[lines.panel[i[hit]]],
                parts=(part.run, one.id),
                point=point[hit],
                value=depth[hit],
                limit=0.0,
                source="no two parts share space",
                fastener=f"{count} × {one.product}",
                run=part.run,
            )
        )
    return findings


def fastener_miss(scene: Scene, shanks: Shanks) -> list[Finding]:
    """One finding for each batch with fasteners whose shank is nowhere wholly inside the stick they should hold in."""
    if not len(shanks.batch):
        return []
    hold = _hold(scene, shanks)
    missing = np.flatnonzero(hold <= TOLERANCE)
    findings = []
    for first in worst_of_each(-hold[missing], shanks.batch[missing]).tolist():
        k = missing[first]
        one = shanks.batches[shanks.batch[k]]
        count = int((shanks.batch[missing] == shanks.batch[k]).sum())
        findings.append(
            found(
                "fastener.miss",
                scene.panels[shanks.panel[k]],
                parts=(one.id, scene.timber.members[shanks.into[k]].id),
                point=shanks.rods.end[k],
                value=max(0.0, hold[k]),
                limit=0.0,
                source=one.why.source,
                fastener=f"{count} × {one.product}",
            )
        )
    return findings


def _hold(scene: Scene, shanks: Shanks) -> Floats:
    """(n,) the length of each shank that is inside its stick with its whole thickness, mm.

    Infinite for shanks whose point is well inside a stick of one plain block: only whether they hold is
    asked. Negative where a shank is nowhere wholly inside.
    """
    timber, rods = scene.timber, shanks.rods
    place = np.einsum("nc,nkc->nk", rods.end - timber.origins[shanks.into], timber.axes[shanks.into])
    margin = rods.radius[:, None] + TOLERANCE
    inside = ((place > margin) & (place < timber.sizes[shanks.into] - margin)).all(axis=1)
    hold = np.where(inside & timber.is_plain[shanks.into], np.inf, -np.inf)
    rest = np.flatnonzero(hold < 0.0)
    if not len(rest):
        return hold
    count = np.bincount(timber.owner, minlength=len(timber.members))
    index, block = spread((np.cumsum(count) - count)[shanks.into[rest]], count[shanks.into[rest]])
    nail = rest[index]
    normals, offsets = (rows[block] for rows in hexahedra_planes(timber.corners))
    slant = np.einsum("nfc,nc->nf", normals, rods.direction[nail])
    inset = rods.radius[nail, None] * np.sqrt(np.maximum(1.0 - slant**2, 0.0))
    low, high = in_planes(rods.start[nail], rods.direction[nail], normals, offsets - inset)
    np.maximum.at(hold, nail, np.minimum(high, rods.length[nail]) - np.maximum(low, 0.0))
    return hold


def fastener_edge(scene: Scene, shanks: Shanks, rules: RuleSet, catalog: Catalog) -> list[Finding]:
    """One finding for each batch with fasteners nearer to the edge of their sheet than the schedule allows."""
    rows = np.flatnonzero(shanks.sheet >= 0)
    if not len(rows):
        return []
    limits = np.array([_edge_distance(sheet, rules, catalog) for sheet in scene.sheeting.sheets])
    room = _to_edge(scene, shanks.rods.start[rows], shanks.sheet[rows])
    short = limits[shanks.sheet[rows]] - room
    near = np.flatnonzero(short > TOLERANCE)
    batch = shanks.batch[rows]
    findings = []
    for first in worst_of_each(short[near], batch[near]).tolist():
        k = near[first]
        one, sheet = shanks.batches[batch[k]], scene.sheeting.sheets[shanks.sheet[rows[k]]]
        count = int((batch[near] == batch[k]).sum())
        findings.append(
            found(
                "fastener.edge",
                scene.panels[shanks.panel[rows[k]]],
                parts=(one.id, sheet.id),
                point=shanks.rods.start[rows[k]],
                value=room[k],
                limit=limits[shanks.sheet[rows[k]]],
                source=one.why.source,
                fastener=f"{count} × {one.product}",
            )
        )
    return findings


def _edge_distance(sheet: Sheet, rules: RuleSet, catalog: Catalog) -> float:
    """The least distance of a nail from the edge of a sheet; none where the schedule has no row for it."""
    product = catalog.sheets.get(sheet.product)
    try:
        return rules.sheet_nailing(sheet.thickness, "wood" if product is None else product.kind).edge_distance
    except CatalogError:
        return -np.inf


def _to_edge(scene: Scene, heads: Floats, sheet: Ints) -> Floats:
    """(n,) distance of each head from the nearest edge or cut-out of its sheet, mm; negative off the sheet."""
    sheeting = scene.sheeting
    edges = [_edges(one) for one in sheeting.sheets]
    counts = np.array([len(rows) for rows in edges], dtype=np.int64)
    table = np.array([row for rows in edges for row in rows], dtype=float).reshape(-1, 4)
    begin_x, begin_y = table[:, 0], table[:, 1]
    along_x, along_y = table[:, 2] - begin_x, table[:, 3] - begin_y
    size = np.maximum(along_x**2 + along_y**2, 1e-12)
    place_x, place_y = np.einsum("nc,nkc->kn", heads - sheeting.origins[sheet], sheeting.axes[sheet, :2])
    head, edge = spread((np.cumsum(counts) - counts)[sheet], counts[sheet])
    away_x, away_y = place_x[head] - begin_x[edge], place_y[head] - begin_y[edge]
    across_x, across_y = along_x[edge], along_y[edge]
    at = np.clip((away_x * across_x + away_y * across_y) / size[edge], 0.0, 1.0)
    squared = (away_x - at * across_x) ** 2 + (away_y - at * across_y) ** 2
    first = np.cumsum(counts[sheet]) - counts[sheet]
    # A ray along x crosses the edges an odd number of times from inside, cut-outs included.
    level = (begin_y[edge] > place_y[head]) != (begin_y[edge] + across_y > place_y[head])
    ahead = away_x * across_y < away_y * across_x
    crossings = np.add.reduceat(level & (ahead == (across_y > 0)), first, dtype=np.int64)
    result: Floats = np.sqrt(np.minimum.reduceat(squared, first)) * np.where(crossings % 2, 1.0, -1.0)
    return result


def _edges(sheet: Sheet) -> list[tuple[float, float, float, float]]:
    """Every straight edge of a sheet, (x, y) to (x, y)."""
    return [
        (*a, *b) for ring in (sheet.outline, *sheet.cutouts) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)
    ]
