"""Sticks and sheets lie in their own layers and inside the panel's outline; sheets of a layer do not overlap."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from panelgen.checks.bounds import SIDES, slopes_of
from panelgen.checks.codes import found, named
from panelgen.checks.scene import Scene
from panelgen.checks.sheeting import face_in
from panelgen.geometry.boxes import Ints, overlapping
from panelgen.geometry.frames import Floats, Frame
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, Layer, LayerKind, Member, Panel, Role, Sheet

__all__ = ["part_outside", "sheet_sheet"]


def part_outside(scene: Scene) -> list[Finding]:
    """One finding for each stick and sheet that leaves its layer or the outline, at the side where it does most.

    Sheets and straps may reach past the ends of the framing, at corners, by no more than the panel is
    deep, and those of dormers down to the roof below; cap plates and loose parts lap onto the next panel. The
    outline's top is convex.
    """
    timber, sheeting = scene.timber, scene.sheeting
    parts: tuple[Member | Sheet, ...] = (*timber.members, *sheeting.sheets)
    if not parts:
        return []
    panel = np.concatenate((timber.panel, sheeting.panel))
    outlines, sheet = sheeting.outline_points()
    points = np.concatenate((timber.corners.reshape(-1, 3), outlines))
    owner = np.concatenate((np.repeat(timber.owner, 8), len(timber.members) + sheet))
    over = _excess(scene, parts, panel, points, owner)
    present, first = np.unique(owner, return_index=True)
    worst = np.maximum.reduceat(over, first, axis=0)
    findings = []
    for k in np.flatnonzero(worst.max(axis=1) > TOLERANCE).tolist():
        index, column = present[k], int(worst[k].argmax())
        one, home = parts[index], scene.panels[panel[index]]
        rows = np.flatnonzero(owner == index)
        name = named(one) if isinstance(one, Member) else f"sheet {one.mark or one.id}"
        findings.append(
            found(
                "part.outside",
                home,
                parts=(one.id,),
                point=points[rows[over[rows, column].argmax()]],
                value=worst[k, column],
                limit=0.0,
                source="outline and layers of the panel",
                part=name,
                place=f"the {one.layer} {SIDES[column]}" if column in _THROUGH else f"the panel {_side(home, column)}",
            )
        )
    return findings


_THROUGH = (2, 3)


def _side(panel: Panel, column: int) -> str:
    if column < len(SIDES) - 2:
        return SIDES[column]
    slopes = list(slopes_of(panel))
    return SIDES[5 if slopes[column - 4][1] > 0 else 4]


def _excess(scene: Scene, parts: tuple[Member | Sheet, ...], panel: Ints, points: Floats, owner: Ints) -> Floats:
    """(m, 4 + s) how far each point lies beyond its part's ends, layer and the s slopes of its panel's outline."""
    rooms = [_Room.of(one) for one in scene.panels]
    spans = np.array([rooms[k].span(part) for k, part in zip(panel.tolist(), parts, strict=True)])
    low, high = spans[owner, ::2], spans[owner, 1::2]
    through = points[:, ::2]
    flat = np.stack((low - through, through - high), axis=2).reshape(-1, 4)
    slopes = [list(slopes_of(one)) for one in scene.panels]
    padded = np.zeros((len(slopes), max(map(len, slopes)), 3))
    padded[..., 2] = np.inf
    for k, rows in enumerate(slopes):
        padded[k, : len(rows)] = rows
    own = padded[panel[owner]]
    sloped = np.einsum("msc,mc->ms", own[..., :2], points[:, :2]) - own[..., 2]
    lining = np.array([_may_line(scene.panels[k], part) for k, part in zip(panel.tolist(), parts, strict=True)])
    sloped[lining[owner][:, None] & (own[..., 1] < 0.0)] = -np.inf
    return np.concatenate((flat, sloped), axis=1)


def _may_line(panel: Panel, part: Member | Sheet) -> bool:
    """Whether a part is a sheet of a dormer, which reaches down to the roof below or lines the opening in it."""
    return panel.dormer != "" and isinstance(part, Sheet)


@dataclass(frozen=True, slots=True)
class _Room:
    """Where the parts of one panel may lie: its length, depth (z) and layers, mm."""

    length: float
    depth: tuple[float, float]
    layers: dict[str, Layer]

    @classmethod
    def of(cls, panel: Panel) -> _Room:
        return cls(panel.length, panel.depth, {layer.name: layer for layer in panel.layers})

    def span(self, part: Member | Sheet) -> tuple[float, float, float, float]:
        """Least and greatest panel x, least and greatest z of a part."""
        low, high = self.depth
        layer = self.layers.get(part.layer)
        z0, z1 = (low, high) if layer is None else (layer.z0, layer.z1)
        if part.loose or (isinstance(part, Member) and part.role is Role.CAP_PLATE):
            return -math.inf, math.inf, z0, z1
        lap = 0.0 if layer is not None and layer.kind is LayerKind.FRAMING else high - low
        return -lap, self.length + lap, z0, z1


def sheet_sheet(scene: Scene) -> list[Finding]:
    """One finding for each two sheets of a layer that overlap."""
    sheeting = scene.sheeting
    boxes = sheeting.boxes.grown(-TOLERANCE / 2)
    i, j = overlapping(boxes, boxes, sheeting.panel, sheeting.panel)

    def shrunk(sheet: Sheet, frame: Frame) -> Any:
        return face_in(sheet, frame).buffer(-TOLERANCE / 2)

    findings = []
    for a, b in zip(i[i < j].tolist(), j[i < j].tolist(), strict=True):
        first, second = sheeting.sheets[a], sheeting.sheets[b]
        if first.layer != second.layer:
            continue
        shared = shrunk(first, first.frame).intersection(shrunk(second, first.frame))
        if shared.is_empty:
            continue
        x, y = shared.representative_point().coords[0]
        findings.append(
            found(
                "sheet.sheet",
                scene.panels[sheeting.panel[a]],
                parts=(first.id, second.id),
                point=first.frame.point(x, y, first.thickness / 2),
                value=shared.area,
                limit=0.0,
                unit="mm2",
                source="no two parts share space",
                layer=first.layer,
            )
        )
    return findings
