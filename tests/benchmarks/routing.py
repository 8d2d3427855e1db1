"""How long it takes to find a route: in one panel, along a wall of four, and to say that there is none.

Run with ``python -m tests.benchmarks.routing``. Each figure is the median, over many pairs of ends in the example
house, of the fastest of some rounds; the slowest pair is told beside it. Last comes the median in one panel.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Iterator
from pathlib import Path

from panelgen import api
from panelgen.model import House, Panel

EXAMPLE = Path(__file__).resolve().parents[2] / "examples" / "tern-cottage.yaml"
ROUNDS = 3
PAIRS = 40


def best(house: House, request: api.RouteRequest) -> tuple[float, bool]:
    """Seconds of processor time of the fastest round, and whether there is a route."""
    spent = []
    for _ in range(ROUNDS):
        begin = time.process_time()
        route = api.route(house, request)
        spent.append(time.process_time() - begin)
    return min(spent), route.found


def pairs(panels: list[Panel], depth: str, across: bool) -> Iterator[api.RouteRequest]:
    """Requests with both ends in one panel, or in any two panels of one wall."""
    draw = random.Random(7)
    size = ("cold water", "copper-1/2") if depth == "framing" else ("power", "nm-12/2")
    while True:
        first = draw.choice(panels)
        second = draw.choice([one for one in panels if one.wall == first.wall]) if across else first
        ends = [
            (one.wall_start + draw.uniform(0.05, 0.95) * one.length, draw.uniform(80.0, 2300.0), depth)
            for one in (first, second)
        ]
        yield api.RouteRequest(size[0], *ends, size=size[1], wall=first.wall)


def main() -> None:
    """Print the figures."""
    house = api.design(api.load(EXAMPLE))
    cavity = [panel for panel in house.panels if len(panel.layers) == 4]
    medians = []
    for across in (False, True):
        for depth in ("cavity", "framing"):
            times: dict[bool, list[float]] = {True: [], False: []}
            for request in pairs(cavity, depth, across):
                spent, found = best(house, request)
                times[found].append(spent * 1000)
                if len(times[True]) >= PAIRS:
                    break
            where = f"{depth}, {'any panels of a wall' if across else 'one panel'}"
            for found, spent_in in times.items():
                if spent_in:
                    what = "found" if found else "none "
                    print(f"{where:32s} {what} {statistics.median(spent_in):6.1f} ms, slowest {max(spent_in):6.1f} ms")
            if not across:
                medians.append(statistics.median(times[True]))
    print(f"one route in one panel: {max(medians):.1f} ms (median)")


if __name__ == "__main__":
    main()
