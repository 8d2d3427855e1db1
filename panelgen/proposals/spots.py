"""What a run clashes with, as boxes in panel coordinates: enough to see at once which moves cannot help."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from panelgen.checks.codes import CODES
from panelgen.design.extents import extent_of
from panelgen.geometry.frames import Floats, Vec3
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, Panel, ServiceRun

__all__ = ["Spot", "inner_radius", "spot_of"]

_AXIS = 0.5
_WHOLE_DEPTH = 1e4
"""mm. An opening goes through all layers."""


@dataclass(frozen=True, slots=True, eq=False)
class Spot:
    """The other parts of a finding: `low` and `high` (n, 3) in panel coordinates, mm.

    `bored` (n, 3) is the direction in which a stick may be bored, through its wide faces; zero for other things.
    """

    panel: Panel
    low: Floats
    high: Floats
    bored: Floats

    def is_met(self, path: Sequence[Vec3], radius: float) -> bool:
        """Whether a run along `path` (house coordinates, mm) takes space that these parts take for sure."""
        points = self.panel.frame.to_local(path)
        start, end = points[:-1, None], points[1:, None]
        along = end - start
        length = np.linalg.norm(along, axis=2, keepdims=True)
        direction = along / np.maximum(length, TOLERANCE)
        straight = np.abs(direction).max(axis=2) > 1 - TOLERANCE**2
        reach = radius * (np.abs(direction) < 0.5)
        inside = (np.minimum(start, end) - reach < self.high - TOLERANCE) & (
            np.maximum(start, end) + reach > self.low + TOLERANCE
        )
        crosses = np.abs(np.einsum("snc,nc->sn", direction, self.bored)) > _AXIS
        return bool((inside.all(axis=2) & straight & ~crosses).any())

    def around(self) -> tuple[Vec3, Vec3] | None:
        """The box around all of it, mm; None where there is nothing."""
        if not len(self.low):
            return None
        (x0, y0, z0), (x1, y1, z1) = self.low.min(axis=0).tolist(), self.high.max(axis=0).tolist()
        return (x0, y0, z0), (x1, y1, z1)


def spot_of(panel: Panel, finding: Finding, runs: Sequence[ServiceRun], moving: str) -> Spot:
    """The parts of a finding but for the one that moves. Only parts that a clash with is for sure are taken."""
    rows = list(_boxes(panel, finding, runs, moving)) if finding.code in (*_SPATIAL, *_NO_HOLE) else []
    table = np.array(rows, dtype=float).reshape(-1, 3, 3)
    return Spot(panel, table[:, 0], table[:, 1], table[:, 2])


_SPATIAL = {code for code in CODES if code.split(".")[0] in ("run", "box")}
_NO_HOLE = ("bore.size", "bore.successive", "bore.plate", "bore.unruled")
"""Codes of holes that no other place in the stick makes right."""

_NO_AXIS = (0.0, 0.0, 0.0)
_Row = tuple[Vec3, Vec3, Vec3]


def _boxes(panel: Panel, finding: Finding, runs: Sequence[ServiceRun], moving: str) -> Iterator[_Row]:
    wanted = [part for part in finding.parts if part != moving]
    for member in panel.members:
        if member.id in wanted:
            x0, x1, y0, y1, z0, z1 = extent_of(member)
            yield (x0, y0, z0), (x1, y1, z1), _NO_AXIS if finding.code in _NO_HOLE else member.frame.z
    for opening in panel.openings:
        if opening.id in wanted:
            yield (opening.x0, opening.y0, -_WHOLE_DEPTH), (opening.x1, opening.y1, _WHOLE_DEPTH), _NO_AXIS
    for box in panel.boxes:
        if box.id in wanted:
            corners = np.array([box.frame.origin, box.frame.point(*box.size)])
            low, high = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
            yield tuple(low), tuple(high), _NO_AXIS
    for run in runs:
        if run.id in wanted:
            yield from _run_boxes(panel, run)


def _run_boxes(panel: Panel, run: ServiceRun) -> Iterator[_Row]:
    radius = inner_radius(run)
    for a, b in pairwise(panel.frame.to_local(run.path)):
        along = np.abs(b - a)
        if along.max() > (1 - 1e-6) * np.linalg.norm(along):
            reach = np.where(along == along.max(), 0.0, radius)
            yield tuple((np.minimum(a, b) - reach).tolist()), tuple((np.maximum(a, b) + reach).tolist()), _NO_AXIS


def inner_radius(run: ServiceRun) -> float:
    """Of the greatest circle inside a run's section, mm."""
    section = run.outside_section
    return run.outside_diameter / 2 if section is None else min(section) / 2
