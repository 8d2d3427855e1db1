"""Runs through sheets: a barrier may be crossed only in a sleeve declared for the run; other sheets are noted."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from itertools import groupby
from typing import Any

import numpy as np
import shapely

from panelgen.catalog import Catalog
from panelgen.checks.codes import found
from panelgen.checks.scene import Scene
from panelgen.checks.sheeting import face_area, layer_of
from panelgen.geometry.boxes import overlapping
from panelgen.geometry.frames import Floats, Vec3
from panelgen.geometry.slab_shadows import ball_shadow, block_shadow, rod_shadow
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Barrier, Finding, Layer, Panel, RoundHole, RunPart, Sheet, Sleeve

__all__ = ["BARRIER_CODES", "run_sheet"]

BARRIER_CODES = ("barrier.pierced", "barrier.sleeve")
"""What is found where a run goes through a barrier."""

_SLACK = 1e-6
_SLEEVES = "spec sleeves"


@dataclass(frozen=True, slots=True)
class _Crossing:
    """One leg of a run in one sheet, in panel coordinates; `hole` is the round hole that takes it, if any."""

    leg: int
    sheet: Sheet
    point: Vec3
    hole: RoundHole | None


def run_sheet(scene: Scene, catalog: Catalog) -> list[Finding]:
    """One finding for each place where a run goes through a layer and may not, or through sheathing that is no barrier.

    Raises CatalogError for a sleeve of an unknown product.
    """
    lines = scene.lines
    order = sorted(
        _crossings(scene),
        key=lambda c: (lines.run[c.leg], c.sheet.layer, lines.begin[c.leg], lines.end[c.leg], c.leg, c.sheet.id),
    )
    findings = []
    for _, group in groupby(order, key=lambda c: (lines.run[c.leg], c.sheet.layer)):
        for place in _places(scene, list(group)):
            finding = _judged(scene, place, catalog)
            if finding is not None:
                findings.append(finding)
    return findings


def _crossings(scene: Scene) -> Iterator[_Crossing]:
    lines, sheeting = scene.lines, scene.sheeting
    bends = lines.bends(TOLERANCE)
    area_of = cache(lambda j: face_area(sheeting.sheets[j]))
    legs = overlapping(lines.legs.boxes(TOLERANCE), sheeting.boxes, lines.panel, sheeting.panel)
    balls = overlapping(bends.boxes(), sheeting.boxes, lines.panel[bends.leg], sheeting.panel)
    shadows = [(i, j, _leg_shadow(scene, i, sheeting.sheets[j])) for i, j in _rows(legs)]
    for k, j in _rows(balls):
        sheet = sheeting.sheets[j]
        center = sheet.frame.to_local(bends.center[k])
        shadows.append((int(bends.leg[k]), j, ball_shadow(center, float(bends.radius[k]), sheet.thickness)))
    for leg, j, shadow in shadows:
        sheet = sheeting.sheets[j]
        hole, met = _what_is_met(sheet, shadow, area_of(j))
        if met:
            x, y = shadow.mean(axis=0).tolist()
            yield _Crossing(leg, sheet, sheet.frame.point(x, y, sheet.thickness / 2), hole)


def _rows(pairs: tuple[Any, Any]) -> Iterator[tuple[int, int]]:
    return zip(pairs[0].tolist(), pairs[1].tolist(), strict=True)


def _leg_shadow(scene: Scene, leg: int, sheet: Sheet) -> Floats:
    """The shadow on a sheet of what it cuts out of a leg shaved by the tolerance."""
    legs = scene.lines.legs
    if legs.square[leg]:
        local = sheet.frame.to_local(legs.corners[leg])
        return block_shadow(local - (0.0, 0.0, TOLERANCE), sheet.thickness - 2 * TOLERANCE)
    rod = legs.rods.take(np.array([leg])).shaved(TOLERANCE)
    seen = replace(rod, start=sheet.frame.to_local(rod.start), direction=rod.direction @ sheet.frame.axes.T)
    return rod_shadow(seen, 0, sheet.thickness)


def _what_is_met(sheet: Sheet, shadow: Floats, area: Any) -> tuple[RoundHole | None, bool]:
    """The round hole of the sheet that takes a run's shadow, and whether the shadow meets the sheet or its hole."""
    if not len(shadow):
        return None, False
    for hole in sheet.round_holes:
        if np.hypot(*(shadow - (hole.x, hole.y)).T).max() <= hole.diameter / 2 + _SLACK:
            return hole, True
    return None, bool(area.intersects(shapely.MultiPoint(shadow).convex_hull))


