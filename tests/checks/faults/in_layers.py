"""Runs through barriers, and boxes in the wrong place or too full."""

from __future__ import annotations

from typing import Any

import numpy as np

from tests.checks.faults.in_wood import picked, with_run
from tests.checks.faults.places import cavity_run, outside, run_spec, through_run, upright_run
from tests.checks.faults.registry import Case, fault
from tests.checks.faults.walls import Wall


def _through(rng: np.random.Generator, wall: Wall, size: str) -> dict[str, Any] | None:
    """A run straight through a sheathed wall."""
    place = through_run(rng, wall, 60.0) if wall.sheathed else None
    if place is None:
        return None
    low, high = wall.panel.depth
    return run_spec("bad", size, [[*place, low], [*place, high]])


def _sleeve(along: dict[str, Any], **more: Any) -> dict[str, Any]:
    at = along["path"][0][:2]
    return {"id": "s", "run": "bad", "wall": "N1", "at": at, "product": "sleeve-1", "seal": "gasket"} | more


@fault("pierced barrier")
def pierced(rng: np.random.Generator, wall: Wall) -> Case | None:
    run = _through(rng, wall, picked(rng))
    return None if run is None else Case(with_run(wall, run), "barrier.pierced", "bad")


@fault("grazes a barrier by 0.1 mm")
def grazes_barrier(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Up a bay along the inner or the outer sheathing."""
    size = picked(rng)
    place = upright_run(rng, wall, outside(size))
    if place is None or not wall.sheathed:
        return None
    reach = outside(size) / 2 - 0.1
    z = reach if rng.random() < 0.5 else wall.depth - reach
    return Case(with_run(wall, place.spec("bad", size, sum(place.gap) / 2, z)), "barrier.pierced", "bad")


@fault("sleeve of another run")
def others_sleeve(rng: np.random.Generator, wall: Wall) -> Case | None:
    run = _through(rng, wall, "pex-1/2")
    if run is None:
        return None
    aside = run | {"id": "other", "path": [[x, y + 45.0, z] for x, y, z in run["path"]]}
    sleeves = [_sleeve(run, run="other")]
    return Case(wall.designed(runs=[run, aside], sleeves=sleeves), "barrier.sleeve", "bad")


@fault("sleeve too small")
def small_sleeve(rng: np.random.Generator, wall: Wall) -> Case | None:
    """A sleeve for half an inch, around five eighths."""
    run = _through(rng, wall, "pex-1/2")
    if run is None:
        return None
    house = wall.designed(runs=[run], sleeves=[_sleeve(run, product="sleeve-1/2")])
    return Case(house, "barrier.sleeve", "bad")


@fault("beside its sleeve")
def beside_sleeve(rng: np.random.Generator, wall: Wall) -> Case | None:
    """The hole is 1-3/8 in. wide: a run of 5/8 in. leaves it 9.53 mm off its middle."""
    run = _through(rng, wall, "pex-1/2")
    if run is None:
        return None
    turn, off = rng.uniform(0.0, 2 * np.pi), float(rng.uniform(9.7, 20.0))
    x, y = run["path"][0][:2]
    at = [x + off * float(np.cos(turn)), y + off * float(np.sin(turn))]
    return Case(wall.designed(runs=[run], sleeves=[_sleeve(run, at=at)]), "barrier.sleeve", "bad")


def _boxed(wall: Wall, *boxes: dict[str, Any], runs: list[dict[str, Any]] | None = None) -> Any:
    return wall.designed(boxes=[{"wall": "N1"} | box for box in boxes], runs=runs or [])


@fault("box cuts a barrier")
def box_cuts_barrier(rng: np.random.Generator, wall: Wall) -> Case | None:
    """2-1/2 in. deep in a cavity of 1-1/2 in."""
    place = cavity_run(rng, wall)
    if place is None:
        return None
    box = {"id": "bad", "product": "device-3x2x2-1/2", "at": [sum(place.gap) / 2, place.y0 + 200.0]}
    return Case(_boxed(wall, box), "box.sheet", "bad")


@fault("boxes overlap")
def boxes_overlap(rng: np.random.Generator, wall: Wall) -> Case | None:
    """Two 4 in. boxes, by 0.1 mm and more."""
    place = cavity_run(rng, wall)
    if place is None:
        return None
    x, y = sum(place.gap) / 2, place.y0 + 200.0
    near = 101.5 if rng.random() < 0.5 else float(rng.uniform(0.0, 101.0))
    boxes = [{"id": name, "product": "square-4x1-1/4", "at": [x, at]} for name, at in (("bad", y), ("other", y + near))]
    return Case(_boxed(wall, *boxes), "box.box", "bad")


@fault("box in a rough opening")
def box_in_opening(rng: np.random.Generator, wall: Wall) -> Case | None:
    if not wall.rough_openings:
        return None
    x0, _, y0, y1 = wall.rough_openings[0]
    at = [x0 + float(rng.choice((-50.7, 0.0, 100.0))), float(rng.uniform(y0 + 80.0, y1 - 80.0))]
    return Case(_boxed(wall, {"id": "bad", "product": "square-4x1-1/4", "at": at}), "box.opening", "bad")


@fault("box in a stud")
def box_in_stud(rng: np.random.Generator, wall: Wall) -> Case | None:
    """In a wall without a service cavity: the box is 2 in. wide, and beside the stud's middle."""
    if wall.strapped:
        return None
    x0, x1, y0, y1 = wall.uprights[int(rng.integers(0, len(wall.uprights)))]
    if y1 - y0 < 300.0:
        return None
    side = float(rng.uniform(-43.0, 43.0))
    at = [(x0 + x1) / 2 + side, float(rng.uniform(y0 + 60.0, y1 - 60.0))]
    box = {"id": "bad", "product": "device-3x2x2-1/2", "at": at}
    return Case(_boxed(wall, box), "box.member", "bad")


@fault("run through a box")
def run_through_box(rng: np.random.Generator, wall: Wall) -> Case | None:
    place = cavity_run(rng, wall)
    if place is None:
        return None
    x, y = sum(place.gap) / 2, (place.y0 + place.y1) / 2
    run = run_spec("bad", picked(rng), [[x, place.y0, "cavity"], [x, place.y1, "cavity"]])
    box = {"id": "box", "product": "square-4x1-1/4", "at": [x + float(rng.uniform(-40.0, 40.0)), y]}
    return Case(_boxed(wall, box, runs=[run]), "box.run", "bad")


@fault("box too full")
def box_too_full(rng: np.random.Generator, wall: Wall) -> Case | None:
    """12 AWG takes 2.25 in3 a wire: 18 in3 hold eight allowances, and device, clamps and grounds take four of them."""
    place = cavity_run(rng, wall)
    if place is None:
        return None
    wires = [{"gauge": 12, "count": int(rng.integers(5, 12))}]
    at = [sum(place.gap) / 2, place.y0 + 200.0]
    box = {"id": "bad", "product": "square-4x1-1/4", "at": at, "fill": {"wires": wires}}
    return Case(_boxed(wall, box), "box.fill", "bad")


@fault("no room behind a box")
def no_room_behind(rng: np.random.Generator, wall: Wall) -> Case | None:
    """1-1/4 in. deep in a cavity of 1-1/2 in.: 6.35 mm are left."""
    place = cavity_run(rng, wall)
    if place is None:
        return None
    at = [sum(place.gap) / 2, place.y0 + 200.0]
    box = {"id": "bad", "product": "square-4x1-1/4", "at": at, "back": float(rng.choice((6.45, 12.0)))}
    return Case(_boxed(wall, box), "box.back", "bad")
