"""Runs that go on from panel to panel: both sides of a joint must meet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from panelgen.checks.codes import found
from panelgen.checks.scene import Scene
from panelgen.geometry.boxes import Boxes, Ints, overlapping, spread
from panelgen.geometry.frames import Floats
from panelgen.geometry.rods import Rods
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, House, Panel, PanelKind

__all__ = ["run_joint"]

_CORNERS = np.array([(i >> 2 & 1, i >> 1 & 1, i & 1) for i in range(8)], dtype=bool)
_AHEAD = 1.0
"""mm. How far beyond the end of a stretch its continuation is looked for."""


@dataclass(frozen=True, slots=True, eq=False)
class _OpenEnds:
    """n ends at which a run goes on: indices of the panel and of the run's name (n,), place and unit direction
    onward (n, 3) in the house.
    """

    panel: Ints
    name: Ints
    place: Floats
    onward: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Segments:
    """Straight lines from `start` to `end`, (n, 3) each, sorted by `key` (n,)."""

    key: Ints
    start: Floats
    end: Floats

    @classmethod
    def sorted_by(cls, key: Ints, start: Floats, end: Floats) -> _Segments:
        order = np.argsort(key, kind="stable")
        return cls(key[order], start[order], end[order])

    def distances(self, points: Floats, keys: Ints) -> Floats:
        """(m,) distance of each point from the nearest line with its key; infinite where there is none."""
        first, last = np.searchsorted(self.key, keys, "left"), np.searchsorted(self.key, keys, "right")
        point, line = spread(first, last - first)
        along, offset = self.end[line] - self.start[line], points[point] - self.start[line]
        size = np.maximum(np.einsum("nc,nc->n", along, along), 1e-12)
        at = np.clip(np.einsum("nc,nc->n", offset, along) / size, 0.0, 1.0)
        result = np.full(len(points), np.inf)
        np.minimum.at(result, point, np.linalg.norm(offset - at[:, None] * along, axis=1))
        return result


def run_joint(scene: Scene, house: House) -> list[Finding]:
    """One finding for each end of a stretch that goes on and is not met.

    A run that goes on into another panel must be there, within the tolerance. One that goes on between
    panels must at least end on the run's own path through the house, where that is known.
    """
    lines = scene.lines
    if not len(lines):
        return []
    names = {name: k for k, name in enumerate(dict.fromkeys(part.run for part in lines.runs))}
    name = np.array([names[part.run] for part in lines.runs], dtype=np.int64)[lines.run]
    origins, axes = scene.frames()
    rods = lines.legs.rods.moved(axes[lines.panel], origins[lines.panel])
    ends = _open_ends(scene, rods, name)
    stretch = np.flatnonzero(lines.fitting < 0)
    of_panels = _Segments.sorted_by(
        name[stretch] * len(scene.panels) + lines.panel[stretch], rods.start[stretch], rods.end[stretch]
    )
    ahead, panel = _panels_ahead(scene, ends)
    gap = np.full(len(ends.panel), np.nan)
    met = of_panels.distances(ends.place[ahead], ends.name[ahead] * len(scene.panels) + panel)
    gap[ahead] = np.inf
    np.minimum.at(gap, ahead, met)
    alone = np.flatnonzero(np.isnan(gap))
    gap[alone] = _house_segments(house, names).distances(ends.place[alone], ends.name[alone])
    known = np.isin(ends.name, [names[run.id] for run in house.runs if run.id in names])
    loose = (gap > TOLERANCE) & (known | np.isin(np.arange(len(gap)), ahead))
    return [_finding(scene, ends, list(names), k, float(gap[k])) for k in np.flatnonzero(loose).tolist()]


def _open_ends(scene: Scene, rods: Rods, name: Ints) -> _OpenEnds:
    """The ends of run parts that are no true ends: the first start of each that enters, the last end that leaves."""
    lines = scene.lines
    stretch = lines.fitting < 0
    enters = stretch & ~rods.bend_start & ~lines.stops_at_start
    leaves = stretch & ~rods.bend_end & ~lines.stops_at_end
    rows = np.concatenate((np.flatnonzero(enters), np.flatnonzero(leaves)))
    return _OpenEnds(
        lines.panel[rows],
        name[rows],
        np.concatenate((rods.start[enters], rods.end[leaves])),
        np.concatenate((-rods.direction[enters], rods.direction[leaves])),
    )


def _house_segments(house: House, names: Mapping[str, int]) -> _Segments:
    rows = [(names[run.id], *a, *b) for run in house.runs if run.id in names for a, b in pairwise(run.path)]
    table = np.array(rows, dtype=float).reshape(-1, 7)
    return _Segments.sorted_by(table[:, 0].astype(np.int64), table[:, 1:4], table[:, 4:])


def _panels_ahead(scene: Scene, ends: _OpenEnds) -> tuple[Ints, Ints]:
    """Pairs of an open end and another panel whose framing lies just beyond it."""
    origins, axes = scene.frames()
    points = ends.place + _AHEAD * ends.onward
    high = np.array([(panel.length, panel.height, panel.framing.z1) for panel in scene.panels])
    low = np.array([(0.0, 0.0, panel.framing.z0) for panel in scene.panels])
    corners = np.where(_CORNERS, high[:, None], low[:, None]) @ axes + origins[:, None]
    end, panel = overlapping(Boxes(points, points).grown(TOLERANCE), Boxes.around(corners))
    local = np.einsum("ec,ekc->ek", points[end] - origins[panel], axes[panel])
    inside = ((local > low[panel]) & (local < high[panel])).all(axis=1) & (panel != ends.panel[end])
    for k in np.flatnonzero(inside).tolist():
        inside[k] = _is_within(scene.panels[panel[k]], local[k])
    return end[inside], panel[inside]


def _is_within(panel: Panel, point: Floats) -> bool:
    """Whether a panel point inside the box of the framing is in the framing: a roof panel has plumb sides."""
    if panel.kind is not PanelKind.ROOF:
        return True
    lean = panel.frame.y[2] / panel.frame.z[2]
    foot = point[1] - point[2] * lean
    outline = shapely.Polygon(panel.profile)
    return bool(shapely.contains_xy(outline, point[0], (foot, foot + panel.framing.z1 * lean)).all())


def _finding(scene: Scene, ends: _OpenEnds, names: Sequence[str], k: int, gap: float) -> Finding:
    panel, run = scene.panels[ends.panel[k]], names[ends.name[k]]
    return found(
        "run.joint",
        panel,
        parts=(run,),
        point=panel.frame.to_local(ends.place[k]),
        value=gap if gap < np.inf else None,
        limit=0.0 if gap < np.inf else None,
        source="both sides of a joint meet",
        run=run,
    )
