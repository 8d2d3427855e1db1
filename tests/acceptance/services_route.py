"""Routes in the example houses: each is added to its spec file, designed and checked anew, and may bring no finding.

Run with ``python -m tests.acceptance.services_route``. Ends are drawn with a fixed seed; where a route is refused
the first reason is printed. The last line counts routes and says how long those inside one panel took: the
median, what all but one in ten keep to, and the slowest.
"""

from __future__ import annotations

import random
import statistics
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from panelgen import api
from panelgen.model import House, LayerKind

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
HOUSES = ("tern-cottage.yaml", "one-wall.yaml")
RUNS = (
    ("power", "nm-12/2"), ("data", "nm-14/2"), ("cold water", "pex-1/2"), ("hot water", "copper-3/4"),
    ("heating", "copper-1"), ("vent", "pvc-1-1/2"), ("low voltage", "emt-1/2"), ("supply air", "duct-4"),
)  # fmt: skip
PROVEN = 40
"""Routes proven in each house."""

SLOWEST = 0.05
"""Seconds of processor time that all but one in ten of the routes in one panel keep to."""

ROUNDS = 3
"""Each is timed so often, and the fastest counts."""


def asked(house: House, seed: int) -> Iterator[api.RouteRequest]:
    """Requests between random points of random walls, half of them inside one panel."""
    draw = random.Random(seed)
    number = 0
    while True:
        number += 1
        panel = draw.choice(house.panels)
        row = [one for one in house.panels if one.wall == panel.wall]
        kinds = [layer.kind for layer in panel.layers]
        depth = draw.choice(["cavity", "framing"] if LayerKind.STRAPPING in kinds else ["framing"])
        other = panel if draw.random() < 0.5 else draw.choice(row)
        ends = [
            (
                round(one.wall_start + draw.uniform(0.05, 0.95) * one.length, 1),
                round(draw.uniform(80.0, 2300.0), 1),
                depth,
            )
            for one in (panel, other)
        ]
        system, size = draw.choice(RUNS)
        yield api.RouteRequest(system, *ends, size=size, wall=panel.wall, run=f"NEW{number}")


def timed(house: House, request: api.RouteRequest) -> tuple[api.Route, float]:
    """The route, and the seconds of processor time of the fastest round: other work disturbs that least."""
    spent = []
    for _ in range(ROUNDS):
        begin = time.process_time()
        route = api.route(house, request)
        spent.append(time.process_time() - begin)
    return route, min(spent)


def spans(house: House, route: api.Route) -> int:
    """How many panels of the wall a route is in."""
    xs = [x for x, _, _ in route.points]
    row = (one for one in house.panels if one.wall == route.wall)
    return sum(one.wall_start < max(xs) and one.wall_start + one.length > min(xs) for one in row)


def main() -> int:
    """Print what is refused and what is wrong, then the count."""
    proven = refused = wrong = 0
    times: list[float] = []
    with tempfile.TemporaryDirectory() as folder:
        for name in HOUSES:
            source, out = EXAMPLES / name, Path(folder) / "out.yaml"
            spec = api.load(source)
            house = api.design(spec)
            findings = api.check(house)
            target = proven + PROVEN
            for request in asked(house, seed=len(name)):
                if proven + wrong >= target:
                    break
                route, spent = timed(house, request)
                if not route.found:
                    refused += 1
                    print(f"refused: {request.size} in {request.wall}: {route.reasons[0]}")
                    continue
                if spans(house, route) == 1:
                    times.append(spent)
                api.write_run(source, out, route)
                (written,) = [run for run in api.load(out).runs if run.id == request.run]
                new = api.new_findings(spec, findings, route)
                if new or len(written.path) != len(route.points):
                    wrong += 1
                    print(f"wrong: {request}: {[(finding.code, finding.words) for finding in new]}")
                else:
                    proven += 1
    times.sort()
    most = times[int(0.9 * len(times))]
    print(
        f"{proven} routes proven, {refused} refused with reasons, {wrong} wrong; {len(times)} in one panel: median "
        f"{1000 * statistics.median(times):.0f} ms, 90 % within {1000 * most:.0f} ms, slowest {1000 * times[-1]:.0f} ms"
    )
    return 0 if not wrong and most <= SLOWEST else 1


if __name__ == "__main__":
    sys.exit(main())
