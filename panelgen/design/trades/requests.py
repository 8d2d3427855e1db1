"""What the trades ask of the whole house, kept so that a panel finds its own share at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.floors.outline import Deck
from panelgen.design.roofs.slope import Slope
from panelgen.design.services.fittings import fittings_of
from panelgen.design.services.runs import Space, house_run, parts_in
from panelgen.design.trades.backing import TradeRow, trade_rows
from panelgen.design.walls.junctions import ResolvedWall
from panelgen.geometry.frames import Floats, Frame, Vec3, add, dot, scaled
from panelgen.geometry.stretches import Stretches
from panelgen.model import Finding, Fitting, RunPart, ServiceRun
from panelgen.spec import HouseSpec
from panelgen.spec.services import BackingSpec, BoxSpec, SleeveSpec

__all__ = ["Requests", "requests_of"]

_EPS = 1e-6
_OnWall = TypeVar("_OnWall", BackingSpec, BoxSpec, SleeveSpec)


@dataclass(frozen=True, slots=True, eq=False)
class Requests:
    """Runs in house coordinates, their stretches and their boxes (`low` and `high`, (n, 3) mm); the rest by wall id.

    `clearance` is what a bore adds to a run's diameter (mm), by run id. `fittings` are those of the runs,
    at `fitting_points` (m, 3) mm in the house; `findings` say where no fitting suits, or no backing.
    `trades` are rows that must be backed.
    """

    runs: tuple[ServiceRun, ...]
    stretches: Stretches
    low: Floats
    high: Floats
    clearance: Mapping[str, float]
    boxes: Mapping[str, Sequence[BoxSpec]]
    sleeves: Mapping[str, Sequence[SleeveSpec]]
    backing: Mapping[str, Sequence[BackingSpec]]
    fittings: tuple[Fitting, ...]
    fitting_points: Floats
    findings: tuple[Finding, ...]
    trades: Mapping[str, Sequence[TradeRow]]

    def runs_in(self, spaces: Sequence[Space]) -> list[tuple[RunPart, ...]]:
        """The stretches of the runs inside each space, in the coordinates of its frame, run after run."""
        return parts_in(self.runs, self.stretches, spaces)

    def fittings_in(self, space: Space) -> tuple[Fitting, ...]:
        """The fittings centred in a space, in the coordinates of its frame."""
        local = space.frame.to_local(self.fitting_points)
        inside = np.all((local >= np.array(space.lower) - _EPS) & (local <= np.array(space.upper) + _EPS), axis=1)
        return tuple(_seen_from(space.frame, self.fittings[index]) for index in np.flatnonzero(inside).tolist())


def requests_of(
    spec: HouseSpec,
    resolved: Sequence[ResolvedWall],
    decks: Sequence[Deck],
    slopes: Sequence[Slope],
    catalog: Catalog,
) -> Requests:
    """Gather the runs, boxes, sleeves and backing of a spec. Raises SpecError as `house_run` does."""
    frames = {one.wall.id: one.wall.frame for one in resolved} | {deck.spec.id: deck.frame for deck in decks}
    frames |= {one.plane.id: one.plane.frame for one in slopes}
    layers = {one.wall.id: one.wall.layers for one in resolved} | {deck.spec.id: deck.layers for deck in decks}
    layers |= {one.plane.id: one.layers for one in slopes}
    runs = tuple(house_run(run, frames, layers, catalog) for run in spec.runs)
    paths = [np.array(run.path) for run in runs]
    reach = np.array([run.outside_diameter / 2 for run in runs]).reshape(-1, 1)
    fittings, findings = fittings_of(spec.runs, runs, catalog)
    backing, trades, trade_findings = trade_rows(spec, resolved, catalog)
    unsized = catalog.bore_clearance("other").clearance
    return Requests(
        runs,
        Stretches.of([run.path for run in runs]),
        np.array([path.min(axis=0) for path in paths]).reshape(-1, 3) - reach,
        np.array([path.max(axis=0) for path in paths]).reshape(-1, 3) + reach,
        {run.id: catalog.service_size(run.size).bore_clearance if run.size else unsized for run in spec.runs},
        _by_wall(spec.boxes),
        _by_wall(spec.sleeves),
        _by_wall((*spec.backing, *backing)),
        fittings,
        np.array([fitting.point for fitting in fittings]).reshape(-1, 3),
        (*findings, *trade_findings),
        trades,
    )


def _seen_from(frame: Frame, fitting: Fitting) -> Fitting:
    """A fitting of the house in a frame's coordinates."""
    axes = (frame.x, frame.y, frame.z)

    def turned(vector: Vec3) -> Vec3:
        x, y, z = (dot(vector, axis) for axis in axes)
        return (x, y, z)

    other = None if fitting.other is None else turned(fitting.other)
    return replace(
        fitting, point=turned(add(fitting.point, scaled(frame.origin, -1.0))), axis=turned(fitting.axis), other=other
    )


def _by_wall(rows: Sequence[_OnWall]) -> dict[str, list[_OnWall]]:
    walls: dict[str, list[_OnWall]] = {}
    for row in rows:
        walls.setdefault(row.wall, []).append(row)
    return walls
