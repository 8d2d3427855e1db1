"""Runs that meet wood, or that a hole does not take."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from panelgen.model import House
from tests.checks.faults.places import Level, Upright, level_run, outside, run_spec, upright_run
from tests.checks.faults.registry import Case, changed, fault
from tests.checks.faults.walls import Wall

SMALL = ("nm-14/2", "nm-12/2", "pex-1/2", "pex-3/4", "copper-1/2", "emt-1/2")


def picked(rng: np.random.Generator) -> str:
    """A small size."""
    return str(rng.choice(SMALL))


def level(rng: np.random.Generator, wall: Wall, size: str) -> Level | None:
    """Room for that size along the wall."""
    return level_run(rng, wall, outside(size) + 8.0)


def with_run(wall: Wall, run: dict[str, Any]) -> House:
    """The wall with that run alone."""
    return wall.designed(runs=[run])


def _beside_stud(rng: np.random.Generator, wall: Wall, into: float) -> tuple[Upright, str, float] | None:
    """A run up a bay that goes `into` the stick beside it, mm: the place, the size and its x."""
    size = picked(rng)
    place = upright_run(rng, wall, outside(size))
    if place is None:
        return None
    side = place.gap[0] + outside(size) / 2 - into if rng.random() < 0.5 else place.gap[1] - outside(size) / 2 + into
    return place, size, side


@fault("hole too big")
def hole_too_big(rng: np.random.Generator, wall: Wall) -> Case | None:
    """More than 60 % of the stud: too big for every stud, doubled or not."""
    size = "pvc-3" if wall.stock == "2x6" else "pvc-2"
    place = level(rng, wall, size)
    if place is None or place.x1 - place.x0 > 2900.0:
        return None
    return Case(with_run(wall, place.spec("bad", size, system="vent")), "bore.size", "bad")


@fault("hole too near the edge")
def hole_near_edge(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Less than 5/8 in. of wood to the edge, by 0.2 mm and more."""
    size = picked(rng)
    place = level(rng, wall, size)
    if place is None:
        return None
    hole = outside(size) / 2 + 3.3
    z = hole + float(rng.uniform(0.5, 15.5 - 3.3))
    z = z if rng.random() < 0.5 else wall.depth - z
    return Case(with_run(wall, replace(place, z=z).spec("bad", size)), "bore.edge", "bad")


@fault("grazes a stud by 0.1 mm")
def grazes_stud(rng: np.random.Generator, wall: Wall) -> Case | None:
    found = _beside_stud(rng, wall, 0.1)
    if found is None:
        return None
    place, size, x = found
    return Case(with_run(wall, place.spec("bad", size, x, wall.depth / 2)), "run.member", "bad")


@fault("goes into a stud")
def goes_into_stud(rng: np.random.Generator, wall: Wall) -> Case | None:
    found = _beside_stud(rng, wall, float(rng.uniform(0.2, 8.0)))
    if found is None:
        return None
    place, size, x = found
    return Case(with_run(wall, place.spec("bad", size, x, wall.depth / 2)), "run.member", "bad")


@fault("insulation grazes a stud")
def insulation_grazes(rng: np.random.Generator, wall: Wall) -> Case | None:
    thick = float(rng.uniform(3.0, 12.0))
    found = _beside_stud(rng, wall, 0.1 - thick)
    if found is None:
        return None
    place, size, x = found
    return Case(with_run(wall, place.spec("bad", size, x, wall.depth / 2, insulation=thick)), "run.member", "bad")


