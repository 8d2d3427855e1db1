"""Legal places for runs and boxes in a wall, by plain intervals."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from tests.checks.faults.walls import Extent, Wall

__all__ = ["Level", "Upright", "cavity_run", "level_run", "outside", "through_run", "upright_run"]

OUTSIDES = {
    "nm-14/2": 9.45, "nm-12/2": 10.72, "nm-12/3": 13.31, "pex-1/2": 15.88, "pex-3/4": 22.23, "copper-1/2": 15.88,
    "emt-1/2": 17.93, "pvc-3/4": 26.67,
    "pvc-1-1/2": 48.26, "pvc-2": 60.33, "pvc-3": 88.9, "duct-4": 101.6,
}  # fmt: skip
"""Outside diameters, mm: ASTM F876, B88, D1785, ANSI C80.3, and NM-B makers' data."""

_SYSTEMS = {
    "nm": "power",
    "pex": "cold water",
    "copper": "cold water",
    "emt": "power",
    "pvc": "drain",
    "duct": "supply air",
}
_AROUND_ENDS = 50.0
"""mm. Kept free of the ends of a stick that is bored."""
_TRIES = 40


@dataclass(frozen=True)
class Level:
    """A run along the wall through uprights: `crossed` are theirs; `gaps` the free stretches it begins and ends in."""

    x0: float
    x1: float
    y: float
    z: float
    crossed: tuple[Extent, ...]

    def spec(self, id: str, size: str, **more: Any) -> dict[str, Any]:
        """The run as spec data."""
        return run_spec(id, size, [[self.x0, self.y, self.z], [self.x1, self.y, self.z]], **more)


@dataclass(frozen=True)
class Upright:
    """Room for a run up a stud bay: `gap` is the free stretch of x, `y0` to `y1` the free height, mm."""

    gap: tuple[float, float]
    y0: float
    y1: float

    def spec(self, id: str, size: str, x: float, z: float, **more: Any) -> dict[str, Any]:
        """A run up the bay as spec data."""
        return run_spec(id, size, [[x, self.y0, z], [x, self.y1, z]], **more)


def run_spec(id: str, size: str, path: list[list[Any]], **more: Any) -> dict[str, Any]:
    """A run of the wall as spec data; its system goes by its size."""
    system = _SYSTEMS[size.partition("-")[0]]
    return {"id": id, "system": system, "size": size, "wall": "N1", "path": path} | more


def outside(size: str) -> float:
    """Outside diameter, mm."""
    return OUTSIDES[size]


def level_run(rng: np.random.Generator, wall: Wall, hole: float) -> Level | None:
    """A run straight along the wall through at least one upright, its `hole` clear of everything else by 20 mm."""
    for _ in range(_TRIES):
        y = float(rng.uniform(90.0, wall.low_top - 250.0))
        reach = hole / 2 + 20.0
        band = (y - reach, y + reach)
        gaps = list(_gaps(wall, band))
        if len(gaps) < 2:
            continue
        first = int(rng.integers(0, len(gaps) - 1))
        last = int(rng.integers(first + 1, min(len(gaps), first + 5)))
        x0, x1 = (float(rng.uniform(low + 30.0, high - 30.0)) for low, high in (gaps[first], gaps[last]))
        crossed = tuple(one for one in wall.uprights if one[1] > x0 and one[0] < x1 and _overlap(one[2:], band))
        solid = all(y0 < y - reach - _AROUND_ENDS and y + reach + _AROUND_ENDS < y1 for _, _, y0, y1 in crossed)
        box = (x0 - 20.0, x1 + 20.0, *band)
        if solid and crossed and not _hits(box, wall.levels) and not _hits(box, wall.rough_openings):
            return Level(x0, x1, y, wall.depth / 2, crossed)
    return None


def upright_run(rng: np.random.Generator, wall: Wall, diameter: float) -> Upright | None:
    """Room for a run of that diameter up a stud bay, clear of everything by 20 mm."""
    for _ in range(_TRIES):
        y = float(rng.uniform(200.0, wall.low_top - 400.0))
        gaps = [gap for gap in _gaps(wall, (y - 5.0, y + 5.0)) if gap[1] - gap[0] > diameter + 60.0]
        if not gaps:
            continue
        low, high = gaps[int(rng.integers(0, len(gaps)))]
        across = (low - 1.0, high + 1.0)
        bars = [one for one in (*wall.levels, *wall.rough_openings) if _overlap(one[:2], across)]
        ends = [end for one in wall.uprights if _overlap(one[:2], (low, high)) for end in one[2:]]
        if any(y0 - 5.0 < y < y1 + 5.0 for _, _, y0, y1 in bars):
            continue
        floor = max([y1 for _, _, _, y1 in bars if y1 < y] + [end for end in ends if end < y], default=0.0) + 20.0
        roof = min([y0 for _, _, y0, _ in bars if y0 > y] + [end for end in ends if end > y], default=0.0) - 20.0
        if roof - floor > 250.0:
            y0, y1 = sorted(rng.uniform(floor, roof, 2).tolist())
            if y1 - y0 > 150.0:
                return Upright((low, high), y0, y1)
    return None


def cavity_run(rng: np.random.Generator, wall: Wall) -> Upright | None:
    """Room for a thin run up the service cavity, away from openings."""
    length, top = wall.panel.length, wall.low_top
    if not wall.strapped:
        return None
    for _ in range(_TRIES):
        x = float(rng.uniform(250.0, length - 250.0))
        if not any(x0 - 250.0 < x < x1 + 250.0 for x0, x1, _, _ in wall.rough_openings):
            return Upright(
                (x - 40.0, x + 40.0), float(rng.uniform(120.0, 500.0)), float(rng.uniform(900.0, top - 300.0))
            )
    return None


def through_run(rng: np.random.Generator, wall: Wall, hole: float) -> tuple[float, float] | None:
    """Where a run may go straight through the wall in a hole, clear of every stick."""
    place = upright_run(rng, wall, hole + 20.0)
    if place is None:
        return None
    reach = hole / 2 + 20.0
    return float(rng.uniform(place.gap[0] + reach, place.gap[1] - reach)), float(rng.uniform(place.y0, place.y1))


def _gaps(wall: Wall, band: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """The stretches between uprights that reach into a band of heights, wide enough to end a run in."""
    standing = sorted(one[:2] for one in wall.uprights if _overlap(one[2:], band))
    reached = standing[0][1] if standing else 0.0
    for x0, x1 in standing[1:]:
        if x0 - reached > 120.0:
            yield reached, x0
        reached = max(reached, x1)


def _overlap(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return a[0] < b[1] and b[0] < a[1]


def _hits(box: Extent, others: list[Extent]) -> bool:
    return any(_overlap(box[:2], one[:2]) and _overlap(box[2:], one[2:]) for one in others)
