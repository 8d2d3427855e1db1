"""Services without a fault in a random wall."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np

from panelgen.model import House
from tests.checks.faults.places import cavity_run, level_run, outside, run_spec, through_run, upright_run
from tests.checks.faults.walls import Wall

__all__ = ["clean_house", "clean_services"]

Services = dict[str, list[dict[str, Any]]]
_APART = 80.0
"""mm. More than any two systems keep apart."""
_BORED = ("nm-14/2", "nm-12/2", "nm-12/3", "pex-1/2", "pex-3/4", "copper-1/2", "emt-1/2")
_UP = (*_BORED, "pvc-1-1/2", "pvc-2")
_FALL = 1 / 40


def clean_house(rng: np.random.Generator, wall: Wall) -> House:
    """The wall with up to six legal services in it."""
    return wall.designed(**clean_services(rng, wall))


def clean_services(rng: np.random.Generator, wall: Wall) -> Services:
    """Spec data of up to six legal services, well apart from one another."""
    runs: list[dict[str, Any]] = []
    sleeves: list[dict[str, Any]] = []
    taken: list[np.ndarray] = []
    for number in range(int(rng.integers(1, 7))):
        make = (_level, _level, _upright, _cavity, _through, _drain, _turning)[int(rng.integers(0, 7))]
        run = make(rng, wall, f"r{number}")
        if run is None:
            continue
        box = _box(run, wall)
        if any(((box[0] < other[1]) & (other[0] < box[1])).all() for other in taken):
            continue
        taken.append(box)
        sleeve = run.pop("sleeve", None)
        runs.append(run)
        if sleeve is not None:
            sleeves.append(sleeve)
    return {"runs": runs, "sleeves": sleeves}


def _box(run: dict[str, Any], wall: Wall) -> np.ndarray:
    cavity = wall.panel.depth[0] / 2
    points = np.array([[x, y, cavity if z == "cavity" else z] for x, y, z in run["path"]])
    return np.stack((points.min(axis=0) - _APART, points.max(axis=0) + _APART))


def _level(rng: np.random.Generator, wall: Wall, id: str) -> dict[str, Any] | None:
    size = str(rng.choice(_BORED))
    place = level_run(rng, wall, outside(size) + 8.0)
    return None if place is None else place.spec(id, size)


def _drain(rng: np.random.Generator, wall: Wall, id: str) -> dict[str, Any] | None:
    """A drain that falls 1 in 40, whichever way it was drawn."""
    if wall.stock != "2x6":
        return None
    place = level_run(rng, wall, 160.0)
    if place is None or place.x1 - place.x0 > 2900.0:
        return None
    fall = (place.x1 - place.x0) * _FALL
    path = [[place.x0, place.y + fall / 2, place.z], [place.x1, place.y - fall / 2, place.z]]
    if rng.random() < 0.5:
        return run_spec(id, "pvc-1-1/2", path)
    return run_spec(id, "pvc-1-1/2", path[::-1], flow="backward")


def _upright(rng: np.random.Generator, wall: Wall, id: str) -> dict[str, Any] | None:
    size = str(rng.choice(_UP))
    place = upright_run(rng, wall, outside(size))
    if place is None:
        return None
    reach = outside(size) / 2 + 12.0
    x, z = (float(rng.uniform(low + reach, high - reach)) for low, high in (place.gap, (0.0, wall.depth)))
    return place.spec(id, size, x, z, flow="backward")


def _cavity(rng: np.random.Generator, wall: Wall, id: str) -> dict[str, Any] | None:
    place = cavity_run(rng, wall)
    if place is None:
        return None
    size = str(rng.choice(_BORED[:4]))
    x = sum(place.gap) / 2
    return run_spec(id, size, [[x, place.y0, "cavity"], [x, place.y1, "cavity"]])


def _through(rng: np.random.Generator, wall: Wall, id: str) -> dict[str, Any] | None:
    """A pipe or duct through the whole wall in its sleeve."""
    size, product, hole = (("pex-1/2", "sleeve-1", 35.0), ("duct-4", "sleeve-4-1/2", 127.0))[int(rng.integers(0, 2))]
    place = through_run(rng, wall, hole) if wall.sheathed else None
    if place is None:
        return None
    x, y = place
    low, high = wall.panel.depth
    sleeve = {"id": f"{id}-sleeve", "run": id, "wall": "N1", "at": [x, y], "product": product, "seal": "gasket"}
    return run_spec(id, size, [[x, y, low], [x, y, high]], sleeve=sleeve)


def _turning(rng: np.random.Generator, wall: Wall, id: str) -> dict[str, Any] | None:
    """A cable along the wall that turns up or down in the bay where it ends."""
    size = str(rng.choice(_BORED[:3]))
    place = level_run(rng, wall, outside(size) + 8.0)
    if place is None:
        return None
    beside = [one for one in (*wall.levels, *wall.rough_openings) if one[0] < place.x1 + 20 and place.x1 - 20 < one[1]]
    ends = [end for one in wall.uprights if one[0] < place.x1 + 20 and place.x1 - 20 < one[1] for end in one[2:]]
    heights = sorted([0.0, wall.low_top, *ends, *(end for one in beside for end in one[2:])])
    low, high = next((a, b) for a, b in pairwise(heights) if a <= place.y <= b)
    up, down = high - 25.0 - place.y, place.y - low - 25.0
    rise = up if up > down else -down
    if abs(rise) < 60.0:
        return None
    end = [place.x1, place.y + rise * float(rng.uniform(0.5, 1.0)), place.z]
    return run_spec(id, size, [[place.x0, place.y, place.z], [place.x1, place.y, place.z], end])
