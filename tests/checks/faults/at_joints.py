"""Faults between two panels of a wall."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from tests.checks.faults.in_wood import picked, with_run
from tests.checks.faults.places import run_spec
from tests.checks.faults.registry import Case, changed, fault
from tests.checks.faults.walls import Wall


@fault("run mismatched at a joint", joined=True)
def joint_mismatch(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A run along two panels, its stretch in the second moved up by 0.1 mm and more."""
    first, second = wall.house.panels[:2]
    y, z = float(rng.uniform(300.0, 900.0)), wall.depth / 2
    x0, x1 = first.length - float(rng.uniform(300.0, 900.0)), first.length + float(rng.uniform(300.0, 900.0))
    house = with_run(wall, run_spec("bad", picked(rng), [[x0, y, z], [x1, y, z]]))
    second = house.panels[1]
    off = float(rng.choice((0.1, rng.uniform(0.2, 30.0))))
    runs = tuple(replace(one, path=tuple((x, y + off, z) for x, y, z in one.path)) for one in second.runs)
    return Case(changed(house, second, runs=runs), "run.joint", "bad") if runs else None


@fault("run not taken up at a joint", joined=True)
def not_taken_up(rng: np.random.Generator, wall: Wall) -> Case | None:
    first = wall.house.panels[0]
    y, z = float(rng.uniform(300.0, 900.0)), wall.depth / 2
    house = with_run(wall, run_spec("bad", picked(rng), [[first.length - 500.0, y, z], [first.length + 500.0, y, z]]))
    return Case(changed(house, house.panels[1], runs=()), "run.joint", "bad")


@fault("panels overlap", joined=True)
def panels_overlap(rng: np.random.Generator, wall: Wall) -> Case | None:
    """The second panel set 0.1 mm and more too near the first."""
    second = wall.house.panels[1]
    into = float(rng.choice((0.1, rng.uniform(0.2, 30.0))))
    frame = replace(second.frame, origin=second.frame.point(-into, 0.0, 0.0))
    panels = tuple(replace(one, frame=frame) if one is second else one for one in wall.house.panels)
    end = max((one for one in second.members if one.layer == "framing"), key=lambda one: -one.corners()[:, 0].min())
    return Case(replace(wall.house, panels=panels), "panel.panel", end.id)


@fault("panels apart", joined=True)
def panels_apart(rng: np.random.Generator, wall: Wall) -> Case | None:
    """The second panel set farther from the first than the crew can close, 1/8 in. and more."""
    first, second = wall.house.panels[:2]
    away = 3.175 + float(rng.choice((0.1, rng.uniform(0.2, 30.0))))
    frame = replace(second.frame, origin=second.frame.point(away, 0.0, 0.0))
    panels = tuple(replace(one, frame=frame) if one is second else one for one in wall.house.panels)
    return Case(replace(wall.house, panels=panels), "joint.gap", f"{first.label} | {second.label}")