def _places(scene: Scene, crossings: list[_Crossing]) -> Iterator[list[_Crossing]]:
    """Crossings of one run and layer, apart where the run comes back to the layer later on."""
    lines = scene.lines
    place: list[_Crossing] = []
    reached = -math.inf
    for crossing in crossings:
        if place and lines.begin[crossing.leg] > reached + TOLERANCE:
            yield place
            place = []
        place.append(crossing)
        reached = max(reached, float(lines.end[crossing.leg]))
    yield place


def _judged(scene: Scene, place: list[_Crossing], catalog: Catalog) -> Finding | None:
    lines = scene.lines
    at = next((crossing for crossing in place if crossing.hole is None), place[0])
    panel, part = scene.panels[lines.panel[at.leg]], lines.runs[lines.run[at.leg]]
    layer = layer_of(panel, at.sheet.layer)
    parts = (part.run, *dict.fromkeys(crossing.sheet.id for crossing in place))
    if layer is not None and layer.barrier is not Barrier.NONE:
        return _at_barrier(panel, part, layer, at, parts, catalog, fitting=bool(lines.fitting[at.leg] >= 0))
    if at.hole is not None:
        return None
    source = "common practice, no source"
    return found("run.sheet", panel, parts=parts, point=at.point, source=source, run=part.run, layer=at.sheet.layer)


def _at_barrier(
    panel: Panel, part: RunPart, layer: Layer, at: _Crossing, parts: tuple[str, ...], catalog: Catalog, *, fitting: bool
) -> Finding | None:
    sleeve = _sleeve_at(panel, part, at)
    if sleeve is None:
        return found(
            "barrier.pierced",
            panel,
            parts=parts,
            point=at.point,
            source=_SLEEVES,
            run=part.run,
            layer=layer.name,
            barrier=layer.barrier.value,
        )
    inside = catalog.sleeve(sleeve.product).inside
    if sleeve.run != part.run:
        why = f"which is declared for run {sleeve.run}: declare one of its own"
    elif part.outside_diameter > inside + _SLACK:
        why = "which is too small for it: choose a larger one"
    elif at.hole is None:
        beside = "but beside its hole or at a slant: line them up, or leave the sleeve's place out, and it follows"
        why = "with a fitting in the way: move it" if fitting else beside
    else:
        return None
    return found(
        "barrier.sleeve",
        panel,
        parts=(*parts, sleeve.id),
        point=at.point,
        value=part.outside_diameter,
        limit=inside,
        source=_SLEEVES,
        run=part.run,
        layer=layer.name,
        sleeve=sleeve.id,
        why=why,
    )


def _sleeve_at(panel: Panel, part: RunPart, at: _Crossing) -> Sleeve | None:
    """The sleeve whose hole takes the run, or else the run's own sleeve where its hole and the run meet."""
    if at.hole is not None:
        return next((sleeve for sleeve in panel.sleeves if sleeve.id == at.hole.sleeve), None)
    for sleeve in panel.sleeves:
        reach = (sleeve.diameter + part.outside_diameter) / 2
        if sleeve.run == part.run and math.dist((sleeve.x, sleeve.y), at.point[:2]) < reach:
            return sleeve
    return None
