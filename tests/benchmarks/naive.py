"""The straightforward way, to compare with: a CadQuery chain a part, and a common solid a pair of parts.

It is what a competent user of CadQuery writes first. Every part is made anew: a box or an extruded
outline, then one cut for each hole; a nail is a cylinder. A clash is a common volume of two parts of one
panel whose bounding boxes overlap by more than the package's own tolerance on every axis, so parts that
merely touch are not asked for, nor any two parts that belong to one run. Nails are asked for against runs
only, as the checks do: they belong in wood.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import cadquery as cq
import numpy as np

from panelgen.geometry.frames import Floats, Frame
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Box, Panel, RunPart, Sheet
from tests.solids.oracle import solid_of_member

__all__ = ["NaivePart", "candidate_pairs", "clashing", "nail_pairs", "nails_of", "parts_of"]

_SPECK = 1.0  # mm3


class NaivePart(NamedTuple):
    """A part's id and its solid in panel coordinates."""

    id: str
    solid: cq.Shape


def parts_of(panel: Panel) -> list[NaivePart]:
    """Solids of members, sheets, runs (a cylinder or bar a stretch) and boxes."""
    parts = [NaivePart(member.id, _placed(solid_of_member(member), member.frame)) for member in panel.members]
    parts += [NaivePart(sheet.id, _placed(_sheet(sheet), sheet.frame)) for sheet in panel.sheets]
    for run in panel.runs:
        parts += [NaivePart(run.id, stretch.val()) for stretch in _stretches(run)]
    parts += [NaivePart(box.id, _placed(_box(box), box.frame)) for box in panel.boxes]
    return parts


def nails_of(panel: Panel) -> list[NaivePart]:
    """A cylinder for each nail or screw of a panel."""
    nails = []
    for row in panel.fasteners:
        for head in row.points.tolist():
            shank = cq.Workplane(cq.Plane(head, normal=row.direction)).circle(row.shank / 2).extrude(row.length)
            nails.append(NaivePart(row.id, shank.val()))
    return nails


def candidate_pairs(parts: Sequence[NaivePart]) -> list[tuple[int, int]]:
    """Pairs of different parts whose bounding boxes overlap by more than the tolerance on every axis."""
    return [(i, j) for i, j in _overlapping(parts, parts) if i < j and parts[i].id != parts[j].id]


def nail_pairs(nails: Sequence[NaivePart], runs: Sequence[NaivePart]) -> list[tuple[int, int]]:
    """A nail and a stretch of a run, by their places in the two lists, whose bounding boxes overlap."""
    return _overlapping(nails, runs)


def _overlapping(some: Sequence[NaivePart], others: Sequence[NaivePart]) -> list[tuple[int, int]]:
    if not (some and others):
        return []
    (low, high), (other_low, other_high) = _bounds(some), _bounds(others)
    shared = np.minimum(high[:, None], other_high[None]) - np.maximum(low[:, None], other_low[None])
    first, second = np.nonzero((shared > TOLERANCE).all(axis=2))
    return list(zip(first.tolist(), second.tolist(), strict=True))


def _bounds(parts: Sequence[NaivePart]) -> tuple[Floats, Floats]:
    boxes = [part.solid.BoundingBox() for part in parts]
    return (
        np.array([(box.xmin, box.ymin, box.zmin) for box in boxes]),
        np.array([(box.xmax, box.ymax, box.zmax) for box in boxes]),
    )


def clashing(
    some: Sequence[NaivePart], others: Sequence[NaivePart], pairs: Sequence[tuple[int, int]]
) -> list[tuple[str, str]]:
    """The pairs that share more than a speck, by the volume of what they have in common."""
    return [
        (some[i].id, others[j].id)
        for i, j in pairs
        if sum(solid.Volume() for solid in some[i].solid.intersect(others[j].solid).Solids()) > _SPECK
    ]


def _placed(work: cq.Workplane, frame: Frame) -> cq.Shape:
    plane = cq.Plane(frame.origin, xDir=frame.x, normal=frame.z)
    return work.val().located(cq.Location(plane))


def _sheet(sheet: Sheet) -> cq.Workplane:
    work = cq.Workplane().polyline(sheet.outline).close().extrude(sheet.thickness)
    for cutout in sheet.cutouts:
        work = work.cut(cq.Workplane().polyline(cutout).close().extrude(sheet.thickness))
    for hole in sheet.round_holes:
        drill = cq.Workplane().center(hole.x, hole.y).circle(hole.diameter / 2).extrude(sheet.thickness)
        work = work.cut(drill)
    return work


def _stretches(run: RunPart) -> list[cq.Workplane]:
    made = []
    for a, b in pairwise(map(cq.Vector, run.path)):
        along = b - a
        sketch = cq.Workplane(cq.Plane(a, normal=along))
        outline = sketch.circle(run.diameter / 2) if run.section is None else sketch.rect(*run.section)
        made.append(outline.extrude(along.Length))
    return made


def _box(box: Box) -> cq.Workplane:
    return cq.Workplane().box(*box.size, centered=False)
