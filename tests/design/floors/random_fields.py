"""Random floors to split, and every way of splitting one, tried without the help of the code under test.

Where cassettes may meet and what limits them is read here from the spec alone, in plain arithmetic. What a cassette
weighs is asked of the room that estimates it, for one cassette at a time.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from panelgen.catalog import Catalog
from panelgen.design.draft import Draft
from panelgen.design.floors.masses import CellMasses
from panelgen.design.floors.stocks import stocks_of
from panelgen.spec import HouseSpec
from tests.design.every_split import Panel, disagreement, least_stock, try_all
from tests.design.floors.houses import bearing, floored

__all__ = ["field_disagreement", "random_field"]

INCH = 25.4
SPACING = 24 * INCH
SHEETS = (96 * INCH, 108 * INCH, 120 * INCH)
SHEET = 48 * INCH
MARGIN = 150.0
_EPS = 1e-6
_CATALOG = Catalog.default()


def random_field(seed: int) -> HouseSpec:
    """Two storeys with a floor F2 between them: walls that carry it, a stair, a vent, wishes and limits, by chance."""
    rng = np.random.default_rng(seed)
    wide, long = (float(rng.integers(*ends)) * 10.0 for ends in ((350, 560), (300, 900)))
    stock, depth = [("2x10", 9.25 * INCH), ("i-9-1/2", 9.5 * INCH)][int(rng.integers(2))]
    lower = []
    for n, share in enumerate((0.4, 0.65)):
        if rng.random() < 0.6 - 0.3 * n:
            reach = wide if rng.random() < 0.8 else wide * float(rng.uniform(0.4, 0.7))
            y = round(long * share / 10.0) * 10.0
            lower.append(bearing(f"1M{n}", (0.0, y), (reach, y)))
    openings = []
    if rng.random() < 0.3:
        at = [round(float(rng.uniform(0.2, 0.5)) * wide), round(float(rng.uniform(0.05, 0.3)) * long)]
        openings = [{"id": "ST", "at": at, "size": [900.0, float(rng.integers(120, 200)) * 10.0]}]
    shop: dict[str, Any] = {
        "line_length": float(rng.choice([5500.0, 7315.2, 9200.0])),
        "line_height": float(rng.choice([1900.0, 2500.0, 3048.0])),
        "panel_mass": float(rng.choice([260.0, 400.0, 1360.0, 1360.0])),
        "longest_stock": float(rng.choice([4876.8, 9400.0, 9400.0])),
        "shortest_panel": float(rng.choice([609.6, 1000.0])),
    }
    if rng.random() < 0.3:
        rows = [{"radius": 4000.0 * n, "mass": mass} for n, mass in enumerate((900.0, 500.0, 300.0), 1)]
        shop["crane"] = {"at": [wide * float(rng.random()), -float(rng.integers(1000, 6000))], "table": rows}
    if rng.random() < 0.3:
        shop["truck"] = {"length": float(rng.choice([4000.0, 6000.0])), "height": float(rng.choice([2200.0, 2600.0]))}
    floor: dict[str, Any] = {}
    if rng.random() < 0.2:
        x = float(rng.integers(70, int(wide / 10.0) - 70)) * 10.0
        if not any(hole["at"][0] - 1.0 <= x <= hole["at"][0] + 901.0 for hole in openings):
            floor["joints"] = [{"at": x}]
    if rng.random() < 0.3:
        start = float(rng.integers(0, int(wide) - 700))
        if all(not start < joint["at"] < start + 700.0 for joint in floor.get("joints", ())):
            floor["no_joints"] = [{"start": start, "end": start + 700.0}]
    runs: list[dict[str, Any]] = []
    if rng.random() < 0.3:
        x, y = float(rng.integers(60, int(wide / 10.0) - 60)) * 10.0, 0.85 * long
        runs = [{"id": "V", "system": "vent", "size": "pvc-2", "path": [[x, y, 2000.0], [x, y, 3500.0]]}]
    ring = ((0.0, 0.0), (wide, 0.0), (wide, long), (0.0, long))
    deck: dict[str, Any] = {"stock": stock, "depth": depth, "spacing": SPACING, "floor": floor}
    return floored(ring, lower=lower, openings=openings, shop=shop, runs=runs, **deck)


class _Field:
    """The floor of a spec by plain arithmetic; deck coordinates are those of the plan, for joists along y."""

    def __init__(self, spec: HouseSpec, draft: Draft) -> None:
        self.spec, self.shop = spec, spec.shop
        (self.floor,) = spec.floors
        (self.deck,) = draft.decks
        self.stocks = stocks_of(self.deck, _CATALOG)
        self.wide, self.long = (max(corner[k] for corner in self.deck.ring) for k in (0, 1))
        self.pins = [joint.at for joint in self.floor.joints]
        lines = [SPACING * n for n in range(1, int(self.wide / SPACING) + 1)]
        self.joints = [x for x in lines if self.is_free(x) and all(abs(x - pin) > _EPS for pin in self.pins)]
        self.walls = [wall for wall in spec.levels[0].walls if wall.bearing]
        self.known: dict[Panel, tuple[int, int] | None] = {}

    def is_free(self, x: float) -> bool:
        """Whether cassettes may meet at a layout line: by the words of the spec, rule by rule."""
        room = max(self.shop.joint_clearance, 2 * self.stocks.header.thickness + self.stocks.joist.thickness)
        keeps = [(hole.at[0] - room, hole.at[0] + hole.size[0] + room) for hole in self.floor.openings]
        keeps += [(one.start, one.end) for one in self.floor.no_joints]
        for run in self.spec.runs:
            half = _CATALOG.service_size(run.size or "").diameter / 2 + self.stocks.joist.thickness
            keeps.append((run.path[0][0] - half, run.path[0][0] + half))
        at_ends = min(x, self.wide - x) < self.shop.shortest_panel - _EPS
        return not at_ends and not any(low + _EPS < x < high - _EPS for low, high in keeps)

    def lines(self, a: float, b: float) -> list[float]:
        """The ends of a column and the middles of the walls over which it may be parted."""
        clear = self.shop.joint_clearance
        found = []
        for wall in self.walls:
            y = wall.start[1]
            carried = max(0.0, b - max(a, wall.end[0])) <= 50.0
            barred = any(
                min(b, hole.at[0] + hole.size[0]) - max(a, hole.at[0]) > _EPS
                and hole.at[1] - clear < y < hole.at[1] + hole.size[1] + clear
                for hole in self.floor.openings
            )
            if carried and not barred:
                found.append(y)
        return [0.0, *found, self.long]

    def cost(self, panel: Panel) -> tuple[int, int] | None:
        """Waste and squared mass of a cassette, or None for one that some limit forbids."""
        if panel not in self.known:
            self.known[panel] = self._cost(*panel)
        return self.known[panel]

    def _cost(self, a: float, b: float, low: float, high: float) -> tuple[int, int] | None:
        shop, width, height = self.shop, b - a, high - low
        fixed = {0.0, self.wide, *self.pins}
        if width < shop.shortest_panel - _EPS and not (a in fixed and b in fixed):
            return None
        if height < shop.shortest_panel - _EPS and not (low == 0.0 and high == self.long):
            return None
        if not self.stocks.joist.engineered and height > shop.longest_stock + _EPS:
            return None
        sizes = [(shop.line_length, shop.line_height)]
        if shop.truck is not None:
            sizes.append((shop.truck.length or math.inf, shop.truck.height or math.inf))
        for size in sizes:
            if not any(width <= x + _EPS and height <= y + _EPS for x, y in (size, size[::-1])):
                return None
        stops, lines = sorted({0.0, a, b, self.wide}), sorted({0.0, low, high, self.long})
        cells = CellMasses(self.deck, self.stocks, stops, lines, _CATALOG)
        here = lines.index(low), lines.index(high), stops.index(a), stops.index(b)
        mass, area = float(cells.mass[here]), float(cells.area[here])
        if mass / 0.96 > min(shop.panel_mass, self._lifted((a + b) / 2, (low + high) / 2)):
            return None
        rows = math.ceil(height / SHEET - _EPS)
        waste = rows * SHEET * least_stock(SHEETS, round(width, 3), SPACING) - area
        return round(waste / 100.0), round(10 * mass) ** 2

    def _lifted(self, x: float, y: float) -> float:
        crane = self.shop.crane
        if crane is None:
            return math.inf
        radius = math.dist(crane.at, (x, y)) + MARGIN
        return next((row.mass for row in crane.table if radius <= row.radius), 0.0)


def field_disagreement(spec: HouseSpec) -> tuple[str, int]:
    """What the design says of the floor's split that trying every one does not; and how many there are.

    Where the vent leaves no split at all, it must make way: the split is then the best of those without it.
    """
    draft = Draft.of(spec)
    told = {one.code for one in draft.findings}
    (partition,) = (one for one in draft.partitions if one.kind == "floor")
    field = _Field(spec, draft)
    ends: tuple[float, float] = (0.0, field.wide)
    tried = try_all(ends, field.joints, field.pins, field.lines, field.cost)
    if tried.best is None and spec.runs:
        bare = spec.model_copy(update={"runs": ()})
        field = _Field(bare, Draft.of(bare))
        tried = try_all(ends, field.joints, field.pins, field.lines, field.cost)
        if (tried.best is not None) is not ("panel.joint-service" in told):
            return "the vent is not told to make way", tried.legal
    words = disagreement(partition, ends, (0.0, field.long), tried, field.cost)
    if not words and (tried.best is None) is not ("deck.no-joint" in told):
        words = "not told as it is"
    return words, tried.legal
