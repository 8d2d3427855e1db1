"""Random whole houses: plans of one to four wings, one to three storeys, floors, and a roof of any kind, with a dormer.

Everything is in inches. Each house is one that could be built: walls longer than their corners take, openings
clear of corners and of one another, floors that span what joists can.
"""

from __future__ import annotations

import json
from itertools import pairwise
from typing import Any

import numpy as np

from panelgen.spec import HouseSpec
from panelgen.spec.loader import loads
from tests.random_dormers import LAYERS, UNIT, random_dormer

__all__ = ["SHAPES", "STEEPEST", "random_house", "random_spec"]

Point = tuple[int, int]

SHAPES = ("rectangle", "L", "T", "U")
ROOFS = ("hip", "gable", "shed", "ceiling")

STEEPEST = 16
"""The greatest rise of a roof in a run of 12."""

_HEIGHT = 97.125
_LINE = 18 * 12
_RAFTER = 11.25
_FLOOR = 11.25 + 0.71875
_LAYERS = {
    "exterior": [
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "weather"},
        {"layer": "framing", "stock": "2x6", "spacing": 24},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
        {"layer": "strapping", "stock": "2x3"},
    ],
    "bearing": [{"layer": "framing", "stock": "2x6", "spacing": 16, "insulation": None}],
    "floor": [
        {"layer": "sheathing", "product": "osb-23/32"},
        {"layer": "framing", "stock": "2x12", "spacing": 16, "insulation": None},
    ],
    "ceiling": [
        {"layer": "framing", "stock": "2x10", "spacing": 16},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
    ],
    "roof": [
        {"layer": "sheathing", "product": "osb-5/8", "barrier": "weather"},
        {"layer": "framing", "stock": "2x12", "spacing": 16},
        {"layer": "sheathing", "product": "osb-7/16", "barrier": "air"},
    ],
}
_UNITS = {
    "window": {"kind": "window", "width": 30, "height": 48},
    "door": {"kind": "door", "width": 36, "height": 80},
}


def random_house(seed: int) -> HouseSpec:
    """The spec of the house with that seed."""
    return loads(json.dumps(random_spec(seed)))


def random_spec(seed: int) -> dict[str, Any]:
    """The same as plain data."""
    rng = np.random.default_rng(seed)
    shape, storeys, roof = str(rng.choice(SHAPES)), int(rng.integers(1, 4)), str(rng.choice(ROOFS))
    if roof == "shed":  # the line is no higher than the wall at its upper side
        shape = "rectangle"
    ring = _plan(rng, shape, most=14 if roof == "shed" else 22)
    levels, floors, openings = [], [], []
    for number in range(1, storeys + 1):
        levels.append(_level(number, ring, carries=number < storeys or roof == "ceiling"))
        openings += _openings(rng, number, ring)
        if number > 1:
            floors.append(_floor(rng, number, ring))
    if roof == "gable":
        for n in _ends(ring):  # the rafters run along these walls
            levels[-1]["outlines"][0]["corners"][n]["bearing"] = False
    top = _top(rng, str(storeys), ring, roof)
    units = dict(_UNITS)
    if roof in ("hip", "gable"):
        openings += _dormers(np.random.default_rng((seed, 1)), ring, top["roofs"][0])
        units["vent"] = UNIT
    return {
        "panelgen": 1,
        "house": f"Random {seed}",
        "unit": "in",
        "design": {"ground_snow": "30 psf", "building_width": "24 ft"},
        "shop": {"panel_mass": "3500 lb", "line_height": _LINE},
        "assemblies": {name: {"layers": layers} for name, layers in _assemblies(storeys).items()},
        "levels": levels,
        "unit_types": units,
        "openings": openings,
        "floors": floors,
        **top,
    }


def _dormers(rng: np.random.Generator, ring: list[Point], roof: dict[str, Any]) -> list[dict[str, Any]]:
    """Put a dormer on the slope over the first wall, if one fits, often on steeper hips; the openings of its front."""
    if "edges" not in roof and rng.random() < 0.7:  # gables would be too high for the line
        roof["rise"] = int(rng.integers(8, 12))
    depth = sorted({y for _, y in ring})[1]
    length = ring[1][0] - ring[0][0]
    edge = f"{roof['level']}W0"
    found = random_dormer(rng, edge, length, depth / 2, roof["rise"] / 12)
    if found is None:
        return []
    opening, windows = found
    roof["openings"] = [opening]
    return windows


def _assemblies(storeys: int) -> dict[str, Any]:
    """The layers, with studs near enough for what they carry: under two floors and a roof 16 in. (IRC R602.3(5))."""
    outer, studs, *inner = _LAYERS["exterior"]
    spacing = 16 if storeys > 2 else 24
    return {**_LAYERS, **LAYERS, "exterior": [outer, {**studs, "spacing": spacing}, *inner]}


