"""Device boxes against sticks, barrier sheets, openings, runs and one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from panelgen.checks.codes import found, named
from panelgen.checks.grouping import worst_of_each
from panelgen.checks.openings import Openings
from panelgen.checks.scene import Scene
from panelgen.checks.sheeting import face_area, layer_of
from panelgen.geometry.boxes import Boxes, Ints, overlapping
from panelgen.geometry.frames import Floats
from panelgen.geometry.hexahedra import box_corners, overlap_depths, point_distances
from panelgen.geometry.rods import Bools
from panelgen.geometry.slab_shadows import block_shadow
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Barrier, Box, Finding, Panel

__all__ = ["device_boxes"]

_SPACE = "no two parts share space"


@dataclass(frozen=True, slots=True, eq=False)
class _Gear:
    """n device boxes: `panel` (n,) the index of the panel, `corners` (n, 8, 3) and `boxes` in its coordinates."""

    items: tuple[Box, ...]
    panel: Ints
    corners: Floats
    boxes: Boxes

    @classmethod
    def of(cls, panels: Sequence[Panel]) -> _Gear:
        items = tuple(box for panel in panels for box in panel.boxes)
        sizes = np.array([box.size for box in items], dtype=float).reshape(-1, 3)
        local = box_corners(np.zeros_like(sizes), sizes)
        corners = np.stack([box.frame.to_parent(local[k]) for k, box in enumerate(items)])
        return cls(
            items, np.repeat(np.arange(len(panels)), [len(p.boxes) for p in panels]), corners, Boxes.around(corners)
        )


def device_boxes(scene: Scene) -> list[Finding]:
    """One finding for each box and part that take the same space, and for each run that passes through a box."""
    if not any(panel.boxes for panel in scene.panels):
        return []
    gear = _Gear.of(scene.panels)
    return [
        *_in_members(scene, gear),
        *_in_openings(scene, gear),
        *_in_one_another(scene, gear),
        *_in_barriers(scene, gear),
        *_in_runs(scene, gear),
    ]


def _in_members(scene: Scene, gear: _Gear) -> list[Finding]:
    timber = scene.timber
    i, block = overlapping(gear.boxes, timber.boxes, gear.panel, timber.block_panel)
    depth = overlap_depths(gear.corners[i], timber.corners[block])
    deep = depth > TOLERANCE
    i, member, depth = i[deep], timber.owner[block[deep]], depth[deep]
    findings = []
    for k in worst_of_each(depth, i, member).tolist():
        box, stick = gear.items[i[k]], timber.members[member[k]]
        findings.append(
            found(
                "box.member",
                scene.panels[gear.panel[i[k]]],
                parts=(box.id, stick.id),
                point=gear.corners[i[k]].mean(axis=0),
                value=depth[k],
                limit=0.0,
                source=_SPACE,
                box=box.id,
                member=named(stick),
            )
        )
    return findings


def _in_openings(scene: Scene, gear: _Gear) -> list[Finding]:
    openings = Openings.of(scene.panels)
    i, j = overlapping(gear.boxes, openings.boxes, gear.panel, openings.panel)
    depth = overlap_depths(gear.corners[i], openings.corners[j])
    others = [openings.openings[index].id for index in j.tolist()]
    return _sharing(scene, gear, "box.opening", i, depth, others, "opening")


def _in_one_another(scene: Scene, gear: _Gear) -> list[Finding]:
    i, j = overlapping(gear.boxes, gear.boxes, gear.panel, gear.panel)
    i, j = i[i < j], j[i < j]
    depth = overlap_depths(gear.corners[i], gear.corners[j])
    others = [gear.items[index].id for index in j.tolist()]
    return _sharing(scene, gear, "box.box", i, depth, others, "other")


def _sharing(
    scene: Scene, gear: _Gear, code: str, i: Ints, depth: Floats, others: Sequence[str], word: str
) -> list[Finding]:
    """A finding for each box i (n,) that is more than touched by its other (n,), which the code's words call `word`."""
    called: list[dict[str, Any]] = [{word: other} for other in others]
    return [
        found(
            code,
            scene.panels[gear.panel[i[k]]],
            parts=(gear.items[i[k]].id, others[k]),
            point=gear.corners[i[k]].mean(axis=0),
            value=depth[k],
            limit=0.0,
            source=_SPACE,
            box=gear.items[i[k]].id,
            **called[k],
        )
        for k in np.flatnonzero(depth > TOLERANCE).tolist()
    ]


def _in_barriers(scene: Scene, gear: _Gear) -> list[Finding]:
    sheeting = scene.sheeting
    i, j = overlapping(gear.boxes, sheeting.boxes.grown(-TOLERANCE / 2), gear.panel, sheeting.panel)
    findings = []
    reported = set()
    for k, number in zip(i.tolist(), j.tolist(), strict=True):
        panel, sheet, box = scene.panels[gear.panel[k]], sheeting.sheets[number], gear.items[k]
        layer = layer_of(panel, sheet.layer)
        if layer is None or layer.barrier is Barrier.NONE or (k, layer.name) in reported:
            continue
        local = sheet.frame.to_local(gear.corners[k])
        shadow = shapely.MultiPoint(block_shadow(local, sheet.thickness)).convex_hull.buffer(-TOLERANCE)
        if shadow.is_empty or not shadow.intersects(face_area(sheet)):
            continue
        reported.add((k, layer.name))
        depth = min(local[:, 2].max(), sheet.thickness) - max(local[:, 2].min(), 0.0)
        findings.append(
            found(
                "box.sheet",
                panel,
                parts=(box.id, sheet.id),
                point=gear.corners[k].mean(axis=0),
                value=depth,
                limit=0.0,
                source=_SPACE,
                box=box.id,
                layer=layer.name,
                barrier=layer.barrier.value,
            )
        )
    return findings


def _in_runs(scene: Scene, gear: _Gear) -> list[Finding]:
    lines = scene.lines
    i, j = overlapping(lines.legs.boxes(TOLERANCE), gear.boxes, lines.panel, gear.panel)
    meets = lines.legs.take(i).meet_blocks(gear.corners[j], TOLERANCE)
    i, j = i[meets], j[meets]
    served = _ends_at(scene, gear, i, j)
    i, j = i[~served], j[~served]
    depth = lines.legs.take(i).ways_out(gear.corners[j])
    return [
        found(
            "box.run",
            scene.panels[gear.panel[j[k]]],
            parts=(lines.runs[lines.run[i[k]]].run, gear.items[j[k]].id),
            point=gear.corners[j[k]].mean(axis=0),
            value=depth[k],
            limit=0.0,
            source="a run ends at the box it serves",
            run=lines.runs[lines.run[i[k]]].run,
            box=gear.items[j[k]].id,
        )
        for k in worst_of_each(depth, lines.run[i], j).tolist()
    ]


def _ends_at(scene: Scene, gear: _Gear, i: Ints, j: Ints) -> Bools:
    """(n,) whether the run of stretch i begins or ends at box j, so that it serves it."""
    lines = scene.lines
    served = np.zeros(len(i), dtype=bool)
    rods = lines.legs.rods
    for stops, ends in ((lines.stops_at_start, rods.start), (lines.stops_at_end, rods.end)):
        last = np.full(len(lines.runs), -1)
        last[lines.run[stops]] = np.flatnonzero(stops)
        at = last[lines.run[i]]
        rows = np.flatnonzero(at >= 0)
        served[rows] |= point_distances(ends[at[rows]], gear.corners[j[rows]]) <= TOLERANCE
    return served
