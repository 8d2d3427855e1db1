"""Nails and screws in runs, beside their sticks, or at the edges of sheets."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from panelgen.model import Fasteners, HardwareKind, Sheet
from tests.checks.builders import WHY
from tests.checks.faults.in_wood import picked, with_run
from tests.checks.faults.places import cavity_run, outside, run_spec, upright_run
from tests.checks.faults.registry import Case, changed, fault
from tests.checks.faults.walls import Wall


@fault("screw through a pipe")
def screw_through_pipe(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A shank of 4 mm beside the middle of a run, at least 0.1 mm inside it, the point beyond."""
    size = picked(rng)
    place = upright_run(rng, wall, outside(size))
    if place is None:
        return None
    x, z = sum(place.gap) / 2, wall.depth / 2
    house = with_run(wall, place.spec("bad", size, x, z))
    off = (outside(size) / 2 + 2.0 - 0.1) * float(rng.choice((1.0, rng.uniform(-1.0, 1.0))))
    head = (x + off, float(rng.uniform(place.y0 + 10.0, place.y1 - 10.0)), wall.depth)
    return Case(
        changed(house, fasteners=(*house.panels[0].fasteners, _screw(head, wall.depth / 2 + 5.0))),
        "fastener.run",
        "bad",
    )


@fault("screw point in a pipe")
def point_in_pipe(rng: np.random.Generator, wall: Wall) -> Case | None:
    """The point of a screw 0.1 mm deep in the side of a run."""
    size = picked(rng)
    place = upright_run(rng, wall, outside(size))
    if place is None:
        return None
    x, z = sum(place.gap) / 2, wall.depth / 2
    house = with_run(wall, place.spec("bad", size, x, z))
    head = (x, float(rng.uniform(place.y0 + 10.0, place.y1 - 10.0)), wall.depth)
    screw = _screw(head, wall.depth / 2 - outside(size) / 2 + 0.1)
    return Case(changed(house, fasteners=(*house.panels[0].fasteners, screw)), "fastener.run", "bad")


def _screw(head: tuple[float, float, float], length: float) -> Fasteners:
    one = np.zeros(1, dtype=np.int64)
    return Fasteners("screw", "screw", length, 4.0, np.array([head]), (0.0, 0.0, -1.0), one, one, False, WHY)


@fault("nails miss their stick")
def nails_miss(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A row of sheet nails moved off its stick."""
    panel = wall.panel
    rows = [one for one in panel.fasteners if one.fastens_sheets and len(one)]
    if not rows:
        return None
    batch = rows[int(rng.integers(0, len(rows)))]
    points = batch.points.copy()
    nail = int(rng.integers(0, len(points)))
    stick = panel.members[int(batch.into[nail])]
    across = 1 if abs(stick.frame.x[0]) > 0.9 else 0
    points[nail, across] += float(rng.choice((-1.0, 1.0))) * float(rng.uniform(160.0, 180.0))
    other = replace(batch, points=points)
    nails = tuple(other if one is batch else one for one in panel.fasteners)
    return Case(changed(wall.house, fasteners=nails), "fastener.miss", batch.id)


@fault("nails at the edge of a sheet")
def nails_at_edge(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A nail 1 to 8 mm from the left edge of a rectangular sheet: the schedules ask for 3/8 in., 9.5 mm."""
    panel = wall.panel
    rows = [
        one
        for one in panel.fasteners
        if one.fastens_sheets and len(one) and _is_rectangle(panel.sheets[int(one.fastened[0])])
    ]
    if not rows:
        return None
    batch = rows[int(rng.integers(0, len(rows)))]
    points = batch.points.copy()
    sheet = panel.sheets[int(batch.fastened[0])]
    points[0, 0] = sheet.frame.origin[0] + min(x for x, _ in sheet.outline) + float(rng.uniform(1.0, 8.0))
    other = replace(batch, points=points)
    nails = tuple(other if one is batch else one for one in panel.fasteners)
    return Case(changed(wall.house, fasteners=nails), "fastener.edge", batch.id)


def _is_rectangle(sheet: Sheet) -> bool:
    return len({x for x, _ in sheet.outline}) == len({y for _, y in sheet.outline}) == 2


@fault("board screws without a plate")
def board_screws(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A run up the cavity past the straps; the plates that the design adds are left out."""
    place = cavity_run(rng, wall)
    if place is None:
        return None
    x, z = sum(place.gap) / 2, wall.panel.depth[0] + 16.0
    house = with_run(wall, run_spec("bad", picked(rng), [[x, place.y0, z], [x, place.y1, z]]))
    rest = tuple(one for one in house.panels[0].hardware if one.kind is not HardwareKind.SHIELD)
    return Case(changed(house, hardware=rest), "run.screws", "bad")
