"""Design and checks of an 80-panel house against CadQuery solids and a common volume a candidate pair.

Run with ``python -m tests.benchmarks.check_vs_naive [PANELS]``. The straightforward way is timed on panels
spread evenly over the house and scaled by their number; it designs nothing. Times are of the processor, all
threads. Prints the ratio last.
"""

from __future__ import annotations

import sys
import time

from panelgen.api import check, design
from panelgen.model import House
from panelgen.spec import HouseSpec
from tests.benchmarks.houses import PANELS_PER_PLOT, row_of_plots
from tests.benchmarks.naive import candidate_pairs, clashing, parts_of

SAMPLE = 5


def ours(spec: HouseSpec, rounds: int = 3) -> float:
    """Best time of `rounds` from spec to findings."""
    best = float("inf")
    for _ in range(rounds):
        begin = time.process_time()
        check(design(spec))
        best = min(best, time.process_time() - begin)
    return best


def naive(house: House, every: int) -> tuple[float, int, int]:
    """Time for the whole house from that of each `every`-th panel, pairs asked for, pairs that clash."""
    sample = house.panels[::every]
    asked = met = 0
    begin = time.process_time()
    for panel in sample:
        parts = parts_of(panel)
        pairs = candidate_pairs(parts)
        asked, met = asked + len(pairs), met + len(clashing(parts, pairs))
    return (time.process_time() - begin) * len(house.panels) / len(sample), asked, met


def main(arguments: list[str]) -> None:
    """Print both times and the ratio."""
    wanted = int(arguments[0]) if arguments else 80
    spec = row_of_plots(wanted // PANELS_PER_PLOT)
    house = design(spec)
    quick = ours(spec)
    print(f"design and checks of {len(house.panels)} panels: {quick:.3f} s")
    every = max(1, len(house.panels) // SAMPLE)
    slow, asked, met = naive(house, every)
    print(f"candidate pairs (bounding boxes overlap) in one panel of {every}: {asked}, of which {met} clash")
    print(f"CadQuery solids and common volumes: {slow:.0f} s")
    print(f"ratio: {slow / quick:.0f}")


if __name__ == "__main__":
    main(sys.argv[1:])
