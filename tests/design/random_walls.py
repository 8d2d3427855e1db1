"""Random walls to split, and every way of splitting one, tried without the help of the code under test.

Where panels may meet and what limits them is read here from the spec alone, in plain arithmetic. What a panel
weighs and wastes is asked of the rooms that estimate it, for one panel at a time.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from copy import deepcopy
from dataclasses import dataclass
from itertools import islice, pairwise
from typing import Any

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.draft import Draft
from panelgen.design.framing.wall import frame_panel
from panelgen.design.split.masses import stretch_masses
from panelgen.design.split.sheets import SheetWaste
from panelgen.spec import HouseSpec
from tests.design.houses import house_data

__all__ = ["BruteForce", "disagreement", "random_wall"]

FOOT = 304.8
STUD = 38.1
HEIGHT = 2466.975
_EPS = 1e-6

Split = tuple[int, int, int]
"""Panels, waste in cm2, and the sum of their squared masses in tenths of a kg."""


def random_wall(seed: int) -> HouseSpec:
    """A house of one exterior wall ``N1`` with openings, services, meeting walls, wishes and limits, by chance."""
    rng = np.random.default_rng(seed)
    spacing = float(rng.choice([16, 24])) * 25.4
    length = float(rng.integers(8 * 12, (20 if spacing < 500 else 30) * 12)) * 25.4
    free = iter(_slots(rng, length))
    openings = [{"id": "W", "wall": "N1", "type": "window-30x48", "center": x, "sill": 800.0} for x in islice(free, 1)]
    partitions = [{"wall": "P", "assembly": "bare", "start": [x, 200.0], "end": [x, 3000.0]} for x in islice(free, 1)]
    vents = [[[x, 300, "framing"], [x, 2300, "framing"]] for x in islice(free, 1)]
    runs = [{"id": "R", "system": "vent", "size": "pvc-2", "wall": "N1", "path": path} for path in vents]
    openings += [{"id": "D", "wall": "N1", "type": "door-36x80", "center": x} for x in islice(free, 1)]
    boxes = [{"id": "B", "wall": "N1", "product": "square-4x1-1/4", "at": [x, 400]} for x in islice(free, 1)]
    wall: dict[str, Any] = {"wall": "N1", "assembly": "exterior", "start": [0, 0], "end": [length, 0]}
    wall |= {"exterior": True, "along": "outer face"}
    if rng.random() < 0.2:
        wall["gable"] = {"eave": 1500, "rise": float(rng.integers(3, 9)) * 25.4, "peak": length / 2}
        openings, runs, boxes = [], [], []
    shop: dict[str, Any] = {
        "line_length": float(rng.integers(8, 15)) * FOOT,
        "line_height": float(rng.choice([2700.0, 3657.6])),
        "shortest_panel": float(rng.choice([609.6, 900.0])),
        "joint_clearance": float(rng.choice([300.0, 450.0])),
        "panel_mass": float(rng.choice([200.0, 280.0, 1360.0, 1360.0])),
    }
    if rng.random() < 0.3:
        rows = [{"radius": 6000.0 * n, "mass": mass} for n, mass in enumerate((900.0, 400.0, 220.0), 1)]
        shop["crane"] = {"at": [length * rng.random(), -float(rng.integers(2000, 9000))], "table": rows}
    if rng.random() < 0.3:
        shop["truck"] = {"length": float(rng.integers(7, 13)) * FOOT, "mass": float(rng.choice([250.0, 500.0]))}
    level = {"id": "1", "elevation": 0, "height": HEIGHT, "walls": [wall, *partitions]}
    data = deepcopy(house_data([level], openings=openings, runs=runs, boxes=boxes, shop=shop))
    data["assemblies"]["exterior"]["layers"][1]["spacing"] = spacing
    if rng.random() < 0.2:
        data["joints"] = [{"wall": "N1", "at": float(rng.integers(700, int(length) - 700))}]
    if rng.random() < 0.3:
        start = float(rng.integers(0, int(length) - 600))
        data["no_joints"] = [{"wall": "N1", "start": start, "end": start + 600.0}]
    return HouseSpec.model_validate(data, context={"unit": "mm"})


def _slots(rng: np.random.Generator, length: float) -> list[float]:
    """Places that things may stand at, far enough apart, in no order."""
    count = int((length - 1000.0) // 1300.0)
    places = [500.0 + 1300.0 * (n + 0.5) + float(rng.integers(-60, 60)) for n in range(count)]
    kept = [x for x in places if rng.random() < 0.7]
    rng.shuffle(kept)
    return kept


@dataclass(frozen=True, slots=True)
class BruteForce:
    """Every legal split of a wall: how many there are by their number of panels, and the best of them."""

    counts: Counter[int]
    best: Split | None


class _Wall:
    """The wall of a spec by plain arithmetic."""

    def __init__(self, spec: HouseSpec, draft: Draft) -> None:
        (self.whole,) = (one.whole for one in draft.splits.asked if one.whole.wall.id == "N1")
        self.spec = spec
        self.members = frame_panel(self.whole, draft.rules).members
        self.waste = SheetWaste(self.whole, self.members)
        self.length = self.whole.length
        self.pins = [joint.at for joint in spec.joints]
        spacing = spec.assemblies["exterior"].framing.spacing
        lines = [spacing * n for n in range(1, int(self.length / spacing) + 1)]
        self.stops = sorted({0.0, self.length, *self.pins, *filter(self.is_free, lines)})
        self.known: dict[tuple[float, float], tuple[int, int] | None] = {}

    def is_free(self, x: float) -> bool:
        """Whether panels may meet at a layout line: by the words of the spec, rule by rule."""
        spec, shop = self.spec, self.spec.shop
        keeps = []
        for opening in spec.openings:
            left, _, right, _ = opening.rough_opening(spec.unit_types[opening.type])
            keeps.append((left - shop.joint_clearance, right + shop.joint_clearance))
        for run in spec.runs:
            half = Catalog.default().service_size(run.size or "").diameter / 2 + STUD
            keeps.append((run.path[0][0] - half, run.path[0][0] + half))
        for box in spec.boxes:
            half = Catalog.default().box(box.product).width / 2 + STUD
            keeps.append((box.at[0] - half, box.at[0] + half))
        for line in spec.levels[0].walls[1:]:
            half = 88.9 / 2 + shop.joint_clearance
            keeps.append((line.start[0] - half, line.start[0] + half))
        keeps += [(one.start, one.end) for one in spec.no_joints]
        at_ends = min(x, self.length - x) < shop.shortest_panel - _EPS
        return not at_ends and not any(low + _EPS < x < high - _EPS for low, high in keeps)

    def cost(self, a: float, b: float) -> tuple[int, int] | None:
        """Waste and squared mass of a panel, or None for one that some limit forbids."""
        if (a, b) not in self.known:
            self.known[a, b] = self._cost(a, b)
        return self.known[a, b]

    def _cost(self, a: float, b: float) -> tuple[int, int] | None:
        shop = self.spec.shop
        fixed = {0.0, self.length, *self.pins}
        is_short = b - a < shop.shortest_panel - _EPS and not (a in fixed and b in fixed)
        height = max(self.whole.top_at(x) for x in (a, b, min(max(self.length / 2, a), b)))
        too_high = not self.whole.is_level and height > shop.line_height + _EPS
        if is_short or too_high or b - a > shop.line_length + _EPS or any(a < pin < b for pin in self.pins):
            return None
        if shop.truck is not None and shop.truck.length is not None and b - a > shop.truck.length + _EPS:
            return None
        stops = sorted({0.0, a, b, self.length})
        weighed = stretch_masses(self.whole, self.members, stops)
        here = stops.index(a), stops.index(b)
        mass, centre = float(weighed.mass[here]), float(weighed.centre[here])
        most = min(shop.panel_mass, shop.truck.mass if shop.truck and shop.truck.mass else math.inf)
        if mass > min(most, self._lifted(centre)):
            return None
        return round(self.waste.between(a, b) / 100.0), round(10 * mass) ** 2

    def _lifted(self, centre: float) -> float:
        crane = self.spec.shop.crane
        if crane is None:
            return math.inf
        middle_of_wall = self.whole.framing_depth / 2
        radius = math.dist(crane.at, (centre, middle_of_wall))
        return next((row.mass for row in crane.table if radius <= row.radius), 0.0)

    def splits(self, start: int = 0) -> Iterator[list[float]]:
        """Every legal split from a stop on, as the stops it has."""
        if start == len(self.stops) - 1:
            yield [self.stops[start]]
        for n in range(start + 1, len(self.stops)):
            if self.cost(self.stops[start], self.stops[n]) is not None:
                yield from ([self.stops[start], *rest] for rest in self.splits(n))

    def tried(self) -> BruteForce:
        """Every legal split tried."""
        counts: Counter[int] = Counter()
        best: Split | None = None
        for split in self.splits():
            costs = [self.cost(a, b) for a, b in pairwise(split)]
            score = (len(costs), sum(one[0] for one in costs if one), sum(one[1] for one in costs if one))
            counts[len(costs)] += 1
            best = score if best is None else min(best, score)
        return BruteForce(counts, best)


def disagreement(spec: HouseSpec) -> tuple[str, int]:
    """What the design says of the wall's split that trying every one does not; and how many there are.

    Where services leave no split at all, they must make way: the split is then the best of those without them.
    """
    draft = Draft.of(spec)
    (partition,) = (one for one in draft.splits.partitions if one.wall == "N1")
    wall = _Wall(spec, draft)
    brute = wall.tried()
    legal = sum(brute.counts.values())
    told = {finding.code for finding in draft.findings}
    if brute.best is None:
        bare = spec.model_copy(update={"runs": (), "boxes": (), "sleeves": ()})
        wall = _Wall(bare, Draft.of(bare))
        brute = wall.tried()
        legal = sum(brute.counts.values())
        if (brute.best is not None) is not ("panel.joint-service" in told):
            return "services are not told to make way", legal
    if brute.best is None:
        return ("" if partition.legal == 0 and "panel.no-joint" in told else "a split where there is none"), 0
    stops = [0.0, *partition.joints, wall.length]
    costs = [wall.cost(a, b) for a, b in pairwise(stops)]
    if None in costs:
        return f"an illegal split at {partition.joints}", legal
    found = (len(costs), sum(one[0] for one in costs if one), sum(one[1] for one in costs if one))
    fewest = brute.counts[brute.best[0]]
    if (found, partition.legal, partition.fewest) != (brute.best, legal, fewest):
        return f"{found} of {partition.legal}/{partition.fewest}, not {brute.best} of {legal}/{fewest}", legal
    return "", legal
