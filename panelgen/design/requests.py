"""What the trades ask of the whole house, kept so that a panel finds its own share at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from typing import TypeVar

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.junctions import ResolvedWall
from panelgen.design.services import house_run
from panelgen.geometry.frames import Floats, Frame, Vec3
from panelgen.model import ServiceRun
from panelgen.spec import HouseSpec
from panelgen.spec.services import BackingSpec, BoxSpec, SleeveSpec

__all__ = ["Requests", "requests_of"]

_OnWall = TypeVar("_OnWall", BackingSpec, BoxSpec, SleeveSpec)


@dataclass(frozen=True, slots=True, eq=False)
class Requests:
    """Runs in house coordinates with their boxes (`low` and `high`, (n, 3) mm); the rest by wall id.

    `clearance` is what a bore adds to a run's diameter (mm), by run id.
    """

    runs: tuple[ServiceRun, ...]
    low: Floats
    high: Floats
    clearance: Mapping[str, float]
    boxes: Mapping[str, Sequence[BoxSpec]]
    sleeves: Mapping[str, Sequence[SleeveSpec]]
    backing: Mapping[str, Sequence[BackingSpec]]

    def runs_near(self, frame: Frame, lower: Vec3, upper: Vec3) -> list[ServiceRun]:
        """The runs whose boxes meet the box `lower` to `upper` of a frame (mm)."""
        corners = frame.to_parent(list(product(*zip(lower, upper, strict=True))))
        meets = np.all((self.high >= corners.min(axis=0)) & (self.low <= corners.max(axis=0)), axis=1)
        return [self.runs[index] for index in np.flatnonzero(meets).tolist()]


def requests_of(spec: HouseSpec, resolved: Sequence[ResolvedWall], catalog: Catalog) -> Requests:
    """Gather the runs, boxes, sleeves and backing of a spec. Raises SpecError as `house_run` does."""
    frames = {one.wall.id: one.wall.frame for one in resolved}
    layers = {one.wall.id: one.wall.layers for one in resolved}
    runs = tuple(house_run(run, frames, layers, catalog) for run in spec.runs)
    paths = [np.array(run.path) for run in runs]
    reach = np.array([run.diameter / 2 for run in runs]).reshape(-1, 1)
    unsized = catalog.bore_clearance("other").clearance
    return Requests(
        runs,
        np.array([path.min(axis=0) for path in paths]).reshape(-1, 3) - reach,
        np.array([path.max(axis=0) for path in paths]).reshape(-1, 3) + reach,
        {run.id: catalog.service_size(run.size).bore_clearance if run.size else unsized for run in spec.runs},
        _by_wall(spec.boxes),
        _by_wall(spec.sleeves),
        _by_wall(spec.backing),
    )


def _by_wall(rows: Sequence[_OnWall]) -> dict[str, list[_OnWall]]:
    walls: dict[str, list[_OnWall]] = {}
    for row in rows:
        walls.setdefault(row.wall, []).append(row)
    return walls
