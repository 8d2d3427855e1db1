"""Random panels of studs with runs through them, some in bores and some not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from panelgen.geometry.frames import Frame, Vec3, cross
from panelgen.model import Bore, Member, Panel, RunPart
from tests.checks.builders import DEPTH, opening, panel, plate, run, stud

LENGTH = 4000.0


def random_panel(rng: np.random.Generator) -> Panel:
    """Studs, plates, a window and a few level, upright and slanted runs; about half of the crossings are bored."""
    runs = [_random_run(rng, f"r{k}") for k in range(int(rng.integers(1, 5)))]
    studs = [_bored(rng, stud(float(x)), runs) for x in np.arange(0.0, LENGTH, 400.0)]
    plates = [plate("bottom", 0.0, LENGTH), plate("top", 2400.3, LENGTH)]
    return panel([*studs, *plates], runs, length=LENGTH, openings=(opening("W1", 1500.0, 2400.0, 900.0, 2000.0),))


def _random_run(rng: np.random.Generator, id: str) -> RunPart:
    diameter = float(rng.choice((12.7, 22.2, 48.3)))
    y, z = rng.uniform(100, 2300), rng.uniform(30, DEPTH - 30)
    start, end = sorted(rng.uniform(0, LENGTH, 2))
    kind = rng.integers(3)
    if kind == 0:
        path = [(start, y, z), (end + 50.0, y, z)]
    elif kind == 1:
        path = [(start, y, z), (end + 50.0, y, z), (end + 50.0, rng.uniform(100, 2300), z)]
    else:
        path = [(start, y, z), (end + 50.0, rng.uniform(100, 2300), rng.uniform(30, DEPTH - 30))]
    return run(*(tuple(map(float, point)) for point in path), id=f"{id}.1", diameter=diameter, system=f"system {id}")


def _bored(rng: np.random.Generator, stick: Member, runs: list[RunPart]) -> Member:
    x = stick.frame.origin[0] + 19.05
    bores = []
    for part in runs:
        (xa, ya, za), (xb, yb, zb), *_ = part.path
        if min(xa, xb) < x < max(xa, xb) and rng.random() < 0.6:
            share = (x - xa) / (xb - xa)
            y, z = ya + share * (yb - ya), za + share * (zb - za)
            bores.append(Bore((y - 38.1, z, 0.0), part.diameter + float(rng.choice((0.5, 3.0, 12.0))), run=part.run))
    return replace(stick, bores=tuple(bores))


def shifted(one: Panel, by: Vec3) -> Panel:
    """The same parts elsewhere in the panel's coordinates."""

    def moved(point: Vec3) -> Vec3:
        return (point[0] + by[0], point[1] + by[1], point[2] + by[2])

    return replace(
        one,
        members=tuple(replace(m, frame=replace(m.frame, origin=moved(m.frame.origin))) for m in one.members),
        runs=tuple(replace(r, path=tuple(map(moved, r.path))) for r in one.runs),
    )


def mirrored(one: Panel) -> Panel:
    """The panel seen in a mirror: x turned about. Sticks keep right-handed frames, so they are turned end for end."""

    def seen(point: Vec3) -> Vec3:
        return (LENGTH - point[0], point[1], point[2])

    return replace(
        one,
        members=tuple(_mirrored_stick(m) for m in one.members),
        runs=tuple(replace(r, path=tuple(map(seen, r.path))) for r in one.runs),
        openings=tuple(replace(o, x0=LENGTH - o.x1, x1=LENGTH - o.x0) for o in one.openings),
    )


def _mirrored_stick(m: Member) -> Member:
    """A square stick in a mirror: its thickness axis is turned about, and with it every bore."""
    x, y = ((-axis[0], axis[1], axis[2]) for axis in (m.frame.x, m.frame.y))
    far = m.frame.point(0.0, 0.0, m.thickness)
    frame = Frame((LENGTH - far[0], far[1], far[2]), x, y)
    assert cross(x, y) == tuple(-c if k else c for k, c in enumerate(m.frame.z))
    bores = tuple(replace(b, point=(b.point[0], b.point[1], m.thickness - b.point[2])) for b in m.bores)
    return replace(m, frame=frame, bores=bores)
