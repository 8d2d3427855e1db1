"""Whole houses with every kind of panel: their split, design and all checks, and how that grows to 1,000 panels.

Run with ``python -m tests.benchmarks.whole_houses``. Random houses stand side by side in one spec. Prints processor
seconds and what a house takes of memory and, last, the cost of a panel in the largest row as a ratio of that in the
smallest.
"""

from __future__ import annotations

import json
import time
import tracemalloc
from itertools import count
from typing import Any

from panelgen.api import check, design
from panelgen.model import House
from panelgen.spec import HouseSpec
from panelgen.spec.loader import loads
from tests.random_houses import random_spec

APART = 100 * 12
PANELS = (80, 250, 1000)


def row_of_houses(panels: int) -> HouseSpec:
    """Random houses, 100 ft apart, as one spec, until there are so many panels."""
    row: dict[str, Any] = {}
    made = 0
    for seed in count():
        spec = random_spec(seed)
        made += len(design(loads(json.dumps(spec))).panels)
        _add(row, spec, seed)
        if made >= panels:
            return loads(json.dumps(row))
    raise AssertionError("seeds do not end")


def _add(row: dict[str, Any], spec: dict[str, Any], number: int) -> None:
    """Put one more house into a row, its names its own."""
    right = number * APART
    rings = {level["id"]: level["outlines"][0]["corners"] for level in spec["levels"]}
    for level in spec["levels"]:
        for corner in level["outlines"][0]["corners"]:
            corner["at"] = _moved(corner["at"], right)
        for wall in level["walls"]:
            wall["start"], wall["end"] = _moved(wall["start"], right), _moved(wall["end"], right)
    for deck in (*spec["floors"], *spec.get("ceilings", ())):
        deck["outline"] = [corner["at"] for corner in rings[deck["level"]]]
        deck["no_joints"] = [
            {end: place + right for end, place in stretch.items()} for stretch in deck.get("no_joints", ())
        ]
        for hole in deck.get("openings", ()):
            hole["at"] = _moved(hole["at"], right)
    for roof in spec.get("roofs", ()):
        roof["footprint"] = [{"edge": corner["wall"], "at": corner["at"]} for corner in rings[roof["level"]]]
    spec = _named(spec, number)
    if not row:
        row.update(spec, roofs=spec.get("roofs", []), ceilings=spec.get("ceilings", []))
        return
    known = {level["id"]: level for level in row["levels"]}
    for level in spec["levels"]:
        if level["id"] in known:
            known[level["id"]]["outlines"] += level["outlines"]
            known[level["id"]]["walls"] += level["walls"]
        else:
            row["levels"].append(level)
    for key in ("openings", "floors", "ceilings", "roofs"):
        row[key] += spec.get(key, [])
    for key in ("unit_types", "assemblies"):
        row[key] |= spec[key]


def _moved(point: list[int], right: int) -> list[int]:
    return [point[0] + right, point[1]]


def _named(value: Any, number: int, key: str = "") -> Any:
    """The same with a number after every name of a wall, an edge, an opening or a deck."""
    if isinstance(value, dict):
        level = "outlines" in value
        return {name: _named(part, number, "" if level and name == "id" else name) for name, part in value.items()}
    if isinstance(value, list):
        return [_named(part, number, key) for part in value]
    if key not in ("wall", "edge", "id"):
        return value
    first, dash, rest = value.partition("-")  # the front wall of a dormer begins with its name
    return f"{first}.{number}{dash}{rest}"


def seconds(spec: HouseSpec, rounds: int) -> tuple[House, float]:
    """The house and the best of `rounds` processor times of its design and checks."""
    best = float("inf")
    for _ in range(rounds):
        begin = time.process_time()
        house = design(spec)
        check(house)
        best = min(best, time.process_time() - begin)
    return house, best


def kept(spec: HouseSpec) -> int:
    """What the designed house keeps of memory, bytes."""
    tracemalloc.start()
    house = design(spec)
    size, _ = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    return size if house.panels else 0


def main() -> None:
    """Print the timings and the ratio."""
    costs = []
    for panels in PANELS:
        spec = row_of_houses(panels)
        house, best = seconds(spec, 3 if panels < 500 else 1)
        costs.append(best / len(house.panels))
        kinds = len({panel.kind for panel in house.panels})
        each = kept(spec) / len(house.panels) / 1024
        print(
            f"{len(house.panels):5d} panels of {kinds} kinds: {best:6.2f} s, {1000 * costs[-1]:.2f} ms and "
            f"{each:.0f} kB kept a panel"
        )
    print(f"cost of a panel, largest row / smallest row: {costs[-1] / costs[0]:.2f}")


if __name__ == "__main__":
    main()
