"""Runs that meet other runs, come too near them, lead where they may not, or fall and bend as they may not."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

from tests.checks.faults.in_wood import level, picked, with_run
from tests.checks.faults.places import cavity_run, level_run, outside, run_spec, upright_run
from tests.checks.faults.registry import Case, fault
from tests.checks.faults.walls import Wall


@fault("coaxial runs")
def coaxial(rng: np.random.Generator, wall: Wall) -> Case | None:
    """The same line twice, or a thinner run inside a wider one."""
    place = level(rng, wall, "pex-3/4")
    if place is None:
        return None
    first, second = place.spec("bad", picked(rng)), place.spec("other", picked(rng))
    return Case(wall.designed(runs=[first, second]), "run.run", "bad")


@fault("run inside a wider run")
def run_inside_run(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A pipe wholly inside a duct, off its axis."""
    place = upright_run(rng, wall, outside("duct-4"))
    if place is None or wall.depth < 120.0:
        return None
    x = sum(place.gap) / 2
    duct = place.spec("bad", "duct-4", x, wall.depth / 2)
    inner = replace(place, y0=place.y0 + 30.0, y1=place.y1 - 30.0)
    thin = inner.spec("other", "nm-14/2", x + float(rng.uniform(-30.0, 30.0)), wall.depth / 2)
    return Case(wall.designed(runs=[duct, thin]), "run.run", "bad")


