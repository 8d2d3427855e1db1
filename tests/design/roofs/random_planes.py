"""Random roofs to split, and every way of splitting a part of a plane, tried without the help of the code under test.

Where panels may meet and what limits them is read here from the spec and from polygons. What a panel weighs, and where,
is asked of the room that estimates it, for one panel at a time.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np
import shapely

from panelgen.catalog import Catalog
from panelgen.design.limits import shop_limits
from panelgen.design.roofs.assign import slope_of
from panelgen.design.roofs.masses import PartMasses
from panelgen.design.roofs.parts import PartPieces
from panelgen.design.roofs.planes import planes_of
from panelgen.design.roofs.slope import Slope
from panelgen.design.roofs.split import parts_of, pieces_of, split_plane
from panelgen.spec import HouseSpec
from tests.design.every_split import Panel, disagreement, least_stock, try_all
from tests.design.roofs.houses import spec_of

__all__ = ["plane_disagreements", "random_roof"]

INCH = 25.4
SPACING = 24 * INCH
SHEETS = (96 * INCH, 108 * INCH, 120 * INCH)
SHEET = 48 * INCH
MARGIN = 150.0
_EPS = 1e-6
_CATALOG = Catalog.default()


def random_roof(seed: int) -> HouseSpec:
    """A house with a hip, gable or shed roof, or one over an L: openings, purlins, wishes and limits by chance."""
    rng = np.random.default_rng(seed)
    wide, deep = (float(rng.integers(*ends)) * 100.0 for ends in ((42, 64), (35, 64)))
    ring = [(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)]
    kind = str(rng.choice(["hip", "gable", "shed", "ell"]))
    gables = {"hip": (), "gable": (1, 3), "shed": (1, 2, 3), "ell": (4,)}[kind]
    if kind == "ell":
        ring = [(0.0, 0.0), (wide, 0.0), (wide, deep), (2500.0, deep), (2500.0, deep + 2000.0), (0.0, deep + 2000.0)]
    roof: list[str] = [f"rise: {int(rng.integers(2, 10))} in, overhang: {int(rng.integers(0, 6)) * 100}"]
    roof.append("edges: [" + ", ".join(f"{{edge: w{n}, kind: gable}}" for n in gables) + "]")
    holes = []
    if rng.random() < 0.4:
        holes = [(float(rng.integers(16, int(wide / 100.0) - 16)) * 100.0, float(rng.integers(12, 17)) * 100.0)]
        sizes = [float(rng.choice([500.0, 900.0, 1400.0])), 700.0]
        roof.append(
            "openings: [" + ", ".join(f"{{id: K, edge: w0, at: {list(at)}, size: {sizes}}}" for at in holes) + "]"
        )
    purlins = [
        (edge, run)
        for edge in (0, 2)
        for run in (1600, 2900)
        if kind != "ell" and edge not in gables and rng.random() < 0.4
    ]
    rows = ", ".join(f"{{id: P{n}, edge: w{edge}, at: {run}, width: 90}}" for n, (edge, run) in enumerate(purlins))
    roof.append(f"purlins: [{rows}]")
    if rng.random() < 0.2 and not holes:
        roof.append(f"joints: [{{edge: w0, at: {int(rng.integers(12, int(wide / 100.0) - 12)) * 100}}}]")
    if rng.random() < 0.3:
        start = int(rng.integers(0, int(wide) - 700))
        roof.append(f"no_joints: [{{edge: w{int(rng.choice([0, 2]))}, start: {start}, end: {start + 700}}}]")
    spec = spec_of(ring, ", ".join(roof))
    shop: dict[str, Any] = {
        "line_length": float(rng.choice([4500.0, 6000.0, 7400.0])),
        "line_height": float(rng.choice([2000.0, 2600.0, 3100.0])),
        "panel_mass": float(rng.choice([150.0, 260.0, 1360.0, 1360.0])),
        "shortest_panel": float(rng.choice([609.6, 900.0])),
        "joint_clearance": float(rng.choice([100.0, 300.0])),
    }
    if rng.random() < 0.3:
        table = [{"radius": 4500.0 * n, "mass": mass} for n, mass in enumerate((900.0, 420.0, 200.0), 1)]
        shop["crane"] = {"at": [wide * float(rng.random()), -float(rng.integers(1000, 6000))], "table": table}
    if rng.random() < 0.3:
        shop["truck"] = {"length": 6000.0, "height": float(rng.choice([2200.0, 2600.0])), "mass": 300.0}
    data = spec.model_dump()
    data["shop"] |= shop
    try:
        return HouseSpec.model_validate(data, context={"unit": "mm"})
    except ValueError:  # the joint asked for is where it cannot be
        data["roofs"][0]["joints"] = ()
        return HouseSpec.model_validate(data, context={"unit": "mm"})


class _Part:
    """A convex part of a plane by polygons."""

    def __init__(self, slope: Slope, pieces: PartPieces, area: shapely.Polygon, spec: HouseSpec) -> None:
        self.slope, self.pieces, self.area, self.shop = slope, pieces, area, spec.shop
        self.plane, self.roof = slope.plane, slope.plane.roof
        self.left, self.foot, self.right, self.top = area.bounds
        own = self.roof.joints
        self.pins = [one.at for one in own if one.edge == self.plane.edge and self.left < one.at < self.right]
        first, last = math.ceil(self.left / SPACING), math.floor(self.right / SPACING)
        lines = [n * SPACING for n in range(first, last + 1)]
        self.joints = [x for x in lines if self.is_free(x) and all(abs(x - pin) > _EPS for pin in self.pins)]
        self.known: dict[Panel, tuple[int, int] | None] = {}

    def is_free(self, x: float) -> bool:
        """Whether panels may meet at a layout line: by the words of the spec, rule by rule."""
        clear, shortest = self.shop.joint_clearance, self.shop.shortest_panel
        if min(x - self.left, self.right - x) < shortest - _EPS:
            return False
        for opening in self.roof.openings:
            plies = 1 if opening.size[0] <= 48 * INCH else 2  # IRC R802.9: single trimmers and headers up to 4 ft
            room = max(clear, (plies + 1) * 38.1)
            if opening.edge == self.plane.edge and abs(x - opening.at[0]) < opening.size[0] / 2 + room - _EPS:
                return False
        if any(abs(x - corner) < clear - _EPS for corner, _ in self.plane.footprint):
            return False
        own = [one for one in self.roof.no_joints if one.edge == self.plane.edge]
        return not any(one.start + _EPS < x < one.end - _EPS for one in own)

    def column(self, a: float, b: float, low: float = -1e6, high: float = 1e6) -> shapely.Polygon:
        """What of the part lies in a stretch."""
        return self.area.intersection(shapely.box(a, max(low, self.foot - 1.0), b, min(high, self.top + 1.0)))

    def lines(self, a: float, b: float) -> list[float]:
        """The ends of a column and the purlins over which it may be parted."""
        _, foot, _, top = self.column(a, b).bounds
        least = self.shop.shortest_panel * self.plane.pitch.cosine
        found = []
        for purlin in self.roof.purlins:
            near = [
                hole
                for hole in self.roof.openings
                if hole.edge == self.plane.edge
                and abs(hole.at[1] * self.plane.pitch.cosine - purlin.at)
                < (hole.size[1] / 2 + self.shop.joint_clearance) * self.plane.pitch.cosine
                and hole.at[0] - hole.size[0] / 2 < b
                and hole.at[0] + hole.size[0] / 2 > a
            ]
            if purlin.edge == self.plane.edge and foot + least <= purlin.at <= top - least and not near:
                found.append(purlin.at)
        return [self.foot, *sorted(found), self.top]

    def cost(self, panel: Panel) -> tuple[int, int] | None:
        """Waste and squared mass of a panel, or None for one that some limit forbids."""
        if panel not in self.known:
            self.known[panel] = self._cost(*panel)
        return self.known[panel]

    def _cost(self, a: float, b: float, low: float, high: float) -> tuple[int, int] | None:
        shop, pitch = self.shop, self.plane.pitch
        fixed = {self.left, self.right, *self.pins}
        if b - a < shop.shortest_panel - _EPS and not (a in fixed and b in fixed):
            return None
        if high - low < shop.shortest_panel * pitch.cosine - _EPS and not (low == self.foot and high == self.top):
            return None
        _, foot, _, top = self.column(a, b, low, high).bounds
        width, height = b - a, (top - foot) * pitch.secant + pitch.depth * pitch.tangent
        sizes = [(shop.line_length, shop.line_height)]
        if shop.truck is not None:
            sizes.append((shop.truck.length or math.inf, shop.truck.height or math.inf))
        for size in sizes:
            if not any(width <= x + _EPS and height <= y + _EPS for x, y in (size, size[::-1])):
                return None
        stops, lines = sorted({self.left, a, b, self.right}), self.pieces.lines
        sides, gables = self.pieces.sides, self.pieces.gables
        masses = PartMasses(self.slope, self.pieces.slab, sides, gables, stops, lines)
        here = lines.index(low), lines.index(high), stops.index(a), stops.index(b)
        mass = float(masses.mass[here])
        most = min(shop.panel_mass, (shop.truck.mass if shop.truck else None) or math.inf)
        if mass > min(most, self._lifted(masses.centre[here])):
            return None
        areas = [float(area[here]) for area in masses.areas]
        waste = sum(self._stock(panel, a, b, low, high) for panel in (True, False)) - sum(areas)
        return round(max(waste, 0.0) / 100.0), round(10 * mass) ** 2

    def _stock(self, outer: bool, a: float, b: float, low: float, high: float) -> float:
        """The stock that covers a panel, row by row from the lower edge of the plane, or of the wall's inner face."""
        foot = min(side.start[1] for side in self.plane.sides) if outer else self.plane.inner
        a, b = (a, b) if outer else (max(a, self.pieces.gables[0]), min(b, self.pieces.gables[1]))
        run, total = max(low, foot), 0.0
        while run < high - _EPS:
            row = self.column(a, b, run, min(run + SHEET * self.plane.pitch.cosine, high)) if a < b else self.area
            if a < b and row.area > 0.0:
                total += SHEET * least_stock(SHEETS, round(row.bounds[2] - row.bounds[0], 3), SPACING)
            run += SHEET * self.plane.pitch.cosine
        return total

    def _lifted(self, centre: Any) -> float:
        crane = self.shop.crane
        if crane is None:
            return math.inf
        radius = math.dist(crane.at, centre) + MARGIN
        return next((row.mass for row in crane.table if radius <= row.radius), 0.0)


