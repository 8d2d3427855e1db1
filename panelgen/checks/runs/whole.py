"""Runs as they go through the house, for checks that a stretch inside one panel cannot answer."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

from panelgen.checks.codes import found
from panelgen.checks.scene import Scene
from panelgen.geometry.frames import Vec3
from panelgen.geometry.tolerance import TOLERANCE
from panelgen.model import Finding, House, Panel, ServiceRun

__all__ = ["found_on_run", "middle", "runs_in", "stretches"]


def runs_in(scene: Scene, house: House) -> tuple[ServiceRun, ...]:
    """The runs of the house that have a stretch in the scene; all of them where the scene is the whole house.

    A run whose points are all one has no stretch.
    """
    runs = house.runs
    if not _is_whole(scene, house):
        here = {part.run for part in scene.lines.runs}
        runs = tuple(run for run in runs if run.id in here)
    return tuple(run for run in runs if any(point != run.path[0] for point in run.path))


def stretches(run: ServiceRun) -> Iterator[tuple[Vec3, Vec3]]:
    """The straight stretches of a run that have a length, from its first point on."""
    return ((a, b) for a, b in pairwise(run.path) if a != b)


def middle(a: Vec3, b: Vec3) -> Vec3:
    """Halfway between two points."""
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def found_on_run(
    scene: Scene, house: House, code: str, run: ServiceRun, point: Vec3, *others: str, **more: Any
) -> list[Finding]:
    """The finding of a run at a house point: of the panel there, or of none where the run is between panels.

    `others` are the parts besides the run, `more` as in `found`. Nothing where the point is in no panel of a
    scene that is only a part of the house: another scene tells of it.
    """
    home = next((one for one in scene.panels if _holds(one, point)), None)
    if home is None and not _is_whole(scene, house):
        return []
    panel = home or scene.panels[0]
    place = panel.frame.to_local(point)
    finding = found(code, panel, parts=(run.id, *others), point=place, run=run.id, **more)
    return [finding if home else replace(finding, panel="", point=None)]


def _is_whole(scene: Scene, house: House) -> bool:
    return len(scene.panels) == len(house.panels)


def _holds(panel: Panel, point: Vec3) -> bool:
    x, y, z = panel.frame.to_local(point).tolist()
    low, high = panel.depth
    across = -TOLERANCE <= x <= panel.length + TOLERANCE and -TOLERANCE <= y <= panel.height + TOLERANCE
    return bool(across and low - TOLERANCE <= z <= high + TOLERANCE)
