"""Runs that go on from panel to panel: both sides of a joint must meet."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from panelgen.checks.codes import found
from panelgen.geometry.frames import Floats
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, House, RunPart

__all__ = ["run_joint"]

_AHEAD = 1.0
"""mm. How far beyond the end of a stretch its continuation is looked for."""


@dataclass(frozen=True, slots=True, eq=False)
class _OpenEnd:
    """An end at which a run goes on: the panel's index, the part, the place and the unit direction, in the house."""

    panel: int
    part: RunPart
    place: Floats
    onward: Floats


def run_joint(house: House) -> list[Finding]:
    """One finding for each end of a stretch that goes on and is not met.

    A run that goes on into another panel must be there, within the tolerance. One that goes on between
    panels must at least end on the run's own path through the house, where that is known.
    """
    paths: dict[str, list[tuple[int, Floats]]] = {}
    ends: list[_OpenEnd] = []
    for index, panel in enumerate(house.panels):
        for part in panel.runs:
            path = panel.frame.to_parent(part.path)
            paths.setdefault(part.run, []).append((index, path))
            if part.enters:
                ends.append(_OpenEnd(index, part, path[0], _unit(path[0] - path[1])))
            if part.leaves:
                ends.append(_OpenEnd(index, part, path[-1], _unit(path[-1] - path[-2])))
    if not ends:
        return []
    whole = {run.id: np.array(run.path, dtype=float) for run in house.runs}
    into = _panels_ahead(house, ends)
    findings = []
    for end, ahead in zip(ends, into, strict=True):
        others = [path for index, path in paths[end.part.run] if index in ahead]
        if ahead:
            gap = min((_distance(end.place, path) for path in others), default=np.inf)
        elif end.part.run in whole:
            gap = _distance(end.place, whole[end.part.run])
        else:
            continue
        if gap > TOLERANCE:
            panel = house.panels[end.panel]
            findings.append(
                found(
                    "run.joint",
                    panel,
                    parts=(end.part.run,),
                    point=panel.frame.to_local(end.place),
                    value=gap if np.isfinite(gap) else None,
                    limit=0.0 if np.isfinite(gap) else None,
                    source="both sides of a joint meet",
                    run=end.part.run,
                )
            )
    return findings


def _unit(vector: Floats) -> Floats:
    result: Floats = vector / np.linalg.norm(vector)
    return result


def _panels_ahead(house: House, ends: list[_OpenEnd]) -> list[set[int]]:
    """For each open end the indices of the other panels whose framing lies just beyond it."""
    points = np.array([end.place + _AHEAD * end.onward for end in ends])
    origins = np.array([panel.frame.origin for panel in house.panels])
    axes = np.array([panel.frame.axes for panel in house.panels])
    local = np.einsum("epc,pkc->epk", points[:, None] - origins, axes)
    high = np.array([(panel.length, panel.height, panel.framing.z1) for panel in house.panels])
    low = np.array([(0.0, 0.0, panel.framing.z0) for panel in house.panels])
    inside = ((local > low) & (local < high)).all(axis=2)
    return [set(np.flatnonzero(row).tolist()) - {end.panel} for row, end in zip(inside, ends, strict=True)]


def _distance(point: Floats, path: Floats) -> float:
    """Distance of a point from a polyline (n, 3)."""
    along = np.diff(path, axis=0)
    offset = point - path[:-1]
    size = np.maximum(np.einsum("nc,nc->n", along, along), 1e-12)
    at = np.clip(np.einsum("nc,nc->n", offset, along) / size, 0.0, 1.0)
    return float(np.linalg.norm(offset - at[:, None] * along, axis=1).min())