def plane_disagreements(spec: HouseSpec) -> Iterator[tuple[str, str, int]]:
    """Each plane of a roof, what the design says of its split that trying every one does not, and how many there are.

    A plane's count is the least of its parts', so 0 where one of them has no split.
    """
    rules, limits = _CATALOG.rules(spec.rules), shop_limits(spec.shop)
    planes, _ = planes_of(spec, spec.roofs[0], _CATALOG, rules)
    for plane in planes:
        slope = slope_of(spec, plane, _CATALOG, rules)
        split = split_plane(slope, spec.shop, limits)
        told = {one.code for one in split.findings} & {"panel.no-joint", "panel.too-long-up"}
        words, least, some_without = [], math.inf, False
        for area, partition in zip(parts_of(plane), split.partitions, strict=True):
            part = _Part(slope, pieces_of(slope, area, spec.shop, limits), area, spec)
            ends = (part.left, part.right)
            tried = try_all(ends, part.joints, part.pins, part.lines, part.cost)
            words.append(disagreement(partition, ends, (part.foot, part.top), tried, part.cost))
            least, some_without = min(least, tried.legal), some_without or not tried.legal
        if some_without is not bool(told):
            words.append("not told as it is")
        yield plane.id, "; ".join(filter(None, words)), int(least)