@fault("runs graze by 0.1 mm")
def runs_graze(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Side by side along the wall."""
    sizes = picked(rng), picked(rng)
    place = level_run(rng, wall, sum(map(outside, sizes)) + 40.0)
    if place is None:
        return None
    apart = sum(map(outside, sizes)) / 2 - 0.1
    low, high = replace(place, y=place.y - apart / 2), replace(place, y=place.y + apart / 2)
    return Case(wall.designed(runs=[low.spec("bad", sizes[0]), high.spec("other", sizes[1])]), "run.run", "bad")


@fault("runs cross")
def runs_cross(rng: np.random.Generator, wall: Wall) -> Case | None:
    """One along the wall, one up its first bay, nearer than they are thick."""
    sizes = picked(rng), picked(rng)
    place = level(rng, wall, sizes[0])
    if place is None:
        return None
    deep = (sum(map(outside, sizes)) / 2 - 0.1) * float(rng.choice((1.0, rng.uniform(0.0, 1.0))))
    x = place.x0 + outside(sizes[1]) / 2 + 5.0
    path = [[x, place.y - 15.0, place.z + deep], [x, place.y + 15.0, place.z + deep]]
    return Case(wall.designed(runs=[place.spec("bad", sizes[0]), run_spec("other", sizes[1], path)]), "run.run", "bad")


@fault("systems too close")
def too_close(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Hot beside cold and power beside data: less than 2 in. between them, by 0.1 mm and more."""
    systems = (("hot water", "cold water"), ("power", "data"))[int(rng.integers(0, 2))]
    gap = 50.7 if rng.random() < 0.5 else float(rng.uniform(25.0, 50.0))
    place = level_run(rng, wall, 2 * 15.88 + gap + 20.0)
    if place is None:
        return None
    apart = (15.88 + gap) / 2
    low, high = replace(place, y=place.y - apart), replace(place, y=place.y + apart)
    runs = [low.spec("bad", "pex-1/2", system=systems[0]), high.spec("other", "pex-1/2", system=systems[1])]
    return Case(wall.designed(runs=runs), "run.clearance", "bad")


@fault("slope reversed")
def slope_reversed(rng: np.random.Generator, wall: Wall) -> Case | None:
    return _drain(rng, wall, -float(rng.uniform(0.0005, 0.03)))


@fault("slope too flat")
def slope_too_flat(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Less than 1/4 in. per foot."""
    return _drain(rng, wall, float(rng.uniform(0.0, 0.9)) / 48)


def _drain(rng: np.random.Generator, wall: Wall, slope: float) -> Case | None:
    place = level_run(rng, wall, 150.0)
    if place is None or wall.stock != "2x6" or not 300.0 < place.x1 - place.x0 < 2900.0:
        return None
    fall = (place.x1 - place.x0) * slope
    path = [[place.x0, place.y + fall / 2, place.z], [place.x1, place.y - fall / 2, place.z]]
    flow = str(rng.choice(("forward", "backward")))
    run = run_spec("bad", "pvc-1-1/2", path if flow == "forward" else path[::-1], flow=flow)
    return Case(with_run(wall, run), "run.slope", "bad")


@fault("vent sags")
def vent_sags(rng: np.random.Generator, wall: Wall) -> Case | None:
    """It rises at both ends and has a low place between."""
    place = upright_run(rng, wall, 120.0)
    if place is None or place.gap[1] - place.gap[0] < 250.0:
        return None
    left, right = place.gap[0] + 60.0, place.gap[1] - 60.0
    middle = (place.y0 + place.y1) / 2
    sag = float(rng.uniform(0.2, 40.0))
    z = wall.depth / 2
    path = [[left, middle - 60.0, z], [left, middle, z], [right, middle - sag, z], [right, middle + 60.0, z]]
    return Case(with_run(wall, run_spec("bad", "pex-1/2", path, system="vent")), "run.slope", "bad")


@fault("bend too tight")
def bend_too_tight(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Half-inch tubing keeps eight diameters: two right angles need 254 mm between them."""
    place = cavity_run(rng, wall)
    if place is None:
        return None
    x, step = sum(place.gap) / 2, float(rng.uniform(60.0, 253.0))
    y = (place.y0 + place.y1) / 2
    path = [[x, place.y0, "cavity"], [x, y, "cavity"], [x + step, y, "cavity"], [x + step, place.y1, "cavity"]]
    return Case(with_run(wall, run_spec("bad", "pex-1/2", path)), "run.bend", "bad")


@fault("bend asked for too tight")
def bend_asked_for(rng: np.random.Generator, wall: Wall) -> Case | None:
    place = cavity_run(rng, wall)
    if place is None:
        return None
    x, y = sum(place.gap) / 2, (place.y0 + place.y1) / 2
    path = [[x, place.y0, "cavity"], [x, y, "cavity"], [x + 100.0, y, "cavity"]]
    bend = float(rng.uniform(20.0, 126.9))
    return Case(with_run(wall, run_spec("bad", "pex-1/2", path, bend=bend)), "run.bend", "bad")


@fault("branch not meeting")
def branch_not_meeting(rng: np.random.Generator, wall: Wall) -> Case | None:
    place = upright_run(rng, wall, 60.0)
    if place is None or place.gap[1] - place.gap[0] < 250.0:
        return None
    z, x, y = wall.depth / 2, place.gap[0] + 45.0, (place.y0 + place.y1) / 2
    trunk = place.spec("trunk", "pex-1/2", x, z)
    off = 15.88 / 2 + float(rng.choice((0.1, rng.uniform(1.0, 60.0))))
    branch = run_spec("bad", "pex-1/2", [[x + off, y, z], [x + off + 60.0, y, z]], branch_of="trunk")
    return Case(wall.designed(runs=[trunk, branch]), "run.branch", "bad")


@fault("crosses a rough opening")
def crosses_opening(rng: np.random.Generator, wall: Wall) -> Case | None:
    if not wall.rough_openings:
        return None
    x0, x1, y0, y1 = wall.rough_openings[0]
    y = float(rng.uniform(y0 + 40.0, y1 - 40.0))
    z = wall.depth / 2
    ends: list[Any] = [[x0 - 200.0, y, z], [x1 + 200.0, y, z]]
    return Case(with_run(wall, run_spec("bad", picked(rng), ends)), "run.opening", "bad")


@fault("grazes a rough opening by 0.1 mm")
def grazes_opening(rng: np.random.Generator, wall: Wall) -> Case | None:
    """In the jacks beside it: found even where the wood is looked past."""
    if not wall.rough_openings:
        return None
    x0, _, y0, y1 = wall.rough_openings[0]
    size = picked(rng)
    x = x0 - outside(size) / 2 + 0.1
    path = [[x, y0 + 100.0, wall.depth / 2], [x, y1 - 100.0, wall.depth / 2]]
    return Case(with_run(wall, run_spec("bad", size, path)), "run.opening", "bad")


@fault("sticks out of the panel by 0.1 mm")
def sticks_out(rng: np.random.Generator, wall: Wall) -> Case | None:
    """On the room side or the weather side."""
    size = picked(rng)
    place = upright_run(rng, wall, outside(size))
    if place is None:
        return None
    low, high = wall.panel.depth
    reach = outside(size) / 2 - 0.1
    z = low + reach if rng.random() < 0.5 else high - reach
    return Case(with_run(wall, place.spec("bad", size, sum(place.gap) / 2, z)), "run.outside", "bad")