def _feet(rng: np.random.Generator, least: int, most: int) -> int:
    """A whole number of 2 ft, in inches."""
    return int(rng.integers(least // 2, most // 2 + 1)) * 24


def _plan(rng: np.random.Generator, shape: str, most: int) -> list[Point]:
    """The corners of an outline, counter-clockwise from the origin; the main wing is `most` ft deep."""
    width, depth = _feet(rng, 24, 36), _feet(rng, 14, most)
    wing = _feet(rng, 10, 14)
    far = depth + _feet(rng, 8, 12)
    if shape == "rectangle":
        return [(0, 0), (width, 0), (width, depth), (0, depth)]
    if shape == "L":
        return [(0, 0), (width, 0), (width, far), (width - wing, far), (width - wing, depth), (0, depth)]
    if shape == "T":
        left = (width - wing) // 48 * 24
        return [
            (0, 0),
            (width, 0),
            (width, depth),
            (left + wing, depth),
            (left + wing, far),
            (left, far),
            (left, depth),
            (0, depth),
        ]
    width += 2 * wing
    return [
        (0, 0),
        (width, 0),
        (width, far),
        (width - wing, far),
        (width - wing, depth),
        (wing, depth),
        (wing, far),
        (0, far),
    ]


def _level(number: int, ring: list[Point], *, carries: bool) -> dict[str, Any]:
    """A storey, with a bearing wall under the middle of the main wing's joists and one at each other wing's root."""
    corners = [{"wall": f"{number}W{n}", "at": list(point)} for n, point in enumerate(ring)]
    return {
        "id": str(number),
        "elevation": (number - 1) * (_HEIGHT + _FLOOR),
        "height": _HEIGHT,
        "outlines": [{"assembly": "exterior", "corners": corners}],
        "walls": [
            {"wall": f"{number}B{n}", "assembly": "bearing", "start": start, "end": end, "bearing": True}
            for n, (start, end) in enumerate(_bearing_lines(ring) if carries else ())
        ],
    }


def _bearing_lines(ring: list[Point]) -> list[tuple[Point, Point]]:
    """Lines along x that halve the joists of the main wing, and that end those of the wings behind it."""
    xs, ys = [x for x, _ in ring], sorted({y for _, y in ring})
    lines = [((min(xs), ys[1] // 2), (max(xs), ys[1] // 2))]
    if len(ys) > 2:
        behind = sorted({x for x, y in ring if y == ys[2]})
        lines += [((a, ys[1] - 12), (b, ys[1] - 12)) for a, b in zip(behind[::2], behind[1::2], strict=True)]
    return lines


def _openings(rng: np.random.Generator, number: int, ring: list[Point]) -> list[dict[str, Any]]:
    """Windows in most places where one fits, and a door in the first wall of the lowest level."""
    found = []
    for n, (a, b) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True)):
        length = abs(a[0] - b[0]) + abs(a[1] - b[1])
        for place in range(int((length - 72) // 96)):
            if rng.random() < 0.4:
                continue
            if length > 264 and abs(72 + 96 * place - length / 2) < 54:  # room for the panels to meet
                continue
            door = number == 1 and n == 0 and place == 0
            opening = {
                "id": f"O{number}-{n}-{place}",
                "wall": f"{number}W{n}",
                "type": "door" if door else "window",
                "center": 72 + 96 * place + int(rng.integers(-6, 7)),
            }
            found.append(opening if door else {**opening, "sill": 31.5})
    return found


def _floor(rng: np.random.Generator, number: int, ring: list[Point]) -> dict[str, Any]:
    floor = {"id": f"F{number}", "level": str(number), "assembly": "floor", "joists": "y"}
    if rng.random() < 0.5:
        half = sorted({y for _, y in ring})[1] // 2
        size = [38, min(120, half - 24)]
        a, b = max(pairwise(sorted({x for x, _ in ring})), key=lambda stretch: stretch[1] - stretch[0])
        left = (a + b) // 2 - 19
        floor["openings"] = [{"id": f"ST{number}", "at": [left, 12], "size": size, "kind": "stair"}]
        floor["no_joints"] = [{"start": left - 8, "end": left + 46}]
    return floor


def _top(rng: np.random.Generator, level: str, ring: list[Point], kind: str) -> dict[str, Any]:
    if kind == "ceiling":
        return {"ceilings": [{"id": "C1", "level": level, "assembly": "ceiling", "joists": "y"}]}
    rise = 1 if kind == "shed" else int(rng.integers(1, 1 + (_steepest(ring) if kind == "gable" else STEEPEST)))
    roof: dict[str, Any] = {"id": "R1", "level": level, "assembly": "roof", "rise": rise, "run": 12}
    names = [f"{level}W{n}" for n in range(len(ring))]
    if kind == "gable":
        roof["edges"] = [{"edge": names[n], "kind": "gable"} for n in _ends(ring)]
    if kind == "shed":
        roof["edges"] = [{"edge": names[n], "kind": "gable"} for n in (1, 2, 3)]
    return {"roofs": [roof]}


def _steepest(ring: list[Point]) -> int:
    """The greatest rise in 12 at which the gables over the ends of wings are no higher than the line takes."""
    sides = [sum(abs(a - b) for a, b in zip(ring[n], ring[(n + 1) % len(ring)], strict=True)) for n in _ends(ring)]
    room = _LINE - _HEIGHT - _RAFTER
    return min([STEEPEST, *(int(room * 12 / (side / 2)) for side in sides)])


def _ends(ring: list[Point]) -> list[int]:
    """The edges at the ends of wings: between two outer corners, and in a rectangle the shorter two."""
    count = len(ring)

    def turns_left(n: int) -> bool:
        (ax, ay), (bx, by), (cx, cy) = ring[n - 1], ring[n], ring[(n + 1) % count]
        return (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0

    def length(n: int) -> int:
        (ax, ay), (bx, by) = ring[n % count], ring[(n + 1) % count]
        return abs(ax - bx) + abs(ay - by)

    outer = [n for n in range(count) if turns_left(n) and turns_left((n + 1) % count)]
    if count == 4:
        return sorted(outer, key=length)[:2]
    return [n for n in outer if length(n) <= min(length(n - 1), length((n + 1) % count))]