@fault("rectangular duct grazes a stud")
def duct_grazes(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A flat duct 3-1/4 in. deep, 10 in. wide."""
    place = upright_run(rng, wall, 260.0)
    if place is None or wall.depth < 120.0:
        return None
    section = (254.0, 82.55)
    into = float(rng.choice((0.1, 1.0)))
    x = place.gap[0] + section[0] / 2 - into if rng.random() < 0.5 else place.gap[1] - section[0] / 2 + into
    house = with_run(wall, place.spec("bad", "duct-4", x, wall.depth / 2))
    part = replace(house.panels[0].runs[0], section=section)
    return Case(changed(house, runs=(part,), fittings=()), "run.member", "bad")


@fault("wholly inside a stud")
def inside_stud(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Up the middle of a stud, thinner than it."""
    x0, x1, y0, y1 = wall.uprights[int(rng.integers(0, len(wall.uprights)))]
    if y1 - y0 < 200.0:
        return None
    low, high = sorted(rng.uniform(y0 + 20.0, y1 - 20.0, 2).tolist())
    path = [[(x0 + x1) / 2, low, wall.depth / 2], [(x0 + x1) / 2, high + 1.0, wall.depth / 2]]
    return Case(with_run(wall, run_spec("bad", picked(rng), path)), "run.member", "bad")


@fault("wholly inside a plate")
def inside_plate(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Along the bottom plate, contained in it."""
    length = wall.panel.length
    x0 = float(rng.uniform(50.0, length - 300.0))
    if any(one[0] - 250.0 < x0 < one[1] for one in wall.rough_openings):
        return None
    path = [[x0, 19.05, wall.depth / 2], [x0 + float(rng.uniform(20.0, 200.0)), 19.05, wall.depth / 2]]
    return Case(with_run(wall, run_spec("bad", picked(rng), path)), "run.member", "bad")


@fault("contains a stick")
def contains_stick(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A duct along a stud and all around it, drawn without looking: 12 in. round."""
    x0, x1, y0, y1 = wall.uprights[int(rng.integers(0, len(wall.uprights)))]
    middle = (x0 + x1) / 2
    path = [[middle, y0 - 5.0, wall.depth / 2], [middle, y1 + 5.0, wall.depth / 2]]
    return Case(with_run(wall, run_spec("bad", "duct-4", path) | {"size": "duct-12"}), "run.member", "bad")


@fault("oblique through a square bore")
def oblique(rng: np.random.Generator, wall: Wall) -> Case | None:
    """At 25 to 40 degrees through holes drilled square: what a run takes there is a lens longer than the hole."""
    size = str(rng.choice(("nm-14/2", "nm-12/2", "pex-1/2")))
    place = level_run(rng, wall, 120.0)
    if place is None:
        return None
    x0, x1, _, _ = place.crossed[0]
    middle, half = (x0 + x1) / 2, 50.0
    drift = half * float(rng.uniform(0.47, 0.84))
    path = [[middle - half, place.y - drift, place.z], [middle + half, place.y + drift, place.z]]
    house = with_run(wall, run_spec("bad", size, path, flow="backward"))
    sticks = []
    for stick in house.panels[0].members:
        bores = tuple(
            replace(bore, point=_halfway(bore, stick.thickness), axis=(0.0, 0.0, 1.0)) for bore in stick.bores
        )
        sticks.append(replace(stick, bores=bores))
    return Case(changed(house, members=tuple(sticks)), "run.member", "bad")


def _halfway(bore: Any, thickness: float) -> tuple[float, float, float]:
    """Where the axis of a bore is in the middle of its stick."""
    ahead = (thickness / 2 - bore.point[2]) / bore.axis[2]
    return (bore.point[0] + ahead * bore.axis[0], bore.point[1] + ahead * bore.axis[1], 0.0)


@fault("bore too small by 0.2 mm")
def bore_too_small(rng: np.random.Generator, wall: Wall) -> Case | None:
    size = picked(rng)
    place = level(rng, wall, size)
    if place is None:
        return None
    house = with_run(wall, place.spec("bad", size))
    sticks = tuple(
        replace(stick, bores=tuple(replace(bore, diameter=outside(size) - 0.2) for bore in stick.bores))
        for stick in house.panels[0].members
    )
    return Case(changed(house, members=sticks), "run.member", "bad")


@fault("bore left out")
def bore_left_out(rng: np.random.Generator, wall: Wall) -> Case | None:
    size = picked(rng)
    place = level(rng, wall, size)
    if place is None:
        return None
    house = with_run(wall, place.spec("bad", size))
    bored = [stick for stick in house.panels[0].members if stick.bores]
    bare = bored[int(rng.integers(0, len(bored)))]
    sticks = tuple(replace(one, bores=()) if one is bare else one for one in house.panels[0].members)
    return Case(changed(house, members=sticks), "run.member", bare.id)


@fault("ends inside a stud")
def ends_in_stud(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Through its hole only halfway."""
    size = picked(rng)
    place = level(rng, wall, size)
    if place is None:
        return None
    x0, x1 = place.crossed[-1][:2]
    house = with_run(wall, place.spec("bad", size))
    (part,) = house.panels[0].runs
    end = (float(rng.uniform(x0 + 1.0, x1 - 1.0)), part.path[1][1], part.path[1][2])
    return Case(changed(house, runs=(replace(part, path=(part.path[0], end)),)), "run.member", "bad")


@fault("turns inside a stud")
def turns_in_stud(rng: np.random.Generator, wall: Wall) -> Case | None:
    size = picked(rng)
    place = level(rng, wall, size)
    if place is None:
        return None
    x0, x1 = place.crossed[-1][:2]
    corner = [(x0 + x1) / 2, place.y, place.z]
    up = [corner[0], place.y + float(rng.uniform(15.0, 40.0)), place.z]
    return Case(with_run(wall, run_spec("bad", size, [[place.x0, place.y, place.z], corner, up])), "run.member", "bad")


@fault("coupling inside a hole")
def coupling_in_hole(rng: np.random.Generator, wall: Wall) -> Case | None:
    """The hole takes the pipe; the coupling is wider."""
    place = level(rng, wall, "pvc-3/4")
    if place is None:
        return None
    x0, x1 = place.crossed[0][:2]
    at = (x0 + x1) / 2 - place.x0
    fittings = [{"kind": "coupling", "at": at}]
    run = place.spec("bad", "pvc-3/4", system="cold water", fittings=fittings)
    return Case(with_run(wall, run), "run.member", "bad")
