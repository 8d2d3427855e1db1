"""Runs through sheets: a barrier may be crossed only in a sleeve declared for the run; other sheets are noted."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
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
from panelgen.geometry.slab_shadows import ball_shadow, rod_shadow
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Barrier, Finding, Layer, Panel, RoundHole, RunPart, Sheet, Sleeve

__all__ = ["run_sheet"]

_SLACK = 1e-6
_SLEEVES = "spec sleeves"


@dataclass(frozen=True, slots=True)
class _Crossing:
    """One stretch of a run in one sheet, in panel coordinates; `hole` is the round hole that takes it, if any."""

    run: int
    panel: int
    layer: str
    stretch: int
    sheet: Sheet
    point: Vec3
    hole: RoundHole | None


def run_sheet(scene: Scene, catalog: Catalog) -> list[Finding]:
    """One finding for each place where a run goes through a layer and may not, or through sheathing that is no barrier.

    Raises CatalogError for a sleeve of an unknown product.
    """
    crossings = sorted(_crossings(scene), key=lambda c: (c.run, c.panel, c.layer, c.stretch, c.sheet.id))
    findings = []
    for _, group in groupby(crossings, key=lambda c: (c.run, c.panel, c.layer)):
        for place in _places(list(group)):
            finding = _judged(scene, place, catalog)
            if finding is not None:
                findings.append(finding)
    return findings


def _crossings(scene: Scene) -> Iterator[_Crossing]:
    lines, sheeting = scene.lines, scene.sheeting
    rods = lines.rods.shaved(TOLERANCE)
    areas: dict[int, Any] = {}

    def crossing(stretch: int, j: int, shadow: Floats) -> _Crossing | None:
        sheet = sheeting.sheets[j]
        hole, met = _what_is_met(sheet, shadow, areas.setdefault(j, face_area(sheet)))
        if not met:
            return None
        x, y = shadow.mean(axis=0)
        point = sheet.frame.point(float(x), float(y), sheet.thickness / 2)
        return _Crossing(int(lines.run[stretch]), int(lines.panel[stretch]), sheet.layer, stretch, sheet, point, hole)

    pairs = overlapping(rods.boxes(), sheeting.boxes, lines.panel, sheeting.panel)
    for stretch, j in zip(*(side.tolist() for side in pairs), strict=True):
        sheet = sheeting.sheets[j]
        local = replace(
            rods.take(np.array([stretch])),
            start=sheet.frame.to_local(rods.start[stretch : stretch + 1]),
            direction=rods.direction[stretch : stretch + 1] @ sheet.frame.axes.T,
        )
        if (hit := crossing(stretch, j, rod_shadow(local, 0, sheet.thickness))) is not None:
            yield hit
    bends = lines.bends(TOLERANCE)
    pairs = overlapping(bends.boxes(), sheeting.boxes, lines.panel[bends.stretch], sheeting.panel)
    for k, j in zip(*(side.tolist() for side in pairs), strict=True):
        sheet = sheeting.sheets[j]
        center = sheet.frame.to_local(bends.center[k])
        shadow = ball_shadow(center, float(bends.radius[k]), sheet.thickness)
        if (hit := crossing(int(bends.stretch[k]), j, shadow)) is not None:
            yield hit


def _what_is_met(sheet: Sheet, shadow: Floats, area: Any) -> tuple[RoundHole | None, bool]:
    """The round hole of the sheet that takes a run's shadow, and whether the shadow meets the sheet or its hole."""
    if not len(shadow):
        return None, False
    for hole in sheet.round_holes:
        if np.hypot(*(shadow - (hole.x, hole.y)).T).max() <= hole.diameter / 2 + _SLACK:
            return hole, True
    return None, bool(area.intersects(shapely.MultiPoint(shadow).convex_hull))


def _places(crossings: list[_Crossing]) -> Iterator[list[_Crossing]]:
    """Crossings of one run and layer, apart where the run comes back to the layer later on."""
    place = crossings[:1]
    for crossing in crossings[1:]:
        if crossing.stretch - place[-1].stretch > 1:
            yield place
            place = []
        place.append(crossing)
    yield place


def _judged(scene: Scene, place: list[_Crossing], catalog: Catalog) -> Finding | None:
    first = next((crossing for crossing in place if crossing.hole is None), place[0])
    panel, part = scene.panels[first.panel], scene.lines.runs[first.run]
    layer = layer_of(panel, first.layer)
    parts = (part.run, *dict.fromkeys(crossing.sheet.id for crossing in place))
    if layer is None or layer.barrier is Barrier.NONE:
        if first.hole is not None:
            return None
        return found(
            "run.sheet", panel, parts=parts, point=first.point, source="common practice, no source",
            run=part.run, layer=first.layer,
        )  # fmt: skip
    return _at_barrier(panel, part, layer, first, parts, catalog)


def _at_barrier(
    panel: Panel, part: RunPart, layer: Layer, at: _Crossing, parts: tuple[str, ...], catalog: Catalog
) -> Finding | None:
    sleeve = _sleeve_at(panel, part, at)
    if sleeve is None:
        return found(
            "barrier.pierced", panel, parts=parts, point=at.point, source=_SLEEVES,
            run=part.run, layer=layer.name, barrier=layer.barrier.value,
        )  # fmt: skip
    inside = catalog.sleeve(sleeve.product).inside
    if sleeve.run != part.run:
        why = f"which is declared for run {sleeve.run}: declare one of its own"
    elif part.outside_diameter > inside + _SLACK:
        why = "which is too small for it: choose a larger one"
    elif at.hole is None:
        why = "but beside its hole or at a slant: line them up"
    else:
        return None
    return found(
        "barrier.sleeve", panel, parts=(*parts, sleeve.id), point=at.point,
        value=part.outside_diameter, limit=inside, source=_SLEEVES,
        run=part.run, layer=layer.name, sleeve=sleeve.id, why=why,
    )  # fmt: skip


def _sleeve_at(panel: Panel, part: RunPart, at: _Crossing) -> Sleeve | None:
    """The sleeve whose hole takes the run, or else the run's own sleeve where its hole and the run meet."""
    if at.hole is not None:
        return next((sleeve for sleeve in panel.sleeves if sleeve.id == at.hole.sleeve), None)
    for sleeve in panel.sleeves:
        reach = (sleeve.diameter + part.outside_diameter) / 2
        if sleeve.run == part.run and math.dist((sleeve.x, sleeve.y), at.point[:2]) < reach:
            return sleeve
    return None
